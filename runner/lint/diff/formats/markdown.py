"""Differences as Markdown (CommonMark), for a review page: every sign of an author's text that could be markup is escaped."""

from runner.lint.diff.change import Diff
from runner.lint.diff.formats.format import AID, HEADINGS, Format, by_subject, counts, facts, sentence
from runner.procedure.clean import clean

MARKUP = frozenset("\\`*_{}[]()<>#+!|&~^$@:=")
"""ASCII punctuation that CommonMark and its common extensions may take for their own; `-` and `.` act only at a line's start."""


def render(diff: Diff, colour: bool) -> str:  # noqa: ARG001 - a row of FORMATS has this shape
    """The differences as a Markdown document."""
    lines = [
        "# What changed in meaning",
        "",
        f"Old: {plain(diff.old)}  ",
        f"New: {plain(diff.new)}",
        "",
        f"**{counts(diff)}**",
    ]
    for weight, (heading, meaning) in HEADINGS.items():
        changes = diff.of(weight)
        if not changes:
            continue
        lines += ["", f"## {heading} ({len(changes)})", "", meaning]
        for subject, group in by_subject(changes):
            lines += ["", f"### {plain(subject)}", ""]
            for change in group:
                lines.append(f"- **{plain(sentence(change.words))}**")
                lines += [f"  - {word}: {plain(said)}" for word, said in facts(change)]
    return "\n".join([*lines, "", AID]) + "\n"


def plain(text: str) -> str:
    """A text in which nothing is markup."""
    return "".join("\\" + sign if sign in MARKUP else sign for sign in clean(text))


FORMAT = Format("markdown", "the same as Markdown, for a review", render)
