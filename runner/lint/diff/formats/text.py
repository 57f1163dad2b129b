"""Differences for a terminal, in 80 columns: what became weaker first, each with why and both places."""

from runner.lint.diff.change import Diff, Weight
from runner.lint.diff.formats.format import AID, HEADINGS, Format, by_subject, counts, facts, sentence
from runner.procedure.clean import clean

WIDTH = 80
COLOURS = {Weight.WEAKER: "31", Weight.MAYBE: "33", Weight.UNTOLD: "33", Weight.CHANGED: "36", Weight.STRONGER: "32"}
"""ANSI colours of headings; the words say the same without them."""


def render(diff: Diff, colour: bool) -> str:
    """The differences as lines."""
    lines = [*hanging("old  ", diff.old), *hanging("new  ", diff.new), "", *hanging("", counts(diff))]
    for weight, (heading, meaning) in HEADINGS.items():
        changes = diff.of(weight)
        if not changes:
            continue
        title = f"{heading.upper()} ({len(changes)})"
        lines += ["", f"\x1b[1;{COLOURS[weight]}m{title}\x1b[0m" if colour else title, *hanging("", meaning)]
        for subject, group in by_subject(changes):
            lines += ["", *hanging("", subject)]
            for change in group:
                lines += hanging("  * ", sentence(change.words))
                for word, said in facts(change):
                    lines += hanging(f"    {word}  ", said)
    return "\n".join([*lines, "", *hanging("", AID)]) + "\n"


def hanging(start: str, text: str) -> list[str]:
    """A text behind a start, in lines that are set in as far as the start reaches; widths are counted in cells."""
    from rich.cells import cell_len, chop_cells

    room = WIDTH - cell_len(start)
    lines: list[str] = []
    line = ""
    for word in clean(text).split():
        joined = f"{line} {word}" if line else word
        if cell_len(joined) <= room:
            line = joined
            continue
        if line:
            lines.append(line)
        *full, line = chop_cells(word, room) or [""]
        lines += full
    lines.append(line)
    return [(start if number == 0 else " " * cell_len(start)) + part for number, part in enumerate(lines)]


FORMAT = Format("text", "for people, in 80 columns", render)
