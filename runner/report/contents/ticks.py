"""Single ticks, refused acts and values corrected too late: a row each, as the record has them.

A tick says who ticked and nothing about the press; a refusal says what a person wanted and why it was not taken.
"""

from runner.engine import events as ev
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, STEP, Column, Row, Section, stamp, when_and_who


def tick_rows(entries: Entries, names: Names) -> tuple[Row, ...]:
    """Every tick, every tick taken back."""
    rows: list[Row] = []
    for number, event in entries:
        match event:
            case ev.RollerThreaded() | ev.RollerTakenBack():
                what, taken_back = f"roller {event.number}, {event.roller}", isinstance(event, ev.RollerTakenBack)
            case ev.ConfirmationTicked() | ev.ConfirmationTakenBack():
                what, taken_back = event.point, isinstance(event, ev.ConfirmationTakenBack)
            case _:
                continue
        step = {"step": event.step, "step_number": names.number(event.step)}
        rows.append({**stamp(number, event), **step, "what": what, "taken_back": taken_back})
    return tuple(rows)


def ticks_section(entries: Entries, names: Names) -> Section:
    """Who ticked which point and which roller, in the order of time."""
    columns = (
        STEP,
        Column("Point or roller", "what"),
        Column("Ticked", lambda row: "TAKEN BACK" if row["taken_back"] else "ticked"),
        Column("When (UTC), who", when_and_who),
        EVENT,
    )
    return Section(
        "ticks", "Points and rollers ticked one by one", columns, tick_rows(entries, names),
        "Nothing was ticked one by one.", mark=lambda row: bool(row["taken_back"]),
    )  # fmt: skip


def refused_section(entries: Entries, names: Names) -> Section:
    """Who wanted to release, accept or look second, and may not."""
    rows = tuple(
        {
            **stamp(number, event), "step": event.step, "step_number": names.number(event.step), "act": event.act,
            "why": event.why,
        }
        for number, event in entries
        if isinstance(event, ev.ActRefused)
    )  # fmt: skip
    columns = (STEP, Column("Wanted", "act"), Column("Why it was refused", "why"),
               Column("When (UTC), who", when_and_who), EVENT)  # fmt: skip
    return Section("acts_refused", "Releases, acceptances and looks refused", columns, rows, "None was refused.")


def old_values_section(entries: Entries, names: Names) -> Section:
    """Corrections that came after steps had gone by the old value."""
    rows = tuple(
        {
            **stamp(number, event), "name": event.name, "old": event.old, "new": event.new,
            "done": [names.step(step) for step in event.done],
            "passed": [names.step(step) for step in event.passed], "exception": event.exception,
        }
        for number, event in entries
        if isinstance(event, ev.OldValueUsed)
    )  # fmt: skip
    columns = (
        Column("Value", "name"),
        Column("Corrected", lambda row: f"{row['old']} to {row['new']}"),
        Column("Done with the old value", lambda row: tuple(row["done"]) or "none"),
        Column("Passed over by it", lambda row: tuple(row["passed"]) or "none"),
        Column("Exception", lambda row: str(row["exception"]), numeric=True),
        EVENT,
    )
    return Section(
        "old_values_used", "Values corrected after steps had gone by them", columns, rows,
        "No correction came after a step that had used the value.",
    )  # fmt: skip
