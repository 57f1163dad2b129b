"""What a reviewer has to decide about: everything in a run that was not plain sailing, exceptions first.

Each section quotes the events of its kind; what did not happen is said in one line, so that nothing is missing
silently. Review by exception: published good practice in regulated manufacturing; the order here is our own.
"""

from runner.engine import events as ev
from runner.engine.state import StepStatus
from runner.report.contents.carried import follow, what_cell
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, STEP, WHEN, Column, Row, Section, stamp, step_cell, when_and_who
from runner.report.contents.words import NOTHING, WAYS_ON, joined
from runner.report.document import Cell

OPEN = "OPEN"


def exceptions_section(entries: Entries, names: Names) -> Section:
    """Every exception, and how it was dealt with or that it was not."""
    rows: dict[int, Row] = {}
    for number, event in entries:
        match event:
            case ev.ExceptionNoted():
                rows[event.number] = {
                    **stamp(number, event),
                    "number": event.number,
                    "step": event.step,
                    "step_number": names.number(event.step),
                    "kind": event.kind,
                    "severity": event.severity,
                    "blocking": event.blocking,
                    "words": event.words,
                    "owner": event.owner,
                    "open": True,
                    "closed": None,
                    "disposition": None,
                }
            case ev.ExceptionCarried() | ev.ExceptionRead() | ev.ExceptionAccepted():
                follow(rows, number, event)
            case ev.ExceptionClosed():
                if event.number in rows:
                    rows[event.number].update(open=False, closed={**stamp(number, event), "words": event.words})
            case ev.ExceptionDisposed():
                if event.number in rows:
                    rows[event.number]["disposition"] = {
                        **stamp(number, event), "disposition": event.disposition, "words": event.words,
                        "role": event.role, "how": event.how,
                    }  # fmt: skip
            case _:
                pass
    columns = (
        Column("No.", "number", numeric=True),
        Column("What", what_cell),
        Column("Kind", kind_cell),
        STEP,
        Column("Owner", "owner"),
        Column("Now", closed_cell),
        Column("Decided", disposition_cell),
        WHEN,
        EVENT,
    )
    return Section(
        "exceptions", "Exceptions", columns, tuple(rows.values()), "No exception was noted.",
        mark=lambda row: bool(row["open"]), marked="open",
    )  # fmt: skip


def kind_cell(row: Row) -> Cell:
    """Severity, kind, and whether it keeps the run from finishing."""
    lines = (row["severity"], row["kind"], "keeps the run from finishing" if row["blocking"] else "")
    return tuple(line for line in lines if line)


def closed_cell(row: Row) -> Cell:
    """Open, or how it was closed."""
    closed = row["closed"]
    if closed is None:
        return OPEN
    said = when_and_who(closed)
    return ("closed", closed["words"], *((said,) if isinstance(said, str) else said), f"event {closed['event']}")


def disposition_cell(row: Row) -> Cell:
    """What the review decided, by whom and why."""
    decided = row["disposition"]
    if decided is None:
        return "not decided"
    said = when_and_who(decided)
    lines = (said,) if isinstance(said, str) else said
    return (decided["disposition"], decided["words"], *lines, decided["how"], f"event {decided['event']}")


def troubles_section(entries: Entries, names: Names) -> Section:
    """Attempts that a trouble ended."""
    rows = tuple(
        {
            **stamp(number, event),
            "step": event.step,
            "step_number": event.number,
            "trouble": event.trouble,
            "sign": event.sign,
            "do": event.do,
            "way_on": event.way_on,
            "to": event.to,
            "to_label": names.step(event.to) if event.to else "",
        }
        for number, event in entries
        if isinstance(event, ev.TroubleMet)
    )
    columns = (
        STEP,
        Column("Sign", "sign"),
        Column("What to do", "do"),
        Column("Then", lambda row: f"{WAYS_ON.get(row['way_on'], row['way_on'])} {row['to_label']}".strip()),
        WHEN,
        EVENT,
    )
    return Section("troubles", "Troubles met", columns, rows, "No trouble was met.")


def went_back_section(entries: Entries, names: Names) -> Section:
    """Where a list went on from an earlier step, and what that undid."""
    rows = tuple(
        {
            **stamp(number, event),
            "step": event.step,
            "step_number": names.number(event.step),
            "reason": event.reason,
            "again": list(event.again),
            "again_labels": [names.step(step) for step in event.again],
            "stale": list(event.stale),
        }
        for number, event in entries
        if isinstance(event, ev.WentBack)
    )
    columns = (
        Column("Back to", lambda row: f"{row['step_number']} {row['step']}".strip()),
        Column("Why", "reason"),
        Column("To be done again", "again_labels"),
        Column("Values gone stale", "stale"),
        WHEN,
        EVENT,
    )
    return Section("went_back", "Gone back", columns, rows, "Nobody went back.")


