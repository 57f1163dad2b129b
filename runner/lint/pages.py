"""The pages of everything that lint can report: its own rules, and the faults that keep a text from compiling.

`changeover rules` and `changeover explain` show these; both kinds look alike to a reader, who need not know which part found it.
"""

from typing import NamedTuple

from runner.lint.rule import all_rules
from runner.procedure.faults import FAULTS
from runner.procedure.faults.row import ERROR, WARNING, FaultRow
from runner.procedure.finding import Severity

FILE_FAULTS = (
    FaultRow(
        "unreadable-file",
        ERROR,
        "The file or folder cannot be read.",
        "What lint cannot read may hold anything, and silence would look like praise.",
        "a file that nobody may open, one that is no UTF-8 text, one larger than 2 MiB",
        "a UTF-8 text file that the user may read",
    ),
    FaultRow(
        "no-longer-counts",
        WARNING,
        "An inspection of lifting gear or a qualification in a site file is past its last day.",
        "A live run refuses to lift with such gear, and to give such a person the role.",
        "crane: {rating: 1000 kg, inspected: 2024-09-14, until: 2025-09-14}",
        "crane: {rating: 1000 kg, inspected: 2026-09-14, until: 2027-09-14}",
    ),
    FaultRow(
        "look-broken-off",
        ERROR,
        "Lint itself failed on the file: a fault of this program, not of the text.",
        "The file has not been looked at to the end, and silence would look like praise.",
        "a text on which the program fails",
        "the same text once the program is mended; until then a smaller file, or the part that it fails on left out",
    ),
)
"""What the command finds without looking at the text, a row each with its page."""


class Entry(NamedTuple):
    """One rule or fault, with its page."""

    id: str
    severity: Severity
    silenceable: bool
    """Whether a comment may allow it."""
    what: str
    why: str
    source: str
    """Empty for a fault of the language: the language itself is the source."""
    wrong: str
    right: str


def every_rule() -> tuple[Entry, ...]:
    """All of them: the rules in the order of their themes, then the faults of texts and of files."""
    entries = []
    for rule in all_rules().values():
        page = rule.page
        entries.append(
            Entry(
                rule.id,
                rule.severity,
                rule.silenceable,
                page.what,
                page.why,
                page.source,
                plain_example(page.wrong),
                page.right,
            )
        )
    for row in (*FAULTS.values(), *FILE_FAULTS):
        silenceable = row.severity is not Severity.ERROR
        entries.append(Entry(row.rule, row.severity, silenceable, row.what, row.why, "", row.wrong, row.right))
    return tuple(entries)


def entry_of(name: str) -> Entry | None:
    """The entry of a rule or fault, None where there is none of the name."""
    return next((entry for entry in every_rule() if entry.id == name), None)


def plain_example(text: str) -> str:
    """A wrong example with the marks in words that a reader understands."""
    return text.replace("# here", "# <- here")


def printed(entry: Entry) -> str:
    """A page as text, for a terminal or a file."""
    silenced = (
        f"A comment may silence it: `# lint: allow {entry.id}, ` and the reason."
        if entry.silenceable
        else "No comment silences it."
    )
    parts = [f"{entry.id} ({entry.severity.word})", entry.what, f"Why: {entry.why}"]
    parts += [f"Source: {entry.source}"] if entry.source else []
    parts += [silenced, f"Wrong:\n{indented(entry.wrong)}", f"Right:\n{indented(entry.right)}"]
    return "\n\n".join(parts) + "\n"


def indented(text: str) -> str:
    """An example set in from the margin."""
    return "\n".join(f"    {line}".rstrip() for line in text.rstrip("\n").split("\n"))
