"""Where a run stood still: paused, made safe, or without its program; and what nobody vouched for afterwards.

A halt lasts from its event to the next that ends it. While the program was not running nothing was recorded, so the
time of that gap runs from the last event before it.
"""

from runner.engine import events as ev
from runner.engine.moment import Moment, seconds_between
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, Column, Row, Section, stamp, when_and_who
from runner.report.contents.times import ON_OPENING
from runner.report.contents.words import NOTHING, duration_words, joined, moment_words, pairs_words, terminal_words
from runner.report.document import Cell

PAUSED = "paused"
MADE_SAFE = "stopped and made safe"
PROGRAM_ENDED = "program ended"


def halt_rows(entries: Entries, names: Names) -> tuple[Row, ...]:
    """One row a halt, in order."""
    rows: list[Row] = []
    on: Row | None = None
    since: Moment | None = None
    before: tuple[int, ev.Event] | None = None

    def close(event: ev.Event) -> None:
        if on is not None and since is not None:
            on.update(until=event.at.utc, seconds=seconds_between(since, event.at))

    for number, event in entries:
        match event:
            case ev.Paused() | ev.MadeSafe():
                close(event)
                on, since = blank_halt(number, event), event.at
                rows.append(on)
            case ev.SafeActDone():
                if on is not None:
                    on["acts_done"].append(event.act)
            case ev.SafeActNotNeeded():
                if on is not None:
                    told = f"not needed, says {event.by}: {event.act} ({event.reason})"
                    on["words"] = f"{on['words']}; {told}" if on["words"] else told
            case ev.Resumed():
                if on is None and before is not None:
                    on, since = blank_halt(*before), before[1].at
                    on["event"] = number
                    rows.append(on)
                if on is not None:
                    close(event)
                    said = event.intention if event.intention != on["intention"] else ""
                    on |= {"resumed_terminal": event.terminal} if event.terminal else {}
                    on.update(resumed_by=event.by, unconfirmed=names.states_said(event.unconfirmed), said=said)
                on = since = None
            case ev.Finished() | ev.Abandoned():
                close(event)
                on = since = None
            case _:
                pass
        if not isinstance(event, ON_OPENING):
            before = (number, event)
    return tuple(rows)


def blank_halt(number: int, event: ev.Event) -> Row:
    """A halt that has just begun; anything but a pause or a making safe means that the program ended after it."""
    row: Row = {**stamp(number, event), "kind": PROGRAM_ENDED, "intention": "", "words": "", "acts": []}
    match event:
        case ev.Paused():
            row.update(kind=PAUSED, intention=event.intention)
        case ev.MadeSafe():
            row.update(kind=MADE_SAFE, words=event.words, acts=list(event.acts))
        case _:
            row["by"] = ""  # nobody ended it, and nowhere
            row.pop("terminal", None)
    row.update(acts_done=[], until=None, seconds=None, resumed_by="", unconfirmed=[], said="")
    return row


def kind_cell(row: Row) -> Cell:
    """What kind of halt, by whom it began and by whom it ended."""
    by = f"by {row['by']}" if row["by"] else ""
    resumed = f"gone on by {row['resumed_by']}" if row["resumed_by"] else ""
    places = [terminal_words(row.get(key, "")) for key in ("terminal", "resumed_terminal")]
    return tuple(line for line in (row["kind"], joined((by, places[0])), joined((resumed, places[1]))) if line)


def span_cell(row: Row) -> Cell:
    """From when to when, and how long."""
    if row["until"] is None:
        return (moment_words(row["at"]), "not ended in this record")
    return (moment_words(row["at"]), f"to {moment_words(row['until'])}", duration_words(row["seconds"]))


def said_cell(row: Row) -> Cell:
    """What was said, and which of the acts for making safe were confirmed."""
    lines = [f"next: {row['intention']}"] if row["intention"] else []
    lines += [f"next, said on going on: {row['said']}"] if row["said"] else []
    lines += [row["words"]] if row["words"] else []
    lines += [f"confirmed: {act}" for act in row["acts_done"]]
    lines += [f"NOT CONFIRMED: {act}" for act in row["acts"] if act not in row["acts_done"]]
    return tuple(lines) or NOTHING


