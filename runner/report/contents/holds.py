"""Holds: where the engine stopped, who let it go on, what they confirmed, and on what the release stood.

A release is one person's word about what they looked at; the report repeats it and adds nothing.
"""

from runner.engine import events as ev
from runner.engine.moment import Moment, seconds_between
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, STEP, Column, Row, Section, stamp, when_and_who
from runner.report.contents.words import NOTHING, duration_words, pairs_words
from runner.report.document import Cell


def hold_rows(entries: Entries, names: Names) -> tuple[Row, ...]:
    """One row for each time that a hold was reached."""
    rows: list[Row] = []
    newest: dict[str, Row] = {}
    reached: dict[str, Moment] = {}
    for number, event in entries:
        match event:
            case ev.HoldReached():
                newest[event.step] = blank_hold(names, event.step, event.release)
                newest[event.step]["reached"] = stamp(number, event)
                newest[event.step]["event"] = number
                reached[event.step] = event.at
                rows.append(newest[event.step])
            case ev.HoldReleased():
                row = newest.get(event.step)
                if row is None or row["released"] is not None:
                    row = newest[event.step] = blank_hold(names, event.step, event.role)
                    row["event"] = number
                    rows.append(row)
                    reached.pop(event.step, None)
                since = reached.get(event.step)
                row.update(
                    released=stamp(number, event),
                    confirmed=list(event.confirmed),
                    basis=names.states_said(event.basis),
                    waited_s=None if since is None else seconds_between(since, event.at),
                )
            case ev.HoldRevoked():
                row = newest.get(event.step)
                if row is None:
                    row = newest[event.step] = blank_hold(names, event.step, "")
                    row["event"] = number
                    rows.append(row)
                row["revoked"] = {**stamp(number, event), "why": event.why}
            case _:
                pass
    return tuple(rows)


def blank_hold(names: Names, step: str, role: str) -> Row:
    """A hold that nobody has released."""
    return {
        "event": None,
        "step": step,
        "step_number": names.number(step),
        "release_by": names.role(role),
        "reached": None,
        "released": None,
        "confirmed": [],
        "basis": [],
        "waited_s": None,
        "revoked": None,
    }


def released_cell(row: Row) -> Cell:
    """Who released it and when; a revoked release says so here too."""
    if row["released"] is None:
        return "NOT RELEASED"
    said = when_and_who(row["released"])
    lines = (said,) if isinstance(said, str) else said
    waited = f"after {duration_words(row['waited_s'])}"
    revoked = (f"REVOKED, event {row['revoked']['event']}",) if row["revoked"] else ()
    return (*lines, waited, *revoked)


HOLD_COLUMNS = (
    STEP,
    Column("To be released by", "release_by"),
    Column("Released (UTC)", released_cell),
    Column("The person confirmed", "confirmed"),
    Column("Stood on", lambda row: pairs_words(row["basis"]) or NOTHING),
    EVENT,
)


def holds_section(rows: tuple[Row, ...]) -> Section:
    """All holds."""
    return Section(
        "holds", "Holds and their releases", HOLD_COLUMNS, rows, "No hold was reached.",
        mark=lambda row: row["revoked"] is not None or row["released"] is None,
    )  # fmt: skip


def revoked_section(rows: tuple[Row, ...]) -> Section:
    """Releases that did not last."""
    revoked = tuple(row for row in rows if row["revoked"])
    columns = (
        STEP,
        Column("Revoked (UTC)", lambda row: when_and_who(row["revoked"])),
        Column("Why", lambda row: row["revoked"]["why"]),
        Column("Had been released", lambda row: when_and_who(row["released"]) if row["released"] else NOTHING),
        Column("Event", lambda row: str(row["revoked"]["event"]), numeric=True),
    )
    return Section("holds_revoked", "Holds revoked", columns, revoked, "No release was revoked.")


def accepted_section(entries: Entries, names: Names) -> Section:
    """Pieces that miss what was wanted and were hung all the same: how far off, who accepted them and why."""
    rows = tuple(
        {
            **stamp(number, event),
            "step": event.step,
            "step_number": names.number(event.step),
            "name": event.name,
            "role": names.role(event.role),
            "wanted": event.wanted,
            "hung": event.hung,
            "shown": event.shown,
            "gives": event.gives,
            "why": event.why,
        }
        for number, event in entries
        if isinstance(event, ev.PiecesAccepted)
    )
    columns = (
        STEP,
        Column("Pieces", "name"),
        Column("Wanted", "wanted"),
        Column("Nearest, accepted", accepted_cell),
        Column("Why", "why"),
        Column("Accepted (UTC), as", lambda row: (row["role"], *when_and_who(row))),
        EVENT,
    )
    return Section(
        "pieces_accepted",
        "Pieces out of tolerance that were accepted",
        columns,
        rows,
        "No pieces were accepted out of tolerance.",
    )


def accepted_cell(row: Row) -> Cell:
    """The mass hung, the pieces, and what they give."""
    return (row["hung"], row["shown"], *((row["gives"],) if row["gives"] else ()))
