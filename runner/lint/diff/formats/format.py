"""What a format of differences is, and the words that all formats for people share."""

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import NamedTuple

from runner.lint.diff.change import Change, Diff, Weight
from runner.procedure.finding import Place


class Format(NamedTuple):
    """One way to print differences."""

    name: str
    doc: str
    render: Callable[[Diff, bool], str]
    """From the differences and whether to use colour."""


HEADINGS: dict[Weight, tuple[str, str]] = {
    Weight.WEAKER: ("Weaker", "The new text lets something pass that the old one did not."),
    Weight.MAYBE: ("May be weaker", "It cannot be decided here; read both."),
    Weight.UNTOLD: ("Not told", "The head of the new text does not say what people have to be told."),
    Weight.CHANGED: ("Changed", "Another meaning, neither weaker nor stronger by itself."),
    Weight.STRONGER: ("Stronger", "The new text stops something that the old one let pass."),
}
"""Heading and what it stands for, gravest first."""

AID = "An aid to whoever approves the new text: you read both, and you confirm."
NOTHING = "Nothing changed in meaning."


def counts(diff: Diff) -> str:
    """How many of each weight, in words."""
    found = [(len(diff.of(weight)), weight.value) for weight in Weight]
    return ", ".join(f"{count} {word}" for count, word in found if count) or NOTHING


def sentence(words: str) -> str:
    """A clause as a sentence."""
    return words[:1].upper() + words[1:] + "."


def by_subject(changes: Sequence[Change]) -> list[tuple[str, list[Change]]]:
    """Changes of the same thing that follow one another."""
    return [(subject, list(group)) for subject, group in groupby(changes, key=lambda change: change.subject)]


def facts(change: Change) -> list[tuple[str, str]]:
    """What stands below a change: what it was and is, why it matters, where it stands."""
    both = [("was", change.was or "-"), ("now", change.now or "-")] if change.was or change.now else []
    places = [("old", change.old_place), ("new", change.new_place)]
    return [*both, ("why", change.reason), *((word, str(place)) for word, place in places if isinstance(place, Place))]