def interruptions_section(rows: tuple[Row, ...]) -> Section:
    """All halts."""
    columns = (
        Column("What", kind_cell),
        Column("From, to (UTC)", span_cell),
        Column("Said and done", said_cell),
        Column("Unconfirmed afterwards", lambda row: pairs_words(row["unconfirmed"]) or NOTHING),
        EVENT,
    )
    return Section(
        "interruptions", "Interruptions", columns, rows, "The run was not interrupted.",
        mark=lambda row: row["until"] is None or any(act not in row["acts_done"] for act in row["acts"]),
    )  # fmt: skip


def looks_section(entries: Entries, names: Names) -> Section:
    """Every time that a person looked at a state; `differed` where they saw something else than was taken to be so."""
    before: dict[str, str] = {}
    rows: list[Row] = []
    for number, event in entries:
        if isinstance(event, ev.Resumed):
            before.update(event.unconfirmed)
        elif isinstance(event, ev.StateSeen):
            was_before = before.pop(event.state, "")
            expected = event.was if event.was not in ("", "unknown") else was_before
            rows.append(
                {
                    **stamp(number, event),
                    "state": event.state,
                    "label": names.state(event.state),
                    "seen": event.value,
                    "was": event.was,
                    "before_interruption": was_before,
                    "differed": bool(expected) and expected != event.value,
                }
            )
    columns = (
        Column("State", "label"),
        Column("Seen", "seen"),
        Column("Taken for", taken_for_cell),
        Column("Differed", lambda row: "DIFFERED" if row["differed"] else "no"),
        Column("When (UTC), who looked", when_and_who),
        EVENT,
    )
    return Section(
        "states_looked_at", "States that a person looked at", columns, tuple(rows), "No state was looked at.",
        mark=lambda row: bool(row["differed"]),
    )  # fmt: skip


def taken_for_cell(row: Row) -> Cell:
    """What the state was taken for, and what it had been before an interruption."""
    was = row["was"] or "unknown"
    if row["before_interruption"] and row["before_interruption"] != was:
        return (was, f"before the interruption: {row['before_interruption']}")
    return was


def differed_section(looks: Section) -> Section:
    """Only those that differed."""
    rows = tuple(row for row in looks.rows if row["differed"])
    return Section(
        "states_differed", "States that were looked at and differed", looks.columns, rows,
        "No state that was looked at differed.", mark=looks.mark,
    )  # fmt: skip


def clock_section(entries: Entries) -> Section:
    """Steps of the wall clock: times on either side cannot be compared, durations can."""
    rows = tuple(
        {**stamp(number, event), "seconds": event.seconds}
        for number, event in entries
        if isinstance(event, ev.ClockStepped)
    )
    columns = (Column("When (UTC)", lambda row: moment_words(row["at"])), Column("Step", step_of_clock, True), EVENT)
    return Section("clock_steps", "Steps of the wall clock", columns, rows, "The wall clock did not step.")


def step_of_clock(row: Row) -> Cell:
    """`+3 600 s` is forward."""
    return f"{row['seconds']:+.1f} s"


def tails_section(entries: Entries) -> Section:
    """Ends of the journal that were cut aside on opening."""
    rows = tuple(
        {**stamp(number, event), "bytes_set_aside": event.bytes_set_aside, "file": event.file}
        for number, event in entries
        if isinstance(event, ev.TailSetAside)
    )
    columns = (
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        Column("Bytes", "bytes_set_aside", numeric=True),
        Column("Kept in", "file"),
        EVENT,
    )
    return Section(
        "tails_set_aside", "Incomplete ends of the journal that were set aside", columns, rows,
        "No end of the journal was set aside.",
    )  # fmt: skip
