"""The tree of a text as it stands, half typed or whole: maps, lists and scalars with their offsets.

Unlike the compiler's nodes these say where everything ends too, and nothing about them can fail. Offsets count characters
of the text from 0; an end is the offset after the last character.
"""

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text, after YAML's quoting and folding. `quote` is empty for a plain one, else its first character."""

    start: int
    end: int
    value: str
    quote: str = ""

    @property
    def inner(self) -> tuple[int, int]:
        """Its offsets without quotes."""
        lead = 1 if self.quote in ("'", '"') else 0
        closed = lead and self.end - self.start >= 2
        return self.start + lead, self.end - 1 if closed else self.end


@dataclass(frozen=True, slots=True)
class Pair:
    """A key with its value. `colon` is the offset of the colon, -1 where none stands yet."""

    key: Scalar
    value: "Tree | None"
    colon: int


@dataclass(frozen=True, slots=True)
class Pairs:
    """A map."""

    start: int
    end: int
    pairs: tuple[Pair, ...]
    braces: bool

    def get(self, key: str) -> "Tree | None":
        """The value of the first pair with this key."""
        return next((pair.value for pair in self.pairs if pair.key.value == key), None)

    def text(self, key: str) -> str:
        """The text under a key; empty where there is none."""
        found = self.get(key)
        return found.value.strip() if isinstance(found, Scalar) else ""


@dataclass(frozen=True, slots=True)
class Entries:
    """A list. An entry is None where nothing stands behind its dash."""

    start: int
    end: int
    entries: "tuple[Tree | None, ...]"
    brackets: bool


Tree: TypeAlias = Scalar | Pairs | Entries


def texts(node: "Tree | None") -> tuple[str, ...]:
    """The texts of a list, or the one text where it stands alone."""
    match node:
        case Scalar():
            return (node.value.strip(),)
        case Entries():
            return tuple(entry.value.strip() for entry in node.entries if isinstance(entry, Scalar))
        case _:
            return ()
