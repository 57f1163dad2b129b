"""What nobody may overlook about a run: that it was dry, played, or of a procedure that is not approved.

The words are ours alone, so that nothing in a journal can make a practice run look like a live one. A mode that this
program does not know is marked as such.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.engine.events import RunBegun


class Mark(NamedTuple):
    """Short words for the banner, and a sentence that explains them."""

    words: str
    sentence: str


DRY = Mark("DRY RUN", "This was a dry run: practice, not work at the press.")
PLAYED = Mark(
    "PLAYED FROM A FILE",
    "Answers came from a file and the time was stepped: no person answered at a press, and the times measure nothing.",
)
NO_MODE = Mark("MODE NOT KNOWN", "The record does not say whether this was a live run or a dry one.")
DRAFT = Mark("DRAFT PROCEDURE", "The procedure was a draft, not approved for use.")
WITHDRAWN = Mark("WITHDRAWN PROCEDURE", "The procedure had been withdrawn from use.")
NOT_APPROVED = Mark("PROCEDURE NOT APPROVED", "The record does not say that the procedure was approved.")

STATUS_MARKS: Mapping[str, Mark] = {"draft": DRAFT, "withdrawn": WITHDRAWN}

MODES: Mapping[str, str] = {"live": "live run", "dry": "dry run"}


def marks_of(begun: RunBegun | None) -> tuple[Mark, ...]:
    """The marks of a run, gravest first; a live run of an approved procedure has none."""
    if begun is None:
        return (NO_MODE,)
    marks: list[Mark] = []
    if begun.mode == "dry":
        marks.append(DRY)
    elif begun.mode != "live":
        marks.append(NO_MODE)
    if begun.played:
        marks.append(PLAYED)
    if begun.status != "approved":
        marks.append(STATUS_MARKS.get(begun.status, NOT_APPROVED))
    return tuple(marks)


def mode_words(begun: RunBegun | None) -> str:
    """The mode as a fact: `dry run, played from a file`."""
    if begun is None:
        return "not known"
    mode = MODES.get(begun.mode, f"not known ({begun.mode})")
    return f"{mode}, played from a file" if begun.played else mode
