"""Site files: who works at a place and in which roles, how far a press may be moved with a guard open, what hangs and lifts there.

No PIN stands in one, only its hash. Names are compared without regard to case and spacing, as everywhere.
"""

from typing import NamedTuple

from runner.formula.dimension import LENGTH, SPEED, Dimension, describe
from runner.procedure.desk import Desk, one_line
from runner.procedure.finding import Finding, in_order
from runner.procedure.language.site import SITE
from runner.procedure.nodes import Map, Seq, value_place
from runner.procedure.parts.head import text
from runner.procedure.parts.site import read_facts, real_day
from runner.procedure.qualified import Qualification
from runner.procedure.site_facts import NONE, Facts
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import read


class Person(NamedTuple):
    """Somebody who works here."""

    name: str
    roles: tuple[str, ...]
    pin: str
    """The argon2id hash."""
    qualified: tuple[tuple[str, str], ...] | None
    """(procedure id, last day as YYYY-MM-DD); None where the site says nothing of it."""


class Motion(NamedTuple):
    """How far and fast a press may be moved here with a guard open, hold-to-run."""

    distance: tuple[float, str] | None
    """In m, and as written; None where the site does not say."""
    speed: tuple[float, str] | None
    """In m/s, and as written."""
    source: str
    date: str


class Site(NamedTuple):
    """What belongs to the place."""

    people: tuple[Person, ...]
    unknown: str
    """What becomes of names that are not listed: refused or allowed."""
    motion: Motion | None = None
    """None where the site does not say."""
    facts: Facts = NONE
    """Pieces, lifting gear, shifts."""
    needs_qualification: str = "off"
    """What is done where the register does not have a person: off, tell or refuse."""
    register: tuple[Qualification, ...] = ()
    """The register of qualifications beside the file, as far as it was read."""
    terminals: tuple[tuple[str, str], ...] = ()
    """(name, public key) of the terminals that sign."""
    blocks: tuple[str, ...] = ()
    """Severities of exceptions that keep the next run's steps from beginning; empty where the site does not say."""

    def person(self, name: str) -> Person | None:
        """The person of that name, if the file knows them."""
        key = _key(name)
        return next((one for one in self.people if _key(one.name) == key), None)


class ReadSite(NamedTuple):
    """A site, or the findings that say why there is none."""

    site: Site | None
    findings: tuple[Finding, ...]


def read_site(written: str, path: str) -> ReadSite:
    """The site that a text writes."""
    desk = Desk()
    source = read(written, path)
    desk.findings.extend(source.findings)
    root = source.root
    site = None
    if root is not None and not wrong_file(root, "site", desk):
        root = sound(root, SITE, desk)
        if root is not None:
            site = Site(
                read_people(root, desk),
                text(root, "unknown") or "refused",
                read_motion(root, desk),
                read_facts(root, desk),
                text(root, "needs_qualification", "off"),
                terminals=read_terminals(root),
                blocks=tuple(str(severity) for severity in root["blocks"])
                if isinstance(root.get("blocks"), Seq)
                else (),
            )
    return ReadSite(None if desk.failed else site, in_order(desk.findings))


def read_people(root: Map, desk: Desk) -> tuple[Person, ...]:
    """The people of a sound site file; who is listed twice is a finding."""
    people: list[Person] = []
    listed = root.get("people", ())
    for node in listed if isinstance(listed, Seq) else ():
        if not isinstance(node, Map):
            continue
        if not whole_hash(text(node, "pin").strip()):
            hint = "Let the person type the PIN at `changeover site-pin`, and copy the whole line."
            desk.add("pin-unreadable", "this hash of a PIN is not whole", value_place(node, "pin"), hint)
        for procedure in node["qualified"] if isinstance(node.get("qualified"), Map) else ():
            real_day(node["qualified"], procedure, desk)
        name, roles, days = one_line(text(node, "name")), node.get("roles", ()), node.get("qualified")
        if any(_key(name) == _key(other.name) for other in people):
            desk.add("person-twice", f"`{name}` is listed twice", value_place(node, "name"), "Keep one of the two.")
            continue
        people.append(
            Person(
                name,
                tuple(str(role).strip() for role in roles),
                text(node, "pin").strip(),
                tuple((key, str(day).strip()) for key, day in days.items()) if isinstance(days, Map) else None,
            )
        )
    return tuple(people)


def whole_hash(written: str) -> bool:
    """Whether salt and hash of a PIN's hash are whole: base64 without its filling (the form that RFC 9106 leaves to the PHC
    strings), where no length leaves one character over."""
    return all(len(part) % 4 != 1 for part in written.split("$")[4:6])


def read_terminals(root: Map) -> tuple[tuple[str, str], ...]:
    """The keys of the terminals of a sound site file."""
    node = root.get("terminals")
    return tuple((name, str(key).strip()) for name, key in node.items()) if isinstance(node, Map) else ()


def read_motion(root: Map, desk: Desk) -> Motion | None:
    """The motion limits of a sound site file; a figure of another dimension is a finding."""
    node = root.get("motion")
    if not isinstance(node, Map):
        return None
    real_day(node, "date", desk)
    distance, speed = _figure(node, "distance", LENGTH, desk), _figure(node, "speed", SPEED, desk)
    return Motion(distance, speed, one_line(text(node, "source")), text(node, "date"))


def _figure(node: Map, key: str, wanted: Dimension, desk: Desk) -> tuple[float, str] | None:
    given = desk.quantity(node, key) if key in node else None
    if given is None:
        return None
    value, unit = given
    if unit.dimension != wanted:
        words = f"`{key}` is {describe(wanted)}, not {describe(unit.dimension)}"
        desk.add("unit-mismatch", words, value_place(node, key), "")
        return None
    if value <= 0:
        desk.add("wrong-value", f"`{key}` is above zero", value_place(node, key), "")
        return None
    return unit.si(value), one_line(text(node, key))


def may_take(site: Site, procedure: str, role: str, label: str, name: str, today: str) -> str:
    """Why a person may not take a role of a procedure on a day (YYYY-MM-DD); empty where nothing stands against it,
    and for names that the site does not know: the engine judges those."""
    person = site.person(name)
    if person is None:
        return ""
    if role not in person.roles:
        has = ", ".join(person.roles)
        return f"{person.name} is not {label} ({role}) by the site file, which has them as {has}."
    if person.qualified is None:
        return ""
    until = dict(person.qualified).get(procedure)
    if until is None:
        return f"{person.name} is not qualified for {procedure} by the site file."
    if until < today:
        return f"{person.name} was qualified for {procedure} until {until} by the site file."
    return ""


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()