def left_out_section(entries: Entries) -> Section:
    """Optional steps that were left out."""
    rows = tuple(
        {
            **stamp(number, event),
            "step": event.step,
            "step_number": event.number,
            "reason": event.reason,
            "authority": event.authority,
        }
        for number, event in entries
        if isinstance(event, ev.StepLeftOut)
    )
    columns = (
        STEP,
        Column("Reason", "reason"),
        Column("On whose authority", lambda row: row["authority"] or "nobody's was asked for"),
        WHEN,
        EVENT,
    )
    return Section("steps_left_out", "Steps left out", columns, rows, "No step was left out.")


def second_looks_section(steps: tuple[Row, ...]) -> Section:
    """Second looks that did not agree with the first."""
    rows = tuple(
        {**look, "step": row["step"], "step_number": row["step_number"]}
        for row in steps
        for attempt in row["attempts"]
        for look in attempt["second_looks"]
        if not look["agrees"]
    )
    columns = (STEP, Column("How", "how"), Column("Said", "words"), WHEN, EVENT)
    return Section(
        "second_looks_differed", "Second looks that did not agree", columns, rows,
        "Every second look agreed with the first, or none was asked for.", mark=lambda _: True,
    )  # fmt: skip


def late_waits_section(steps: tuple[Row, ...]) -> Section:
    """Waits that took longer than the author allows."""
    rows = tuple(
        {**wait["ended"], "step": row["step"], "step_number": row["step_number"], "waited_s": wait["waited_s"]}
        for row in steps
        for attempt in row["attempts"]
        for wait in attempt["waits"]
        if wait["late"]
    )
    columns = (STEP, Column("Waited", lambda row: f"{row['waited_s']:g} s", numeric=True), WHEN, EVENT)
    return Section("waits_late", "Waits that ended late", columns, rows, "No wait ended late.", mark=lambda _: True)


def unended_steps_section(steps: tuple[Row, ...]) -> Section:
    """Steps to which something happened that are not done at the end of the record; for others see `not_begun`."""
    rows = tuple(
        {"step": row["step"], "step_number": row["step_number"], "status": row["status"], "act": last_act(row)}
        for row in steps
        if row["status"] not in (*PASSED, NOT_BEGUN)
    )
    columns = (STEP, Column("Status", "status"), Column("Act", lambda row: row["act"] or NOTHING))
    return Section(
        "steps_not_ended", "Steps begun and not done at the end of this record", columns, rows,
        "No step that was begun is open at the end of this record.", mark=lambda _: True,
    )  # fmt: skip


PASSED = (StepStatus.DONE.value, StepStatus.NOT_APPLICABLE.value, StepStatus.LEFT_OUT.value)
NOT_BEGUN = StepStatus.TO_DO.value


def not_begun(steps: tuple[Row, ...]) -> str:
    """How many steps nothing happened to, and the first of them; empty where there are none."""
    rows = [row for row in steps if row["status"] == NOT_BEGUN]
    return f"Steps not begun: {len(rows)}, the first is {step_cell(rows[0])}" if rows else ""


def last_act(row: Row) -> str:
    """The act of the newest attempt as it was shown."""
    return str(row["attempts"][-1]["act"]) if row["attempts"] else ""


def summary_of(sections: tuple[Section, ...], steps: tuple[Row, ...], whole: bool) -> tuple[str, ...]:
    """What there is to decide about, counted; then, in one line, what there is none of as far as could be read."""
    counts = [
        joined((f"{section.caption}: {len(section.rows)}", marked_words(section)))
        for section in sections
        if section.rows
    ]
    none = joined([section.caption[0].lower() + section.caption[1:] for section in sections if not section.rows])
    where = "None on record" if whole else "None in what could be read of this record"
    points = (*counts, not_begun(steps), f"{where}: {none}." if none else "")
    return tuple(point for point in points if point)


def marked_words(section: Section) -> str:
    """How many of its rows are marked, in the section's own word; empty where it has none."""
    count = sum(section.mark(row) for row in section.rows)
    return f"{count} {section.marked}" if count and section.marked else ""
