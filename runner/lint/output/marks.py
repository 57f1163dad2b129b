"""A mark for every finding that stays the same when lines are put in or taken out elsewhere.

It is made of the rule and of the words on the line, not of the line's number, the message (which may name other lines) or
the path (which readers compare by themselves). Findings that would be alike are counted in their order.
"""

from collections import Counter
from collections.abc import Sequence

from runner.lint.output.form import Texts
from runner.procedure.digest import sha256_of
from runner.procedure.finding import Finding


def marks(findings: Sequence[Finding], texts: Texts) -> list[str]:
    """32 hexadecimal digits, a colon and a count, for each finding in order."""
    split = {path: texts.get(path, "").split("\n") for path in {finding.place.path for finding in findings}}
    seen: Counter[tuple[str, str]] = Counter()
    found = []
    for finding in findings:
        lines = split[finding.place.path]
        line = lines[finding.place.line - 1] if finding.place.line <= len(lines) else ""
        words = " ".join(line.split())
        mark = sha256_of(f"{finding.rule}\n{words}".encode("utf-8", "surrogatepass"))[:32]
        seen[finding.place.path, mark] += 1
        found.append(f"{mark}:{seen[finding.place.path, mark]}")
    return found
