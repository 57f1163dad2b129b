"""What an editor shows beside the text: a head, some sentences, facts and an example, as Markdown or as plain text.

Sentences are ours and may hold code between backticks. Facts are texts of authors: they are cleaned and never become markup.
"""

import re
from dataclasses import dataclass

from runner.procedure.clean import clean

MARKUP = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~&])")
LONGEST = 600
"""Characters of an author's text that are shown."""


@dataclass(frozen=True, slots=True)
class Help:
    """Something to read, as data."""

    head: str
    """A name or a word."""
    what: str = ""
    """What it is, on the head's line."""
    parts: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    """What a fact is called, and the author's words."""
    example: str = ""
    """YAML."""

    def markdown(self) -> str:
        """As Markdown."""
        head = f"**{escaped(self.head)}**" + (f" · {self.what}" if self.what else "")
        blocks = [head, *self.parts]
        if self.facts:
            blocks.append("\n".join(f"- {name}: {escaped(words)}" for name, words in self.facts))
        if self.example:
            fence = "```" if "```" not in self.example else "~~~~"
            blocks.append(f"{fence}yaml\n{clean(self.example, lines=True).rstrip()}\n{fence}")
        return "\n\n".join(blocks)

    def plain(self) -> str:
        """As plain text."""
        blocks = [clean(shortened(self.head)) + (f": {self.what}" if self.what else ""), *self.parts]
        if self.facts:
            blocks.append("\n".join(f"{name}: {clean(shortened(words))}" for name, words in self.facts))
        if self.example:
            blocks.append("\n".join(f"    {line}" for line in clean(self.example, lines=True).rstrip().split("\n")))
        return "\n\n".join(blocks)


def shortened(text: str) -> str:
    """A text on one line, no longer than people read here."""
    text = " ".join(text.split())
    return text if len(text) <= LONGEST else text[: LONGEST - 3] + "..."


def escaped(text: str) -> str:
    """An author's text so that Markdown shows it as it is written."""
    return MARKUP.sub(r"\\\1", clean(shortened(text)))
