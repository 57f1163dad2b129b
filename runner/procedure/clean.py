"""Text from outside made fit for a terminal: characters that act instead of showing become visible pictures.

Nothing that a file, a journal, a scanner or a person has sent may move a cursor, turn the reading direction or
hide. Procedures that hold such characters are refused; everything else passes here before it is shown.
"""

import re

# C0 without tab and line feed, DEL, C1, soft hyphen, zero-width and bidi controls, line and paragraph separators,
# interlinear marks, half surrogates, the two last code points of the first plane, invisible tag characters.
UNFIT_CLASS = (
    "\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u061c\u115f\u1160\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f"
    "\u3164\ufeff\ufff9-\ufffb\ud800-\udfff\ufffe\uffff\U000e0000-\U000e007f"
)
UNFIT = re.compile(f"[{UNFIT_CLASS}]")
"""A character that never stands in an author's text (a carriage return before a line feed is taken as line end first)."""

NOT_SHOWN = re.compile(f"[\t\n{UNFIT_CLASS}]")


def picture(character: str) -> str:
    """One unfit character as something to look at: `\\x1b` gives `␛`, U+202E gives `‹U+202E›`."""
    code = ord(character)
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "␡"
    return f"‹U+{code:04X}›"


def clean(text: str, lines: bool = False) -> str:
    """The text with every unfit character shown as a picture; with `lines`, line feeds stay line feeds."""
    if NOT_SHOWN.search(text) is None:
        return text
    if lines:
        return "\n".join(clean(line) for line in text.split("\n"))
    return NOT_SHOWN.sub(lambda found: picture(found.group()), text)


def is_clean(text: str) -> bool:
    """True where `clean` would change nothing."""
    return NOT_SHOWN.search(text) is None
