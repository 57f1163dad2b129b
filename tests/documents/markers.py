"""What a document of this folder expects of itself, from its remarks.

`# error: [rule]` stands on the line of the finding, `[rule:12]` also names its column, several are parted by commas;
`warning` and `note` likewise. Where a remark cannot stand on the line, `error at 7:12 [rule]` stands anywhere.
"""

import re
from typing import NamedTuple

HERE = re.compile(r"(error|warning|note): (\[[a-z0-9:-]+\](?:, \[[a-z0-9:-]+\])*)")
ELSEWHERE = re.compile(r"(error|warning|note) at (\d+):(\d+) \[([a-z0-9-]+)\]")


class Expected(NamedTuple):
    """A finding that the document expects; column 0 where none is named."""

    line: int
    column: int
    severity: str
    rule: str


def expected(text: str) -> list[Expected]:
    """All findings that a document expects, in the order of its lines."""
    found: list[Expected] = []
    for number, line in enumerate(text.split("\n"), 1):
        for severity, rules in HERE.findall(line):
            for entry in rules.split(", "):
                rule, _, column = entry.strip("[]").partition(":")
                found.append(Expected(number, int(column or 0), severity, rule))
        for severity, at_line, at_column, rule in ELSEWHERE.findall(line):
            found.append(Expected(int(at_line), int(at_column), severity, rule))
    return sorted(found)
