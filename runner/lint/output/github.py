"""Workflow commands that annotate a change: `::error file=...,line=...,col=...,title=...::message`.

Escapes as the build server documents them: `%`, carriage return and line feed everywhere, `:` and `,` also in what stands
between the first colons. A command is one line.
"""

from collections.abc import Sequence

from runner.lint.output.form import Texts, said
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity

WORDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
    """One command a finding."""
    lines = []
    for f in findings:
        properties = {
            "file": clean(f.place.path),
            "line": str(f.place.line),
            "col": str(f.place.column),
            "title": f.rule,
        }
        place = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
        message = "\n".join(said(f))
        lines.append(f"::{WORDS[f.severity]} {place}::{_escaped(message)}\n")
    return "".join(lines)


def _escaped(text: str) -> str:
    """Text of a workflow command on one line."""
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    """A value between the colon and comma of a workflow command."""
    return _escaped(text).replace(":", "%3A").replace(",", "%2C")
