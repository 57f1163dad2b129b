"""`changeover verify` and `terminal-key` as a user has them: whole, damaged, cut, gone, signed and not, codes from paper."""

import shutil
from pathlib import Path

import pytest

from .command import changeover, play


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of records with an unsigned and a signed run; the key lies beside it."""
    place = tmp_path_factory.mktemp("place")
    play("web-break", place / "records")
    key = changeover("terminal-key", "--records", place / "records")
    assert key.code == 0
    (place / "site.yaml").write_text(
        'site: 1\npeople:\n  - {name: Eva Roth, roles: [lead], pin: "$argon2id$v=19$m=19456,t=2,p=1'
        '$Y2hhbmdlb3Zlci1zYWx0$V0pTcGE2d0N3b2RlbW9vbmx5MDEyMzQ1Njc4OTBhYmM"}\n'
        f'terminals: {{line_3: "{key.out.strip()}"}}\n',
        encoding="utf-8",
    )
    (place / "public").write_text(f"{key.out.strip()} line 3\n", encoding="utf-8")
    shutil.move(place / "site.yaml", place / "later.yaml")  # the run itself is played without a site
    play("web-break", place / "records")
    shutil.move(place / "later.yaml", place / "site.yaml")
    return place


@pytest.fixture
def place(made: Path, tmp_path: Path) -> Path:
    """A copy to do harm to."""
    return Path(shutil.copytree(made, tmp_path / "place"))


def runs(place: Path) -> list[Path]:
    """The journals; the signed one last."""
    return sorted(place.glob("records/live/*/*/*.journal"), key=lambda path: b'"signature":""' not in path.read_bytes())


def test_a_key_is_made_once_and_nobody_else_reads_it(place: Path) -> None:
    first = changeover("terminal-key", "--records", place / "records", "--show")
    again = changeover("terminal-key", "--records", place / "records")
    assert (first.code, first.out) == (0, again.out)
    assert len(again.out.strip()) == 64
    assert (place / "terminal.key").stat().st_mode & 0o777 == 0o600
    assert changeover("terminal-key", "--records", place / "elsewhere" / "records", "--show").code == 2


def test_a_folder_that_agrees_is_in_order(place: Path) -> None:
    done = changeover("verify", "--records", place / "records")
    assert (done.code, done.err) == (0, "")
    assert "2 records: 2 in order, 0 not; 2 ended, 1 signed" in done.out


def test_all_that_vouches_for_a_run_is_said_in_words_and_as_data(place: Path) -> None:
    plain, signed = runs(place)
    words = changeover("verify", signed)
    assert words.code == 0
    for said in ("whole;", "head code", "signed by line_3", "register: agrees"):
        assert said in words.out
    assert "not signed" in changeover("verify", plain).out
    data = changeover("verify", signed, "--json").data
    assert (data["whole"], data["good"], data["findings"]) == (True, True, [])
    assert data["seals"][0]["terminal"] == "line_3"
    assert data["seals"][0]["signature_fits"] is True
    code = data["code"]
    assert changeover("verify", signed, "--head", code.lower()).code == 0
    assert changeover("verify", plain, "--head", code).code == 5
    mistyped = changeover("verify", signed, "--head", code[:-1] + ("0" if code[-1] != "0" else "1"))
    assert mistyped.code == 2
    assert "symbol by symbol" in mistyped.err


def test_with_keys_named_a_record_is_to_be_signed_by_one_of_them(place: Path) -> None:
    plain, signed = runs(place)
    assert changeover("verify", signed, "--key", place / "public").code == 0
    done = changeover("verify", plain, "--key", place / "public")
    assert done.code == 5
    assert "not by a trusted key" in done.out
    assert changeover("verify", plain, "--key", place / "site.yaml").code == 2


def test_cut_gone_doubled_and_put_in_records_show(place: Path) -> None:
    one, other = runs(place)
    whole = one.read_bytes()
    lines = whole.splitlines(keepends=True)
    first = next(at for at, line in enumerate(lines, start=1) if b'"left":0' in line)
    one.write_bytes(b"".join(lines[:first]))
    done = changeover("verify", one)
    assert done.code == 5
    assert "cut: line" in done.out
    assert "whole in itself, and contradicted" in done.err
    one.unlink()
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert f"{one.stem}: gone" in done.out
    one.write_bytes(whole)
    month = other.parent.with_name("01")
    month.mkdir()
    shutil.copy(other, month / other.name)
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert f"{other.stem}: doubled" in done.out


def test_a_lost_register_is_said_and_rebuilt_with_a_mark(place: Path) -> None:
    register = place / "records" / "heads.register"
    register.unlink()
    done = changeover("verify", place / "records")
    assert done.code == 0
    assert "there is no register of heads" in done.out
    done = changeover("verify", place / "records", "--rebuild")
    assert done.code == 0
    assert "the register was lost and rebuilt" in done.out
    assert register.exists()


def test_a_changed_register_is_named_by_its_line(place: Path) -> None:
    register = place / "records" / "heads.register"
    register.write_bytes(register.read_bytes().replace(b'"kind":"opened"', b'"kind":"closed"', 1))
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert "heads.register: damaged: line 2" in done.out
    data = changeover("verify", place / "records", "--json").data
    assert "line 2" in data["register"][0]
