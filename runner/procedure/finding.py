"""What is wrong with a procedure, as data with a place.

A place is a file with a line and a column, both counted from 1, columns in characters. Nothing in this
project reports a fault of an author's text in any other shape.
"""

from enum import IntEnum
from typing import NamedTuple


class Severity(IntEnum):
    """How much a finding weighs; an error keeps a procedure from running."""

    NOTE = 1
    WARNING = 2
    ERROR = 3

    @property
    def word(self) -> str:
        """The word that outputs print: error, warning or note."""
        return self.name.lower()


class Place(NamedTuple):
    """Where something stands in an author's text."""

    path: str
    line: int
    """Counted from 1."""
    column: int
    """Counted from 1, in characters."""

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


class Finding(NamedTuple):
    """One thing an author should know about the text."""

    rule: str
    """A kebab-case fault, a key of `runner.procedure.faults.FAULTS` or the id of a lint rule."""
    severity: Severity
    message: str
    place: Place
    hint: str = ""
    """What to do about it, where that is not plain from the message."""
    trace: tuple[str, ...] = ()
    """The shortest way to the fault, one step a line, where a path leads to it."""


def in_order(findings: list[Finding]) -> tuple[Finding, ...]:
    """Findings by place, the same one once; the main file's come as the text runs, fragments' by their paths."""
    return tuple(sorted(set(findings), key=lambda f: (f.place.path, f.place.line, f.place.column, f.rule, f.message)))
