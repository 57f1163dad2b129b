"""Whether a person is qualified for a procedure as it is now, by the register of qualifications.

A qualification is for a revision. A later change that asks for a demonstration ends it; one that asks for reading asks for an
entry that it was read; any other leaves it as it is. The register is only read here; the last entries go before earlier ones.
"""

from collections.abc import Iterable
from typing import NamedTuple

from runner.procedure.model import Procedure
from runner.say.text import mark, say

LEVELS = ("perform", "simulate", "observe", "discuss")
"""How the work was shown, the strongest first: at the press, in a dry run, by watching, in words."""

QUALIFYING = ("perform",)
"""Levels after which a person does the work at the press themselves. A dry run shows a part of it, with no press: it is on the
way there and no more. Common practice, no source."""

READ = "read"
"""The level of an entry that says that a change was read."""


class Qualification(NamedTuple):
    """One entry of the register."""

    person: str
    procedure: str
    """Its id."""
    revision: int
    """Of the procedure, as it was then."""
    level: str
    """One of LEVELS, or READ."""
    day: str
    """YYYY-MM-DD."""
    until: str
    """The last day on which it counts; empty: no end."""
    assessor: str


ENTERS = mark("Somebody else, who saw it, enters it as assessor: changeover qualifications enter.")
"""Who can mend a missing level, and how."""


def may_do(person: str, procedure: Procedure, register: Iterable[Qualification], today: str) -> str:
    """Why a person is not qualified for a procedure on a day (YYYY-MM-DD), and who can enter what is missing; empty where the
    register has them for it."""
    own = [one for one in register if _key(one.person) == _key(person) and one.procedure == procedure.id]
    shown = [one for one in own if one.level in QUALIFYING]
    name, level = f"{procedure.title} ({procedure.id})", QUALIFYING[0]
    if not shown:
        seen = ", ".join(dict.fromkeys(one.level for one in own if one.level in LEVELS)) or say("nothing")
        return say(
            "The register does not have {person} for {procedure}: the level {level} is missing (so far: {seen}). {enters}",
            person=person, procedure=name, level=level, seen=seen, enters=say(ENTERS),
        )  # fmt: skip
    in_time = [one for one in shown if not one.until or one.until >= today]
    if not in_time:
        return say(
            "{person} was qualified for {procedure} until {until} by the register: the level {level} is to be shown again. {enters}",
            person=person, procedure=name, until=max(one.until for one in shown), level=level, enters=say(ENTERS),
        )  # fmt: skip
    last = max(in_time, key=lambda one: (one.revision, one.day))
    later = [change for change in procedure.changes if last.revision < change.revision <= procedure.revision]
    again = [change.revision for change in later if change.retrain == "demonstrate"]
    if again:
        return say(
            "{person} is qualified for {procedure} revision {old} by the register; revision {new} asks for a demonstration: the "
            "level {level} is missing for it. {enters}",
            person=person, procedure=name, old=last.revision, new=max(again), level=level, enters=say(ENTERS),
        )  # fmt: skip
    read_up_to = max((one.revision for one in own if one.level == READ), default=0)
    unread = [change.revision for change in later if change.retrain == "read" and change.revision > read_up_to]
    if unread:
        return say(
            "{person} is qualified for {procedure} revision {old} by the register; that revision {new} was read is not entered. "
            "Whoever read it enters it: changeover qualifications enter --level {level}.",
            person=person, procedure=name, old=last.revision, new=max(unread), level=READ,
        )  # fmt: skip
    return ""


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()
