"""What a format is, and what all have in common.

A format's module is loaded when findings are to be printed in it, so that none costs a start-up in which another is used.
"""

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from typing import NamedTuple

from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity

Texts = Mapping[str, str]
"""The text of every file that was looked at, by path. It may be empty where nothing was found in the file."""


class Format(NamedTuple):
    """One way to print findings."""

    name: str
    """Also the name of its module in this package."""
    doc: str
    beside: bool = False
    """True where the reader takes paths from the folder that the command runs in, and cannot follow others."""

    def render(
        self,
        findings: Sequence[Finding],
        texts: Texts,
        colour: bool = False,
        failing: Severity | None = Severity.ERROR,
    ) -> str:
        """What goes to standard output. `failing`: from where on a finding fails the check, None for never."""
        render: Callable[..., str] = import_module(f"runner.lint.output.{self.name}").render
        return render(findings, texts, colour=colour, failing=failing)


def wants_colour(is_terminal: bool, environment: Mapping[str, str]) -> bool:
    """Colour for a person at a terminal, unless NO_COLOR is set to anything or the terminal says that it has none."""
    return is_terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"


def summary(findings: Sequence[Finding]) -> str:
    """How many errors, warnings and notes, in words for standard error."""
    counts = [(severity, sum(f.severity is severity for f in findings)) for severity in reversed(Severity)]
    words = [f"{count} {severity.word}{'s' if count > 1 else ''}" for severity, count in counts if count]
    return ", ".join(words) if words else "nothing found"


def said(finding: Finding, trace: bool = True) -> list[str]:
    """Message, hint and the numbered steps of the way, cleaned, a line each."""
    steps = [f"{number}. {clean(step)}" for number, step in enumerate(finding.trace, start=1)] if trace else []
    return [clean(finding.message), *([clean(finding.hint)] if finding.hint else []), *steps]


def files_of(findings: Sequence[Finding], texts: Texts) -> dict[str, list[Finding]]:
    """The findings by the file they stand in, files in the order of their paths, also those where nothing was found."""
    by_file: dict[str, list[Finding]] = {path: [] for path in sorted({*texts, *(f.place.path for f in findings)})}
    for finding in findings:
        by_file[finding.place.path].append(finding)
    return by_file
