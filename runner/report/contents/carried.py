"""Exceptions that an earlier run at the press left open: where each comes from, who read it, who let work go on with it."""

from runner.engine import events as ev
from runner.report.contents.section import Row, stamp
from runner.report.contents.words import moment_words
from runner.report.document import Cell

Followed = ev.ExceptionCarried | ev.ExceptionRead | ev.ExceptionAccepted


def follow(rows: dict[int, Row], number: int, event: Followed) -> None:
    """Put one of these events into the rows of the exceptions, which go by their number in this run."""
    match event:
        case ev.ExceptionCarried():
            rows[event.number] = {
                **stamp(number, event),
                "number": event.number,
                "step": "",
                "step_number": "",
                "kind": event.kind,
                "severity": event.severity,
                "blocking": event.blocking,
                "words": event.words,
                "owner": event.owner,
                "open": True,
                "closed": None,
                "disposition": None,
                "carried": {
                    "run": event.earlier_run,
                    "number": event.earlier_number,
                    "title": event.title,
                    "noted_by": event.noted_by,
                    "noted_at": event.noted_at,
                    "read": None,
                    "accepted": None,
                },
            }
        case ev.ExceptionRead():
            if event.number in rows and "carried" in rows[event.number]:
                rows[event.number]["carried"]["read"] = stamp(number, event)
        case ev.ExceptionAccepted():
            if event.number in rows and "carried" in rows[event.number]:
                accepted = {**stamp(number, event), "role": event.role, "why": event.why}
                rows[event.number]["carried"]["accepted"] = accepted


def what_cell(row: Row) -> Cell:
    """The words of an exception; of one that was carried also its way here."""
    carried = row.get("carried")
    if carried is None:
        return str(row["words"])
    by = carried["noted_by"] or "the program"
    lines = [row["words"], f"from run {carried['run']}, exception {carried['number']} ({carried['title']})"]
    lines.append(f"noted there by {by}, {moment_words(carried['noted_at'])} UTC")
    read, accepted = carried["read"], carried["accepted"]
    lines.append(f"read by {read['by']}, event {read['event']}" if read else "NOT READ")
    if accepted:
        lines.append(
            f"accepted for this run by {accepted['by']} ({accepted['role']}), event {accepted['event']}: {accepted['why']}"
        )
    return tuple(lines)
