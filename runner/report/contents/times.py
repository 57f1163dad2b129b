"""Where the time of a run went: in all, by phase, with the press running and stopped, and halted.

A phase lasts from the moment work comes to one of its steps until it comes to a step of another phase, so the phases
and the time before the first step add up to the whole. Whether the press runs in a phase is the author's word.
"""

from itertools import pairwise

from runner.engine import events as ev
from runner.engine.moment import Moment, seconds_between
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import Column, Row, Section
from runner.report.contents.words import NOT_KNOWN, duration_words, moment_words

BEFORE = "Before the first step"

OPENS = (ev.CautionsRead, ev.HoldReached, ev.StepBegun, ev.StepNotApplicable, ev.StepLeftOut)
"""Events by which work comes to a step; others may speak of a step of another phase."""

HALTS = (ev.Paused, ev.MadeSafe)
ENDS_HALT = (ev.Resumed, ev.Finished, ev.Abandoned)
ON_OPENING = (ev.TailSetAside, ev.ClockStepped)
"""Events that are noted when a journal is opened again: the gap began before them."""


def total_seconds(entries: Entries) -> float | None:
    """From the first event to the last; None where the machine restarted between them."""
    return seconds_between(entries[0][1].at, entries[-1][1].at) if entries else None


def restarts(entries: Entries) -> int:
    """How often the machine was started again between two events."""
    return sum(earlier[1].at.boot != later[1].at.boot for earlier, later in pairwise(entries))


def phase_rows(entries: Entries, names: Names) -> tuple[Row, ...]:
    """One row a stretch of time in one phase, in order."""
    rows: list[Row] = []
    since: Moment | None = None
    halted_since: Moment | None = None
    before: Moment | None = None
    for number, event in entries:
        name = names.steps.get(event.step) if isinstance(event, OPENS) else None
        phase = name.phase if name else ""
        if since is None or (phase and phase != rows[-1]["phase"]):
            if since is not None and rows:
                close(rows[-1], since, event.at)
            press = name.press if name else ""
            rows.append({
                "phase": phase or BEFORE, "press": press, "event": number, "from": event.at.utc,
                "until": event.at.utc, "seconds": None, "halted_s": 0.0,
            })  # fmt: skip
            since = event.at
        if isinstance(event, ENDS_HALT):
            start = halted_since or (before if isinstance(event, ev.Resumed) else None)
            if start is not None:
                add_halt(rows[-1], seconds_between(start, event.at))
            halted_since = None
        elif isinstance(event, HALTS) and halted_since is None:
            halted_since = event.at
        if not isinstance(event, ON_OPENING):
            before = event.at
    if since is not None:
        last = entries[-1][1].at
        close(rows[-1], since, last)
        if halted_since is not None:
            add_halt(rows[-1], seconds_between(halted_since, last))
    return tuple(rows)


def close(row: Row, since: Moment, until: Moment) -> None:
    """The stretch ends."""
    row.update(until=until.utc, seconds=seconds_between(since, until))


def add_halt(row: Row, seconds: float | None) -> None:
    """A halt ended in this stretch."""
    row["halted_s"] = None if seconds is None or row["halted_s"] is None else row["halted_s"] + seconds


def summed(rows: tuple[Row, ...], key: str) -> float | None:
    """The sum over rows; None where one of them is not known."""
    values = [row[key] for row in rows]
    return None if None in values else float(sum(values))


def totals(entries: Entries, rows: tuple[Row, ...]) -> Row:
    """The figures of the whole run, in seconds; None is not known."""
    return {
        "total_s": total_seconds(entries),
        "halted_s": summed(rows, "halted_s"),
        "press_running_s": summed(tuple(row for row in rows if row["press"] == "running"), "seconds"),
        "press_stopped_s": summed(tuple(row for row in rows if row["press"] == "stopped"), "seconds"),
        "press_known": any(row["press"] for row in rows),
        "machine_restarts": restarts(entries),
    }


def totals_facts(figures: Row) -> tuple[tuple[str, str], ...]:
    """The same as people read them."""
    known = figures["press_known"]
    running = duration_words(figures["press_running_s"]) if known else NOT_KNOWN
    stopped = duration_words(figures["press_stopped_s"]) if known else NOT_KNOWN
    return (
        ("In all", duration_words(figures["total_s"])),
        ("Of that halted", duration_words(figures["halted_s"])),
        ("In phases with the press running", running),
        ("In phases with the press stopped", stopped),
        ("Restarts of the machine in between", str(figures["machine_restarts"])),
    )


def phases_section(rows: tuple[Row, ...]) -> Section:
    """Time by phase."""
    columns = (
        Column("Phase", "phase"),
        Column("Press", lambda row: row["press"] or ("" if row["phase"] == BEFORE else NOT_KNOWN)),
        Column("From (UTC)", lambda row: moment_words(row["from"])),
        Column("Until (UTC)", lambda row: moment_words(row["until"])),
        Column("Took", lambda row: duration_words(row["seconds"]), numeric=True),
        Column("Of that halted", lambda row: duration_words(row["halted_s"]), numeric=True),
    )
    return Section("phases", "Time by phase", columns, rows, "The record holds no event with a time.")
