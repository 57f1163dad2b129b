"""What is wrong with a formula or a unit, as data: columns inside the text, what is wrong, what to do about it."""

from typing import NamedTuple


class Fault(NamedTuple):
    """A fault in the half-open columns `start` to `end` (from 0) of a formula's or unit's text.

    `message` says what is wrong and `hint`, when there is one, what to write instead.
    """

    start: int
    end: int
    message: str
    hint: str = ""


def nearest_name(word: str, known: "list[str] | tuple[str, ...]") -> str:
    """The known name that `word` was probably meant to be, or "" (case apart, or a few letters wrong)."""
    for name in known:
        if name.lower() == word.lower():
            return name
    import difflib  # only for a message, and slow to load

    close = difflib.get_close_matches(word, known, n=1, cutoff=0.7)
    return close[0] if close else ""
