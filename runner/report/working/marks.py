"""How a value stands, as a word with a sign, and which characters a terminal can show. Colour never says it alone.

Every text of a procedure or a job passes `Signs.fit` before it reaches a terminal: through `clean`, and into plain ASCII
where the terminal has nothing more.
"""

from dataclasses import dataclass

from runner.procedure.clean import clean

WORDS: dict[str, str] = {"in": "", "out": "OUT", "held": "HELD", "failed": "NO RESULT"}
"""A word for each verdict; held are pieces out of tolerance that a role may accept."""

PLAIN: dict[str, str] = {
    "×": "x", "·": "*", "−": "-", "–": "-", "—": "-", "≤": "<=", "≥": ">=", "≠": "!=", "π": "pi", "µ": "u", "μ": "u",
    "°": "deg ", "²": "^2", "³": "^3", "⁴": "^4", "⁰": "^0", "¹": "^1", "⁵": "^5", "⁶": "^6", "⁷": "^7", "⁸": "^8",
    "⁹": "^9", "⁻": "^-", "…": "...", "“": '"', "”": '"', "‘": "'", "’": "'", "±": "+/-", "√": "sqrt ",
}  # fmt: skip
"""Signs of the trade and of paper for a terminal that has ASCII alone."""


@dataclass(frozen=True, slots=True)
class Signs:
    """Characters of one kind of terminal."""

    out: str
    """Stands beside a value out of limits."""
    none: str
    """Stands for a value that has no result."""
    across: str
    """A stroke of a limit."""
    upright: str
    corner: str
    tick: str
    level: str
    """A stroke of an axis."""
    bar: str
    plain: bool = False
    """True where nothing but ASCII can be shown."""

    def fit(self, text: str) -> str:
        """A text with no character that acts, or that this terminal cannot show."""
        text = clean(text)
        if not self.plain or text.isascii():
            return text
        text = "".join(PLAIN.get(letter, letter) for letter in text)
        return text.encode("ascii", "replace").decode("ascii")

    def verdict(self, verdict: str) -> str:
        """The sign and word of a verdict; nothing for a value in its limits."""
        word = WORDS.get(verdict, verdict.upper())
        return f"{self.none if verdict == 'failed' else self.out} {word}" if word else ""


UNICODE = Signs("▲", "✕", "╌", "│", "└", "┤", "─", "█")
ASCII = Signs("!", "x", "-", "|", "+", "+", "-", "#", True)


def limit_words(op: str, signs: Signs) -> str:
    """A limit's sign: `<=` for paper or for plain terminals."""
    return op if signs.plain else {"<=": "≤", ">=": "≥"}.get(op, op)
