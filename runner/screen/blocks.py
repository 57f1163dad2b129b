"""What a page is made of: plain data that both the full screen and the plain line-by-line mode show.

A block holds text that a person reads, never markup. An ink names what a text means (an abnormal thing, a quiet
remark); what it looks like is the palette's business, and no meaning is carried by the ink alone.
"""

from enum import Enum
from typing import NamedTuple

from runner.screen.keys import PAGES, Action
from runner.trade.web_path import WebPath


class Ink(Enum):
    """What a text means; the palette says how it looks, plain mode leaves it out."""

    PLAIN = "plain"
    STRONG = "strong"
    QUIET = "quiet"
    LABEL = "label"
    BAND = "band"
    RULE = "rule"
    KEY = "key"
    ENTRY = "entry"
    CHOSEN = "chosen"
    GOOD = "good"
    ABNORMAL = "abnormal"
    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"
    DRY = "dry"


class Say(NamedTuple):
    """A paragraph, with a short label in front where it has one."""

    text: str
    label: str = ""
    ink: Ink = Ink.PLAIN


class Heading(NamedTuple):
    """The name of a part of the page."""

    text: str


class Big(NamedTuple):
    """The one thing to be read from a distance."""

    label: str
    text: str


class CautionBlock(NamedTuple):
    """What can hurt, how, and how to avoid it."""

    signal: str
    hazard: str
    harm: str
    avoid: str
    brief: bool = False
    """True once it has been read: kept in sight, in as few lines as hold hazard and avoidance."""


class Act(NamedTuple):
    """The instruction of a step, with its number, its mark and who does it."""

    number: str
    text: str
    mark: str
    word: str
    who: str


class Row(NamedTuple):
    """One line of a list: mark and word say how it stands."""

    text: str
    mark: str = ""
    word: str = ""
    ink: Ink = Ink.PLAIN
    cut: bool = False
    """True where one line has to do: the text is cut instead of going on in the next line."""
    spare: str = ""
    """Behind a text that may be cut, where the line has room for all of it."""


class Rows(NamedTuple):
    """Lines of a list. `cursor` is the chosen one, None where nothing is chosen yet; numbered ones are picked by digit."""

    rows: tuple[Row, ...]
    cursor: int | None = None
    numbered: bool = False


class Fact(NamedTuple):
    """A name, its value and a remark."""

    label: str
    value: str
    note: str = ""
    ink: Ink = Ink.PLAIN


class Facts(NamedTuple):
    """Names and values in columns."""

    rows: tuple[Fact, ...]


class Gap(NamedTuple):
    """An empty line."""


class Drawing(NamedTuple):
    """The side view of a web path; the first `done` rollers are threaded, None where nothing is being threaded."""

    path: WebPath
    done: int | None = None
    plain: bool = False
    """True where it is drawn in ASCII."""
    rows: int = 0
    """Rows that there are for it; 0: as many as its shape wants, and a line for each roller below it."""


class Hanging(NamedTuple):
    """Pieces as they hang at the ends, seen from the side."""

    ends: tuple[tuple[tuple[str, int], ...], ...]
    """For each end, (piece, how many), the heaviest first."""
    unit: str
    plain: bool = False
    """True where it is drawn in ASCII."""
    brief: bool = False
    """True where there is room for few lines."""


class Far(NamedTuple):
    """What is read from across the press hall: nothing but the step, its state, its act and what is to be set."""

    number: str
    state: str
    act: str
    values: tuple[tuple[str, str], ...] = ()
    """Name and value with unit, most wanted first; shown as far as there is room."""
    loud: bool = False
    """True where the state is something abnormal."""
    mark: str = ""
    """The sign of the state; what is abnormal has an exclamation mark."""


class Dial(NamedTuple):
    """A dial gauge of a dry run, to be read by the trainee."""

    value: float
    low: float
    high: float
    unit: str
    plain: bool = False
    """True where it is drawn in ASCII."""


Block = Say | Heading | Big | CautionBlock | Act | Rows | Facts | Gap | Drawing | Hanging | Dial


class Entry(NamedTuple):
    """What is to be typed. `free` is true where any words are an answer, so that commands need a slash in plain mode."""

    question: str
    unit: str = ""
    limits: str = ""
    free: bool = False
    optional: bool = False
    """True where it may be given empty."""
    secret: bool = False
    """True where what is typed is not shown."""


class Sheet(NamedTuple):
    """A page as it is shown now."""

    page: str
    """Which page it is, a key of `runner.screen.keys.PAGES`."""
    title: str
    blocks: tuple[Block, ...]
    go: str = ""
    """What Enter does now; empty where it does nothing."""
    word: str = "go"
    """What is typed for it in plain mode, where an empty line does nothing: an act has a word of its own."""
    entry: Entry | None = None
    without: tuple[Action, ...] = ()
    """Keys of the page that do nothing now."""
    subject: str = ""
    """What an act on this page is about, the step's id for instance: an act counts only for what was on the screen."""

    spare: tuple[Block, ...] = ()
    """Shown under the blocks where there is room for all of it."""
    beside: tuple[Block, ...] = ()
    """Shown beside the blocks on a wide terminal, above what stands there anyway."""
    loud: bool = False
    """True where the page itself is something abnormal: a halt, a hold."""
    words: bool = False
    """True where a list may also be answered with the words of a line (plain mode)."""
    pinned: int = 0
    """How many of the first blocks stay in sight while the rest scrolls."""
    secret: bool = False
    """True where the next person must not see what was said last."""
    quick: bool = False
    """True where a digit alone picks and takes its line (full screen); nothing is chosen beforehand."""

    also: tuple[Action, ...] = ()
    """Keys that it answers to beside those of its page."""
    named: tuple[tuple[Action, str], ...] = ()
    """What a key is called here where it is something else than on other pages."""

    @property
    def answers(self) -> tuple[Action, ...]:
        """All keys that it answers to now."""
        return (*self.keys, *self.also)

    @property
    def keys(self) -> tuple[Action, ...]:
        """The keys that the page answers to now."""
        off = self.without if self.go else (*self.without, Action.GO_ON)
        return tuple(action for action in PAGES[self.page] if action not in off)
