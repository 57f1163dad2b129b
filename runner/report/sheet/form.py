"""What a paper form is made of: the blocks of a report, and the form of a step.

Contents build a `Sheet`, formats turn it into bytes. Texts are plain and not yet cleaned; a format cleans all that it
writes. A box to be ticked begins its line with `BOX`, room to write is a row of underscores.
"""

from dataclasses import dataclass

from runner.report.document import Block

BOX = "[ ] "
BLANK = "________"
LONG_BLANK = "________________"


@dataclass(frozen=True, slots=True)
class CautionForm:
    """What can hurt, in the order of the screen."""

    signal: str
    """danger, warning, caution or notice."""
    words: tuple[str, ...]
    """Hazard, harm, how to avoid it."""


@dataclass(frozen=True, slots=True)
class HoldForm:
    """Where somebody else has to release."""

    who: str
    protects: str
    """The physical protection that the step relies on; may be empty."""
    points: tuple[str, ...]
    """What they confirm."""


@dataclass(frozen=True, slots=True)
class TroubleForm:
    """A row of the side table."""

    sign: str
    do: str
    way_on: str


@dataclass(frozen=True, slots=True)
class SignBox:
    """Room for time and initials, or what the record has of them."""

    what: str
    """Done, Released or Second look, and by whom."""
    time: str = ""
    initials: str = ""


@dataclass(frozen=True, slots=True)
class StepForm:
    """One step on paper, in the order of reading: what comes before the act, the act, what is asked, signatures."""

    number: str
    who: str
    status: str
    """What the record says of it; empty for a step that nothing has happened to."""
    closed: bool
    """True where nothing is left to do."""
    here: bool
    """True for a step that is up in its list."""
    stops: tuple[str, ...]
    """Why nobody may begin it."""
    applies: tuple[str, ...]
    """When it applies, with boxes."""
    cautions: tuple[CautionForm, ...]
    before: tuple[str, ...]
    """How the press must be, with boxes."""
    hold: HoldForm | None
    act: str
    why: str
    asks: tuple[tuple[str, ...], ...]
    """For each ask its lines."""
    after: tuple[str, ...]
    """How the press is then, with boxes; how often again."""
    troubles: tuple[TroubleForm, ...]
    signs: tuple[SignBox, ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins on a page of its own."""


SheetBlock = Block | StepForm | NewPage


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole paper form."""

    title: str
    blocks: tuple[SheetBlock, ...]
    mark: str
    """What nobody may overlook, such as NOT APPROVED; on every page."""
    running: str
    """What a loose page needs to be put back where it belongs; on every page."""
    clean: bool = True
    """False where a worked-out value is out of its limits or has no result."""
