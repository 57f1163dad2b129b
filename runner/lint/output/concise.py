"""One line a finding, whatever the finding holds, so that a line is a unit for `grep`, `sort` and editors."""

from collections.abc import Sequence

from runner.lint.output.form import Texts
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
    """`path:line:column: severity rule: message`, without hint and way."""
    return "".join(f"{clean(str(f.place))}: {f.severity.word} {f.rule}: {clean(f.message)}\n" for f in findings)
