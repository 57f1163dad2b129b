"""Findings as people, programs and build servers read them: one row of `FORMATS` a format.

A format is a pure function of findings and the texts they stand in. Author text is cleaned before it goes anywhere; colour
is plain ANSI and only used where the caller says that a person at a terminal wants it.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity

Texts = Mapping[str, str]
"""The text of every file that findings may stand in, by path."""

WIDEST = 110
"""Characters of a source line that are shown; a longer one is cut around the fault."""


class Format(NamedTuple):
    """One way to print findings."""

    name: str
    doc: str
    render: Callable[[Sequence[Finding], Texts, bool], str]
    """From findings, texts and whether to use colour, to what goes to standard output."""


def wants_colour(is_terminal: bool, environment: Mapping[str, str]) -> bool:
    """Colour for a person at a terminal, unless NO_COLOR is set to anything or the terminal says that it has none."""
    return is_terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"


def summary(findings: Sequence[Finding]) -> str:
    """How many errors, warnings and notes, in words for standard error."""
    counts = [(severity, sum(f.severity is severity for f in findings)) for severity in reversed(Severity)]
    words = [f"{count} {severity.word}{'s' if count > 1 else ''}" for severity, count in counts if count]
    return ", ".join(words) if words else "nothing found"


def render_text(findings: Sequence[Finding], texts: Texts, colour: bool) -> str:
    """Path, line, column, severity, rule and message; the line with a caret; the hint; the way to the fault."""
    lines: list[str] = []
    for finding in findings:
        place = clean(str(finding.place))
        mark = _painted(finding.severity.word, finding.severity, colour)
        lines.append(f"{_bold(place, colour)}: {mark} {finding.rule}: {clean(finding.message)}")
        lines += _excerpt(finding, texts, colour)
        if finding.hint:
            lines.append(f"  hint: {clean(finding.hint)}")
        lines += [f"  {number:>3}. {clean(step)}" for number, step in enumerate(finding.trace, start=1)]
    return "".join(line + "\n" for line in lines)


def render_json(findings: Sequence[Finding], texts: Texts, colour: bool) -> str:  # noqa: ARG001 - a row of FORMATS has this shape
    """An array of objects: path, line, column, rule, severity, message; hint and trace where there are any."""
    import json

    rows = [
        {
            "path": f.place.path,
            "line": f.place.line,
            "column": f.place.column,
            "rule": f.rule,
            "severity": f.severity.word,
            "message": clean(f.message),
        }
        | ({"hint": clean(f.hint)} if f.hint else {})
        | ({"trace": [clean(step) for step in f.trace]} if f.trace else {})
        for f in findings
    ]
    return json.dumps(rows, indent=1) + "\n"


def render_github(findings: Sequence[Finding], texts: Texts, colour: bool) -> str:  # noqa: ARG001 - a row of FORMATS has this shape
    """Workflow commands that annotate a change: `::error file=...,line=...,col=...,title=...::message`."""
    words = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
    lines = []
    for f in findings:
        place = (
            f"file={_property(clean(f.place.path))},line={f.place.line},col={f.place.column},title={_property(f.rule)}"
        )
        steps = [f"{number}. {clean(step)}" for number, step in enumerate(f.trace, start=1)]
        said = "\n".join([clean(f.message), *([clean(f.hint)] if f.hint else []), *steps])
        lines.append(f"::{words[f.severity]} {place}::{_escaped(said)}\n")
    return "".join(lines)


FORMATS: Mapping[str, Format] = {
    row.name: row
    for row in (
        Format("text", "for people: the line, a caret, a hint and the way to the fault", render_text),
        Format("json", "for programs: an array of objects", render_json),
        Format("github", "for a build server that annotates changes by workflow commands", render_github),
    )
}


def _excerpt(finding: Finding, texts: Texts, colour: bool) -> list[str]:
    """The source line with a caret below the column; nothing where the text is not at hand."""
    text = texts.get(finding.place.path)
    lines = [] if text is None else text.split("\n")
    if not 1 <= finding.place.line <= len(lines):
        return []
    line = lines[finding.place.line - 1].rstrip("\r").replace("\t", " ").removeprefix("\ufeff")
    column = min(finding.place.column, len(line) + 1) - 1
    start = max(0, column - WIDEST * 2 // 3) if len(line) > WIDEST else 0
    before, after = clean(line[start:column]), clean(line[column : start + WIDEST])
    lead = "... " if start else ""
    tail = " ..." if len(line) > start + WIDEST else ""
    gutter = f"{finding.place.line:>6} | "
    caret = _painted("^", finding.severity, colour)
    return [f"{gutter}{lead}{before}{after}{tail}", f"{'':>6} | {'':>{_width(lead + before)}}{caret}"]


def _width(text: str) -> int:
    """Terminal cells, so that the caret stands under its character: wide characters take two, combining ones none."""
    if text.isascii():
        return len(text)
    from unicodedata import combining, east_asian_width

    return sum(0 if combining(char) else 2 if east_asian_width(char) in "WF" else 1 for char in text)


def _painted(text: str, severity: Severity, colour: bool) -> str:
    codes = {Severity.ERROR: "1;31", Severity.WARNING: "33", Severity.NOTE: "36"}
    return f"\x1b[{codes[severity]}m{text}\x1b[0m" if colour else text


def _bold(text: str, colour: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if colour else text


def _escaped(text: str) -> str:
    """Text of a workflow command on one line."""
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    """A value between the colon and comma of a workflow command."""
    return _escaped(text).replace(":", "%3A").replace(",", "%2C")
