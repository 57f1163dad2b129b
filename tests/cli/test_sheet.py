"""`changeover sheet` as a user has it: what it takes, what it refuses, its exit codes."""

from pathlib import Path

import pytest

from runner.cli.load import load_procedure
from runner.procedure.model import Procedure, steps_of

from .command import PROCEDURES, changeover, play

CHANGE, JOB = PROCEDURES / "change-roll.procedure.yaml", PROCEDURES / "change-roll.job.yaml"


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journal of a finished run."""
    done = play("web-break", tmp_path_factory.mktemp("records"))
    assert done.code == 0, done.err
    return Path(done.data["journal"])


def test_a_blank_form_of_a_shipped_procedure_has_every_hold_and_its_pages_counted() -> None:
    done = changeover("sheet", CHANGE)
    assert done.code == 0, done.err
    pages = done.out.split("\f")
    assert pages[-1].rstrip().endswith(f"page {len(pages)} of {len(pages)}")
    procedure = load_procedure(str(CHANGE))
    assert isinstance(procedure, Procedure)
    holds = sum(step.hold is not None for step in steps_of(procedure))
    assert holds > 5
    assert done.out.count("looks, ticks and signs before this step begins") == holds


def test_a_job_fills_the_form_in(tmp_path: Path) -> None:
    page = tmp_path / "form.html"
    done = changeover("sheet", CHANGE, "--job", JOB, "--format", "html", "--output", page)
    assert (done.code, done.out) == (0, "")
    assert "Lift the roll of 721 kg" in page.read_text(encoding="utf-8")


def test_a_job_that_breaks_a_limit_ends_with_1_and_says_so(tmp_path: Path) -> None:
    job = tmp_path / "heavy.job.yaml"
    job.write_text(JOB.read_text(encoding="utf-8").replace("grammage: 80", "grammage: 200"), encoding="utf-8")
    done = changeover("sheet", CHANGE, "--job", job)
    assert done.code == 1
    assert "out of its limits" in done.err
    assert "OUT OF LIMITS or without a result: roll mass" in done.out


def test_a_finished_run_has_nothing_to_go_on_with(journal: Path) -> None:
    done = changeover("sheet", journal)
    assert done.code == 0, done.err
    assert "The run is finished" in done.out
    assert ">>" not in done.out


def test_a_run_that_broke_off_has_its_place(journal: Path, tmp_path: Path) -> None:
    lines = journal.read_bytes().split(b"\n")
    half = tmp_path / "half.journal"
    half.write_bytes(b"\n".join(lines[: len(lines) // 2]) + b"\n")
    done = changeover("sheet", half)
    assert done.code in (0, 5), done.err
    assert "HERE: this step is up." in done.out
    assert "Step that is up" in done.out


def test_a_damaged_record_ends_with_5_and_the_form_says_so(journal: Path, tmp_path: Path) -> None:
    torn = tmp_path / "torn.journal"
    raw = bytearray(journal.read_bytes())
    raw[len(raw) // 2] ^= 1
    torn.write_bytes(bytes(raw))
    done = changeover("sheet", torn)
    assert done.code == 5
    assert "THE RECORD IS NOT WHOLE" in done.out
    assert "damaged" in done.err


def test_a_procedure_with_errors_has_no_form(tmp_path: Path) -> None:
    broken = tmp_path / "broken.procedure.yaml"
    broken.write_text("format: 1\nid: x\n", encoding="utf-8")
    done = changeover("sheet", broken)
    assert (done.code, done.out) == (1, "")


@pytest.mark.parametrize(
    "arguments",
    [("no-such-run",), ("nowhere.procedure.yaml",), (CHANGE, "--job", "nowhere.yaml"), (CHANGE, "--format", "json")],
)
def test_what_cannot_be_done_ends_with_2_and_no_traceback(arguments: tuple[str, ...], tmp_path: Path) -> None:
    done = changeover("sheet", *arguments, CHANGEOVER_RECORDS=str(tmp_path))
    assert (done.code, done.out) == (2, "")
    assert done.err
    assert "Traceback" not in done.err


def test_a_run_takes_no_job(journal: Path) -> None:
    done = changeover("sheet", journal, "--job", JOB)
    assert done.code == 2
    assert "leave --job out" in done.err
