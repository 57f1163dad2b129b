"""For people: the place, the words, the source line with a caret, the hint and the way to the fault.

Colour is plain ANSI and only used where the caller says that a person at a terminal wants it.
"""

from collections.abc import Sequence

from runner.lint.output.form import Texts
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity

WIDEST = 110
"""Characters of a source line that are shown; a longer one is cut around the fault."""


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
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
