"""Who had which role, from when, and from whom; and how sure the record is of who they were.

Names are what people gave or a site file confirmed; the record says which of the two.
"""

from collections.abc import Callable

from runner.engine import events as ev
from runner.engine.state import NOT_VERIFIED, VERIFIED, name_key
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, Column, Row, Section, by_cell, stamp
from runner.report.contents.words import moment_words
from runner.report.document import Cell

CREW_AT_START = "at the start"


def established(entries: Entries) -> dict[str, str]:
    """Every person who had a role or acted, by `name_key`, with how it was established who they are."""
    begun = next((event for _, event in entries if isinstance(event, ev.RunBegun)), None)
    people: dict[str, str] = {}
    for _, event in entries:
        crew = tuple(name for _, name in event.crew) if isinstance(event, ev.RunBegun) else ()
        taking = (event.to,) if isinstance(event, ev.HandedOver) else ()
        for name in (*crew, *taking, event.by):
            if name.strip():
                people.setdefault(name_key(name), NOT_VERIFIED)
        if isinstance(event, ev.IdentityGiven) and event.how == VERIFIED and begun is not None and begun.unknown:
            people[name_key(event.by)] = VERIFIED
    return people


def identity_words(entries: Entries) -> str:
    """How the people of a run were identified, in a line: of each the same, or who was and who was not."""
    begun = next((event for _, event in entries if isinstance(event, ev.RunBegun)), None)
    if begun is None or not begun.unknown:
        return (begun.identity if begun else "") or NOT_VERIFIED
    said = established(entries)
    names = {name_key(name): name.strip() for name in reversed(names_in(entries))}
    verified, open_ = (
        ", ".join(names[key] for key, how in said.items() if (how == VERIFIED) is wanted) for wanted in (True, False)
    )
    if not open_:
        return VERIFIED
    return f"{VERIFIED}: {verified}; {NOT_VERIFIED}: {open_}" if verified else NOT_VERIFIED


def names_in(entries: Entries) -> list[str]:
    """All names, as they were written, in order."""
    names: list[str] = []
    for _, event in entries:
        if isinstance(event, ev.RunBegun):
            names += [name for _, name in event.crew]
        names += [event.to, event.by] if isinstance(event, ev.HandedOver) else [event.by]
    return [name for name in names if name.strip()]


def identities_section(entries: Entries) -> Section:
    """Each time that somebody's identity was asked for, and how it was established."""
    rows = tuple(
        {**stamp(number, event), "act": event.act, "step": event.step, "how": event.how}
        for number, event in entries
        if isinstance(event, ev.IdentityGiven)
    )
    columns = (
        Column("Person", by_cell),
        Column("Identity", "how"),
        Column("For", "act"),
        Column("Step", "step"),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section("identities", "Identities", columns, rows, "Nobody was asked for a PIN.")


def pins_refused_section(entries: Entries) -> Section:
    """Wrong PINs, with the name they were given for."""
    rows = tuple(
        {
            **stamp(number, event),
            "name": event.name,
            "act": event.act,
            "step": event.step,
            "tries": event.tries,
            "wait_s": event.wait_s,
        }
        for number, event in entries
        if isinstance(event, ev.PinRefused)
    )
    columns = (
        Column("For the name", "name"),
        Column("For", "act"),
        Column("Step", "step"),
        Column("In a row", "tries", numeric=True),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section("pins_refused", "Wrong PINs", columns, rows, "No wrong PIN was given.")


def crew_section(entries: Entries, names: Names) -> Section:
    """Roles and persons, in the order in which they took them."""
    rows: list[Row] = []
    begun = next((event for _, event in entries if isinstance(event, ev.RunBegun)), None)
    otherwise = begun.identity if begun is not None and not begun.unknown and begun.identity else NOT_VERIFIED
    said = established(entries)
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
        Column("Identity", lambda row: VERIFIED if said.get(name_key(row["person"])) == VERIFIED else otherwise),
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
        Column("From", by_cell),
        Column("To", "to"),
        Column("Read back", "read_back"),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section("handovers", "Handovers", columns, rows, "No role changed hands.")
