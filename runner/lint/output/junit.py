"""JUnit XML: a file a suite, a finding a case; a file in which nothing was found is one case that passed.

The format has no weight but passed or failed: a finding at or above the fail level is a failure, a lighter one a passed case
with its words as output, so that the list says the same as the exit code. No time is told: nothing here measures any.
"""

from collections.abc import Sequence

from runner.lint.output.form import Texts, files_of, said
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
    """One document, in ASCII: it is the same whatever the terminal's encoding."""
    by_file = files_of(findings, texts)
    suites = [_suite(path, found, failing) for path, found in by_file.items()]
    failures = sum(_fails(finding, failing) for finding in findings)
    tests = sum(max(1, len(found)) for found in by_file.values())
    counts = f'tests="{tests}" failures="{failures}" errors="0"'
    return f'{HEAD}<testsuites name="changeover lint" {counts}>\n{"".join(suites)}</testsuites>\n'


def _suite(path: str, found: list[Finding], failing: Severity | None) -> str:
    name = _attribute(path)
    cases = [_case(name, finding, failing) for finding in found]
    if not cases:
        cases = [f'  <testcase classname="{name}" name="nothing found"/>\n']
    failures = sum(_fails(finding, failing) for finding in found)
    counts = f'tests="{len(cases)}" failures="{failures}" errors="0" skipped="0"'
    return f' <testsuite name="{name}" {counts}>\n{"".join(cases)} </testsuite>\n'


def _case(file: str, finding: Finding, failing: Severity | None) -> str:
    name = _attribute(f"{finding.place.line}:{finding.place.column} {finding.rule}")
    first = f"{finding.place}: {finding.severity.word} {finding.rule}: {finding.message}"
    words = "\n".join(_text(line) for line in (clean(first), *said(finding)[1:]))
    if _fails(finding, failing):
        message = _attribute(finding.message)
        inside = f'<failure type="{finding.severity.word}" message="{message}">{words}</failure>'
    else:
        inside = f"<system-out>{words}</system-out>"
    return f'  <testcase classname="{file}" name="{name}">{inside}</testcase>\n'


def _fails(finding: Finding, failing: Severity | None) -> bool:
    return failing is not None and finding.severity >= failing


def _text(text: str) -> str:
    """Cleaned text between tags. What `clean` makes a picture of holds all that XML 1.0 forbids (section 2.2, Char)."""
    escaped = clean(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return escaped.encode("ascii", "xmlcharrefreplace").decode("ascii")


def _attribute(text: str) -> str:
    return _text(text).replace('"', "&quot;")
