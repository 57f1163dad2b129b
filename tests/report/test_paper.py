"""What was entered from paper stands with both times wherever it is shown."""

from dataclasses import replace
from typing import Any

from runner.engine import events as ev
from runner.report.contents.paper import mark_rows, times_on_paper
from runner.report.contents.run_record import run_record
from runner.report.document import Document, Note, Table
from tests.report import sample
from tests.report.sample import AT, moment

GAUGE = ("core-pressure", "core_pressure", "Pressure on the gauge")
TEN = "2026-11-25T09:35:00.000Z"


def from_paper(*events: ev.Event, at: float, done: str) -> list[ev.Event]:
    """An action of which the events were done on paper."""
    late = ev.EnteredLate(AT, moment(at), "give-answer", "core-pressure", done, done[11:16])
    return [late, *(replace(event, at=moment(at)) for event in events)]


def document() -> Document:
    begun = ev.StepBegun(AT, moment(0), "core-pressure", "2.2", 1, "Inflate the core chuck.")
    gauge = sample.answered(AT, moment(0), *GAUGE, "6.1", "6.1 bar", 6.1e5, "bar", "5.5 to 7 bar", "in")
    entries = sample.numbered([
        sample.begun_run(),
        *from_paper(begun, at=2000, done="2026-11-25T09:34:00.000Z"),
        *from_paper(gauge, at=2004, done=TEN),
        *from_paper(ev.StepDone(AT, moment(0), "core-pressure", "2.2", ()), at=2008, done="2026-11-25T09:36:00.000Z"),
        ev.Finished(AT, moment(2010), 0),
    ])  # fmt: skip
    return run_record(entries, sample.checked(entries), sample.procedure())


def data_of(found: Document) -> dict[str, Any]:
    assert isinstance(found.data, dict)
    return found.data


def test_each_entry_has_when_it_was_done_and_when_it_was_entered() -> None:
    rows = data_of(document())["entered_late"]
    assert [(row["done_at"][11:16], row["at"][11:16]) for row in rows] == [
        ("09:34", "10:03"), ("09:35", "10:03"), ("09:36", "10:03"),
    ]  # fmt: skip
    assert data_of(document())["answers"][0]["on_paper"] == TEN


def test_an_attempt_from_paper_has_no_duration_of_typing() -> None:
    step = next(row for row in data_of(document())["steps"] if row["step"] == "core-pressure")
    assert step["attempts"][0]["seconds"] is None
    assert step["attempts"][0]["begun"]["on_paper"] == "2026-11-25T09:34:00.000Z"
    shown = "\n".join(str(block) for block in document().blocks if isinstance(block, Table))
    assert "by the paper" in shown
    assert "LATE: done on paper 2026-11-25 09:35:00" in shown


def test_the_times_say_that_they_go_by_the_entries() -> None:
    assert any(isinstance(b, Note) and b.text.startswith("3 of the acts of this run") for b in document().blocks)


def test_a_run_without_paper_says_nothing_of_it() -> None:
    entries = sample.plain_run()
    assert times_on_paper(entries) == {}
    rows = [{"event": 1, "at": "x"}]
    mark_rows(rows, {2: TEN})
    assert rows == [{"event": 1, "at": "x"}]
