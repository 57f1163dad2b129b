"""Findings as an editor shows them: under the word where each stands, with all that the command line would print.

They come from the same function as the command's, so both always say the same. A finding in a fragment belongs to the
fragment's file, whichever procedure it was found through.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from runner.editor.positions import offset_at
from runner.lint.linter import Options, lint
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity
from runner.procedure.include import Fetch

WORD = re.compile(r"'[^'\n]*'|\"[^\"\n]*\"|[A-Za-z0-9_<>-]+|[^\n]|")
"""What is underlined: a text in quotes, a word, or one character."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One finding with its part of the text, in offsets."""

    start: int
    end: int
    rule: str
    severity: Severity
    message: str
    """With the hint and the way to the fault, each on lines of its own."""


@dataclass(frozen=True, slots=True)
class Found:
    """What one look at a file came to."""

    problems: Mapping[str, tuple[Problem, ...]]
    """By path; the file itself is always there."""
    texts: Mapping[str, str]
    """The texts that were looked at, by path."""


def problems(path: str, text: str, fetch: Fetch, today: str = "") -> Found:
    """All findings of a text and of what it uses; `today` (YYYY-MM-DD) tells days of a site file that are past."""
    linted = lint(text, path, fetch, Options(today=today))
    by_path: dict[str, list[Problem]] = {path: []}
    for finding in linted.findings:
        by_path.setdefault(finding.place.path, []).append(problem(finding, linted.texts.get(finding.place.path, "")))
    return Found({name: tuple(found) for name, found in by_path.items()}, linted.texts)


def problem(finding: Finding, text: str) -> Problem:
    """One finding."""
    start = offset_at(text, finding.place.line, finding.place.column)
    word = WORD.match(text, start)
    lines = [finding.message, *([finding.hint] if finding.hint else [])]
    lines += [f"{number}. {step}" for number, step in enumerate(finding.trace, start=1)]
    message = "\n".join(clean(line) for line in lines)
    return Problem(start, word.end() if word else start, finding.rule, finding.severity, message)


@dataclass(slots=True)
class Board:
    """What was found last through each file that was looked at, and so what stands against each file now."""

    by_root: dict[str, Found] = field(default_factory=dict)

    def put(self, root: str, found: Found) -> tuple[str, ...]:
        """Take in what one look came to; the files whose problems may be others now."""
        before = self.by_root.get(root)
        self.by_root[root] = found
        return tuple(sorted({*found.problems, *(before.problems if before else ())}))

    def drop(self, roots: Iterable[str]) -> tuple[str, ...]:
        """Forget looks; the files whose problems may be others now."""
        gone = [self.by_root.pop(root) for root in tuple(roots) if root in self.by_root]
        return tuple(sorted({path for found in gone for path in found.problems}))

    def of(self, path: str) -> tuple[Problem, ...]:
        """Everything found in a file, each once, in the order of the text."""
        return tuple(sorted({one for found in self.by_root.values() for one in found.problems.get(path, ())}))

    def text(self, path: str) -> str:
        """The text of a file as it was looked at; the empty text where it never was."""
        return next((found.texts[path] for found in self.by_root.values() if path in found.texts), "")

    def roots_over(self, path: str) -> tuple[str, ...]:
        """The files through which a file was looked at, itself among them."""
        return tuple(root for root, found in self.by_root.items() if path in found.texts)
