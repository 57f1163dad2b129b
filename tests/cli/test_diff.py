"""`changeover diff` as a user has it: output, formats, exit codes."""

from pathlib import Path

import pytest

from .command import PROCEDURES, changeover

NAME = "web-break.procedure.yaml"


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A folder with the procedures as they are."""
    for path in PROCEDURES.glob("*.yaml"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    return tmp_path / NAME


def stronger_before(old: Path) -> None:
    """The old text has a need more, so the new one is weaker."""
    text = old.read_text(encoding="utf-8")
    at = text.index("        needs: {") if "        needs: {" in text else text.index("needs: {")
    end = text.index("}", at)
    line = text[at : end + 1]
    names = line[line.index("{") + 1 : -1].split(", ")
    assert names[0]
    (old.parent / "new").mkdir()
    for path in old.parent.glob("*.yaml"):
        (old.parent / "new" / path.name).write_bytes(path.read_bytes())
    fewer = text[:at] + line[: line.index("{")] + "{" + ", ".join(names[1:]) + "}" + text[end + 1 :]
    fewer = fewer.replace("        needs: {}\n", "", 1)
    (old.parent / "new" / NAME).write_text(fewer, encoding="utf-8")


def test_the_same_text_has_no_change_and_ends_with_0(old: Path) -> None:
    done = changeover("diff", old, PROCEDURES / NAME)
    assert done.code == 0, done.err
    assert "Nothing changed in meaning." in done.out


def test_something_weaker_ends_with_1_and_names_both_places(old: Path) -> None:
    stronger_before(old)
    new = old.parent / "new" / NAME
    done = changeover("diff", old, new, "--json")
    assert done.code == 1, done.err
    weaker = [change for change in done.data["changes"] if change["weight"] == "weaker"]
    assert [change["kind"] for change in weaker] == ["need"]
    assert weaker[0]["old_place"]["path"] == str(old)
    assert weaker[0]["new_place"]["path"] == str(new)
    assert changeover("diff", new, old).code == 0, "stronger is no fault"


def test_the_fail_level_decides_the_exit_code(old: Path) -> None:
    stronger_before(old)
    new = old.parent / "new" / NAME
    codes = {
        level: changeover("diff", new, old, "--fail-level", level).code
        for level in ("weaker", "maybe", "untold", "any")
    }
    assert codes == {"weaker": 0, "maybe": 0, "untold": 1, "any": 1}
    assert changeover("diff", old, new, "--fail-level", "never").code == 0


def test_one_text_may_come_from_standard_input(old: Path) -> None:
    text = old.read_text(encoding="utf-8")
    done = changeover("diff", "-", NAME, given=text, cwd=PROCEDURES)
    assert done.code == 0, done.err
    assert changeover("diff", "-", "-", given=text).code == 2


def test_what_cannot_be_read_or_compiled_is_said(old: Path) -> None:
    assert changeover("diff", old, old.parent / "nowhere.procedure.yaml").code == 2
    broken = old.parent / "broken.procedure.yaml"
    broken.write_text("format: 1\nid: x\n", encoding="utf-8")
    done = changeover("diff", broken, old)
    assert done.code == 1
    assert "cannot be used" in done.err
    assert done.out == ""
    assert changeover("diff", old).code == 2


def test_markdown_goes_to_a_file(old: Path) -> None:
    page = old.parent / "changes.md"
    done = changeover("diff", old, PROCEDURES / NAME, "--format", "markdown", "--output", page)
    assert (done.code, done.out) == (0, "")
    assert page.read_text(encoding="utf-8").startswith("# What changed in meaning")
