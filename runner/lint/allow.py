"""Comments that allow a finding: `# lint: allow RULE, reason`, on the line of the finding or alone on a line above it.

A reason is needed. Errors and lasting rules are not silenced by anything. What looks like such a comment inside a text of
the procedure is none: it is one only where the text means the same without it.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from runner.procedure.finding import Finding, Place

ALLOW = "# lint: allow"
"""How such a comment begins."""


class Allow(NamedTuple):
    """One allowing comment."""

    place: Place
    """Of its `#`."""
    rule: str
    reason: str
    line: int
    """The line that it speaks of: its own, or the next that is no comment and not empty."""
    used: bool = False


def allows_in(text: str, path: str) -> tuple[Allow, ...]:
    """The allowing comments of a text."""
    if ALLOW not in text:
        return ()
    lines = text.split("\n")
    spots = [(number, line.index(ALLOW)) for number, line in enumerate(lines) if ALLOW in line]
    real = [spot for spot in spots if _is_comment(lines, spot, path)]
    return tuple(_read(lines, number, column, path) for number, column in real)


def silence(
    findings: Iterable[Finding], allows: tuple[Allow, ...], silenceable: Mapping[str, bool]
) -> tuple[list[Finding], tuple[Allow, ...]]:
    """The findings that stay, and the comments with whether each was used. Unknown rules count as not silenceable."""
    by_line = {(a.place.path, a.line, a.rule): number for number, a in enumerate(allows) if a.reason}
    stay: list[Finding] = []
    used: set[int] = set()
    for finding in findings:
        number = by_line.get((finding.place.path, finding.place.line, finding.rule))
        if number is None or not silenceable.get(finding.rule, False):
            stay.append(finding)
        else:
            used.add(number)
    return stay, tuple(a._replace(used=number in used) for number, a in enumerate(allows))


def _read(lines: list[str], number: int, column: int, path: str) -> Allow:
    rule, _, reason = lines[number][column + len(ALLOW) :].partition(" #")[0].strip().partition(",")
    speaks_of = number
    if not lines[number][:column].strip():
        below = range(number + 1, len(lines))
        speaks_of = next((n for n in below if lines[n].strip() and not lines[n].lstrip().startswith("#")), number)
    return Allow(Place(path, number + 1, column + 1), rule.strip(), reason.strip(), speaks_of + 1)


def _is_comment(lines: list[str], spot: tuple[int, int], path: str) -> bool:
    """Whether the text means the same without it."""
    from runner.procedure.source import read

    number, column = spot
    without = [*lines[:number], lines[number][:column].rstrip(), *lines[number + 1 :]]
    return read("\n".join(without), path).root == read("\n".join(lines), path).root
