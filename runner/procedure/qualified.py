"""Whether a person is qualified for a procedure as it is now, by the register of qualifications.

A qualification is for a revision. A later change that asks for a demonstration ends it; one that asks for reading asks for an
entry that it was read; any other leaves it as it is. The register is only read here; the last entries go before earlier ones.
"""

from collections.abc import Iterable
from typing import NamedTuple

from runner.procedure.model import Procedure

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


def may_do(person: str, procedure: Procedure, register: Iterable[Qualification], today: str) -> str:
    """Why a person is not qualified for a procedure on a day (YYYY-MM-DD); empty where the register has them for it."""
    own = [one for one in register if _key(one.person) == _key(person) and one.procedure == procedure.id]
    shown = [one for one in own if one.level in QUALIFYING]
    if not shown:
        seen = [one.level for one in own if one.level in LEVELS]
        so_far = f"; so far: {', '.join(dict.fromkeys(seen))}" if seen else ""
        return f"The register does not have {person} for {procedure.id}{so_far}."
    in_time = [one for one in shown if not one.until or one.until >= today]
    if not in_time:
        until = max(one.until for one in shown)
        return f"{person} was qualified for {procedure.id} until {until} by the register."
    last = max(in_time, key=lambda one: (one.revision, one.day))
    later = [change for change in procedure.changes if last.revision < change.revision <= procedure.revision]
    again = [change.revision for change in later if change.retrain == "demonstrate"]
    if again:
        return (
            f"{person} is qualified for {procedure.id} revision {last.revision} by the register; revision {max(again)} asks for a "
            "demonstration."
        )
    read_up_to = max((one.revision for one in own if one.level == READ), default=0)
    unread = [change.revision for change in later if change.retrain == "read" and change.revision > read_up_to]
    if unread:
        return (
            f"{person} is qualified for {procedure.id} revision {last.revision} by the register; that revision {max(unread)} was read "
            "is not entered."
        )
    return ""


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()
