"""The line that a person types into: text and where the cursor stands. Pure; at most 256 characters, one line."""

from typing import NamedTuple

from runner.procedure.clean import clean

LONGEST = 256


class Line(NamedTuple):
    """What has been typed so far."""

    text: str = ""
    at: int = 0
    refused: bool = False
    """True once it was refused: what is typed next takes its place, so that nothing new hangs on something old."""

    def add(self, more: str) -> "Line":
        """Text put in at the cursor; only the first line of it, and nothing that would act on a terminal."""
        if self.refused and not (self.text[-1:].isdigit() and more[:1].isalpha()):
            return Line().add(more)  # but a letter behind a digit may be the unit that was missing
        more = more.replace("\r", "\n").split("\n", 1)[0]
        more = clean(more)[: LONGEST - len(self.text)]
        return Line(self.text[: self.at] + more + self.text[self.at :], self.at + len(more))

    def edit(self, key: str) -> "Line | None":
        """The line after an editing key, as Textual names it; None where the key edits nothing."""
        text, at = self.text, self.at
        match key:
            case "backspace":
                return Line(text[: max(0, at - 1)] + text[at:], max(0, at - 1))
            case "delete":
                return Line(text[:at] + text[at + 1 :], at)
            case "left":
                return Line(text, max(0, at - 1))
            case "right":
                return Line(text, min(len(text), at + 1))
            case "home":
                return Line(text, 0)
            case "end":
                return Line(text, len(text))
            case "ctrl+u":
                return Line()
            case _:
                return None
