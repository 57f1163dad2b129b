"""Who had which role, from when, and from whom; and how sure the record is of who they were.

Names are what people gave or a site file confirmed; the record says which of the two.
"""

from collections.abc import Callable

from runner.engine import events as ev
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, Column, Row, Section, stamp
from runner.report.contents.words import moment_words
from runner.report.document import Cell

CREW_AT_START = "at the start"


def crew_section(entries: Entries, names: Names, identity: str) -> Section:
    """Roles and persons, in the order in which they took them."""
    rows: list[Row] = []
    for number, event in entries:
        match event:
            case ev.RunBegun():
                took = stamp(number, event)
                rows += [crew_row(took, names.role, role, person, CREW_AT_START) for role, person in event.crew]
            case ev.SignedOn():
                rows.append(crew_row(stamp(number, event), names.role, event.role, event.by, "signed on"))
            case ev.HandedOver():
                how = f"handed over by {event.by}"
                rows.append(crew_row(stamp(number, event), names.role, event.role, event.to, how))
            case _:
                pass
    columns = (
        Column("Person", "person"),
        Column("Role", "role_label"),
        Column("Identity", lambda _: identity),
        Column("Took it", took_cell),
        EVENT,
    )
    return Section("crew", "People", columns, tuple(rows), "Nobody is on record.")


def crew_row(took: Row, label: Callable[[str], str], role: str, person: str, how: str) -> Row:
    """A person takes a role."""
    return {**took, "role": role, "role_label": label(role), "person": person, "how": how}


def took_cell(row: Row) -> Cell:
    """How and when."""
    return (row["how"], moment_words(row["at"]))


def handovers_section(entries: Entries, names: Names) -> Section:
    """Roles that changed hands, with what the incoming person read back."""
    rows = tuple(
        {
            **stamp(number, event),
            "role": event.role,
            "role_label": names.role(event.role),
            "to": event.to,
            "read_back": event.read_back,
        }
        for number, event in entries
        if isinstance(event, ev.HandedOver)
    )
    columns = (
        Column("Role", "role_label"),
        Column("From", "by"),
        Column("To", "to"),
        Column("Read back", "read_back"),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section("handovers", "Handovers", columns, rows, "No role changed hands.")
