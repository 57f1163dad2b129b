"""Where an act was done at another terminal than the one that keeps the record, the report says so beside who did it."""

from dataclasses import replace
from typing import Any

import pytest

from runner.engine import events as ev
from runner.report.contents.names import names_from_procedure
from runner.report.contents.run_record import run_record
from runner.report.contents.step_tables import who_cell
from runner.report.document import Document
from runner.report.timeline.spans import timeline_of
from tests.report import sample
from tests.report.sample import AT, BO, moment

THERE = "rewind side"


def entries(begun: str = "", ended: str = "", *, by: str = AT) -> sample.Entries:
    """A step begun and ended at these terminals, and an exception at the second of them."""
    return sample.numbered([
        sample.begun_run(),
        ev.StepBegun(AT, moment(60), "unwind-off", "1.1", 1, "Set the unwind speed to zero.", terminal=begun),
        ev.ExceptionNoted(AT, moment(70), 1, "material", "note", "Soft edge", "unwind-off", AT, False, terminal=ended),
        ev.StepDone(by, moment(72), "unwind-off", "1.1", (), terminal=ended),
        ev.Finished(AT, moment(80), 1, terminal=ended),
    ])  # fmt: skip


def document(begun: str = "", ended: str = "", *, by: str = AT) -> Document:
    found = entries(begun, ended, by=by)
    return run_record(found, sample.checked(found), sample.procedure())


def row_of(found: Document) -> dict[str, Any]:
    """The step with its attempt, as the table has it."""
    data: Any = found.data
    step = next(row for row in data["steps"] if row["step"] == "unwind-off")
    return {**step, **step["attempts"][0]}


KEEPS = "at the terminal that keeps the record"


@pytest.mark.parametrize(
    ("begun", "ended", "by", "said"),
    [
        ("", "", AT, AT),
        (THERE, THERE, AT, (AT, f"at the terminal {THERE}")),
        ("", THERE, AT, (AT, f"ended by {AT}", f"at the terminal {THERE}")),
        (THERE, "", AT, (AT, f"at the terminal {THERE}", f"ended by {AT}", KEEPS)),
        ("", THERE, BO, (AT, f"ended by {BO}", f"at the terminal {THERE}")),
        ("", "", BO, (AT, f"ended by {BO}")),
    ],
)
def test_the_table_of_steps_says_where_a_step_was_begun_and_ended(
    begun: str, ended: str, by: str, said: object
) -> None:
    assert who_cell(row_of(document(begun, ended, by=by))) == said


def test_data_name_the_terminal_with_the_act_and_nothing_where_there_is_none() -> None:
    row, plain = row_of(document(THERE, THERE)), row_of(document())
    assert [row["begun"]["terminal"], row["ended"]["terminal"]] == [THERE, THERE]
    data: Any = document("", THERE).data
    assert (data["outcome"]["terminal"], data["exceptions"][0]["terminal"]) == (THERE, THERE)
    assert "terminal" not in plain["begun"]
    assert "terminal" not in str(document().data)


def test_the_timeline_says_it_of_steps_and_of_what_happened() -> None:
    found = entries(THERE, THERE)
    timeline = timeline_of(found, names_from_procedure(sample.procedure(), found))
    assert timeline is not None
    assert [span.words for span in timeline.spans] == [f"step 1.1 unwind-off, at the terminal {THERE}, 12 s"]
    assert timeline.points[0].words == f"exception 1, note: Soft edge, at the terminal {THERE}"


def test_a_program_that_ended_did_so_at_no_terminal() -> None:
    halted = [
        *(event for _, event in entries(THERE, THERE)[:-1]),
        ev.Resumed(BO, moment(500), "interruption", (), ""),
    ]
    for terminal, cell in ((THERE, {"resumed_terminal": THERE}), ("", {})):
        found = sample.numbered([*halted[:-1], replace(halted[-1], terminal=terminal)])
        data: Any = run_record(found, sample.checked(found), sample.procedure()).data
        row = data["interruptions"][0]
        assert row["by"] == ""
        assert {key: value for key, value in row.items() if "terminal" in key} == cell
