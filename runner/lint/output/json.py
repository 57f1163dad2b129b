"""For programs: an array of objects. Keys are added at the end and never renamed, moved or removed; all text is ASCII."""

import json
from collections.abc import Sequence

from runner.lint.output.form import Texts
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
    """Path as given, line, column, rule, severity, message; hint and trace where there are any."""
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
