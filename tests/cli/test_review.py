"""`changeover review` and the formats of `changeover report` that need more than comes with the program."""

import json
import shutil
from pathlib import Path

import pytest

from runner.cli.documents import write_document
from runner.report.document import Document
from runner.report.formats import FORMATS
from tests.report.printing import needs_print

from .command import changeover, play


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journal of a finished run."""
    done = play("web-break", tmp_path_factory.mktemp("records"))
    assert done.code == 0, done.err
    return Path(done.data["journal"])


@pytest.fixture
def journal(played: Path, tmp_path: Path) -> Path:
    """A copy to be signed."""
    return Path(shutil.copy(played, tmp_path / played.name))


def decisions(journal: Path) -> str:
    """What a person types to decide about all exceptions, and to sign."""
    noted = changeover("review", journal, "--json").data["exceptions"]
    count = len(noted)
    row = count + 1 if count > 1 else 1
    sign = count + 1 + (count > 1)
    decide = [str(row), "5", "all is well", "Vera Holm"] if count else []
    after = count + 1 if count else sign
    return "\n".join([*decide, str(after), "2", "in order", "Vera Holm", "back", "leave"]) + "\n"


def test_json_tells_how_the_review_stands_and_changes_nothing(journal: Path) -> None:
    before = journal.read_bytes()
    done = changeover("review", journal, "--json")
    assert done.code == 4
    assert (done.data["signed"], done.data["signatures"]) == (False, [])
    assert done.data["outcome"] == "finished"
    assert journal.read_bytes() == before


def test_a_run_is_decided_about_signed_verified_and_reported(journal: Path) -> None:
    before = json.loads(changeover("verify", journal, "--json").out)
    done = changeover("review", journal, "--plain", given=decisions(journal))
    assert done.code == 0, done.out + done.err
    assert "reviewed and signed" in done.err
    told = changeover("review", journal, "--json").data
    assert told["signatures"][0]["by"] == "Vera Holm"
    assert all(noted["disposition"] for noted in told["exceptions"])
    after = json.loads(changeover("verify", journal, "--json").out)
    assert after["whole"] is True
    assert after["events"] > before["events"]
    report = changeover("report", journal, "--json").data
    assert [row["meaning"] for row in report["signatures"]] == ["reviewed by"]
    assert report["times"] == changeover("report", journal, "--json").data["times"]


def test_an_open_run_and_one_that_is_not_there_are_refused(tmp_path: Path, journal: Path) -> None:
    cut = tmp_path / "open.journal"
    cut.write_bytes(b"".join(journal.read_bytes().splitlines(keepends=True)[:20]))
    done = changeover("review", cut, "--plain")
    assert done.code in (2, 5)
    assert done.err.startswith("changeover: ")
    assert changeover("review", tmp_path / "none.journal", "--json").code == 2


def test_without_a_terminal_it_says_what_to_do(journal: Path) -> None:
    done = changeover("review", journal)
    assert (done.code, done.err) == (2, "changeover: no terminal here; use --plain\n")


@pytest.mark.parametrize(("form", "library", "extra"), [("xlsx", "openpyxl", "xlsx"), ("pdf", "weasyprint", "pdf")])
def test_a_format_of_which_the_library_is_missing_says_what_to_install(
    journal: Path, tmp_path: Path, form: str, library: str, extra: str
) -> None:
    (tmp_path / f"{library}.py").write_text("raise ImportError\n", encoding="utf-8")
    root = str(Path(__file__).parent.parent.parent)
    done = changeover("report", journal, "--format", form, PYTHONPATH=f"{tmp_path}:{root}")
    assert done.code == 2
    assert done.err == (
        f"changeover: the format {form} needs more than is installed here: pip install 'changeover-runner[{extra}]'\n"
    )
    assert done.out == ""


@pytest.mark.parametrize(("form", "start"), [("xlsx", b"PK"), ("pdf", b"%PDF")])
def test_a_binary_format_goes_to_a_file(journal: Path, tmp_path: Path, form: str, start: bytes) -> None:
    needs_print(form)
    file = tmp_path / f"report.{form}"
    done = changeover("report", journal, "--format", form, "--output", file)
    assert (done.code, done.out, done.err) == (0, "", "")
    assert file.read_bytes().startswith(start)


def test_a_binary_format_is_not_written_to_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert "--output" in write_document(FORMATS["pdf"], Document("T", ()), None)
