"""What was done on paper and entered later: each entry, and both times wherever a row speaks of it.

A row has the time on paper beside the one at which it was entered. A duration between two entries says nothing of the
work; where an attempt is from paper it is left out.
"""

from collections.abc import Mapping
from typing import Any

from runner.engine import events as ev
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import BY, EVENT, STEP, Column, Row, Section, stamp
from runner.report.contents.words import moment_words

ON_PAPER = "on_paper"
"""The key of the time on paper in a row."""


def times_on_paper(entries: Entries) -> Mapping[int, str]:
    """By the number of an event, when it was done on paper (UTC)."""
    found: dict[int, str] = {}
    late: ev.EnteredLate | None = None
    for number, event in entries:
        if isinstance(event, ev.EnteredLate):
            late = event
        if late is not None and late.at == event.at:
            found[number] = late.done_at
    return found


def mark_rows(rows: Any, times: Mapping[int, str]) -> None:
    """Put the time on paper into every row, however deep, that speaks of an event that was entered late."""
    if isinstance(rows, list | tuple):
        for row in rows:
            mark_rows(row, times)
    elif isinstance(rows, dict):
        number = rows.get("event")
        if isinstance(number, int) and number in times and "at" in rows:
            rows[ON_PAPER] = times[number]
        for value in list(rows.values()):
            mark_rows(value, times)
        begun, ended = rows.get("begun"), rows.get("ended")
        from_paper = [one for one in (begun, ended) if isinstance(one, dict) and ON_PAPER in one]
        if from_paper and "seconds" in rows:
            rows["seconds"] = None


def entered_late_section(entries: Entries, names: Names) -> Section:
    """Every entry from paper, with both times."""
    rows = tuple(
        {
            **stamp(number, event),
            "act": event.act,
            "step": event.step,
            "step_number": names.number(event.step),
            "done_at": event.done_at,
            "typed": event.typed,
        }
        for number, event in entries
        if isinstance(event, ev.EnteredLate)
    )
    columns = (
        STEP,
        Column("What", lambda row: row["act"].replace("-", " ")),
        Column("Done on paper (UTC)", lambda row: (moment_words(row["done_at"]), f"written {row['typed']}")),
        Column("Entered (UTC)", lambda row: moment_words(row["at"])),
        BY,
        EVENT,
    )
    return Section("entered_late", "Entered later from paper", columns, rows, "Nothing was entered from paper.")


def paper_note(entries: Entries) -> str:
    """What entries from paper do to the times of a run; empty where there are none."""
    count = sum(isinstance(event, ev.EnteredLate) for _, event in entries)
    if not count:
        return ""
    return (
        f"{count} of the acts of this run were done on paper and entered later: the times below go by when they were "
        "entered, the drawing by what the paper says."
    )


def marked_row(row: Row) -> tuple[str, ...]:
    """What is said of a row that is from paper."""
    return (f"LATE: done on paper {moment_words(row[ON_PAPER])}",) if ON_PAPER in row else ()
