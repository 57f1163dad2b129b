"""The only table of keys. Bindings, footer, help page and the words of plain mode derive from it.

One key is one act everywhere. Nothing that a barcode reader can send (printing characters, Enter, Tab) releases a
hold, and Enter never both acknowledges and releases. The run page has at most eight keys.
"""

from enum import Enum
from typing import NamedTuple

from runner.say.text import mark


class Action(Enum):
    """What a key asks for."""

    GO_ON = "go on"
    HELP = "help"
    UNEXPECTED = "unexpected"
    PAUSE = "pause"
    SAFE = "safe"
    RELEASE = "release"
    PLACES = "places"
    WORKING = "working"
    SIDE = "side"
    BACK = "back"
    UP = "up"
    DOWN = "down"
    PAGE_UP = "page up"
    PAGE_DOWN = "page down"
    FAR = "far"
    LOOK = "look"
    HINT = "hint"
    COACH = "coach"


class Key(NamedTuple):
    """One row of the table."""

    key: str
    """As Textual names it."""
    cap: str
    """As it stands on the keyboard."""
    action: Action
    label: str
    """For the footer, at most 15 characters."""
    word: str
    """The command in plain mode."""
    help: str
    """One sentence for the help page."""
    slot: tuple[int, int] = (0, 0)
    """Row and column in the footer; a key is always at its place."""
    short: str = ""
    """The label where the terminal is narrow; empty where the usual one fits."""
    elsewhere: tuple[str, ...] = ()
    """What it is called on pages where it leads to something else; its place has room for these too."""


KEYS: tuple[Key, ...] = (
    Key("enter", "Enter", Action.GO_ON, mark("go on"), "go",
        mark("The next thing, as the bottom line says: cautions read, begin, give the answer, done. You confirm what you saw and did."), (0, 0)),
    Key("f1", "F1", Action.HELP, mark("help"), "help", mark("This page. What you see and what the keys do."), (0, 3)),
    Key("f2", "F2", Action.UNEXPECTED, mark("not as expected"), "not",
        mark("Something is not as the step says: pick the trouble, or note it in your words. As easy as Enter, on purpose."), (0, 1), mark("unexpected")),
    Key("f3", "F3", Action.PAUSE, mark("pause, leave"), "pause",
        mark("Interrupt the run, hand a role over, or end the run unfinished. Your place is kept."), (0, 2), mark("pause")),
    Key("f4", "F4", Action.SAFE, mark("STOP, make safe"), "safe",
        mark("Stop and make safe, at once and past every hold. Shows the list for this phase. It moves nothing itself: you do."), (1, 0)),
    Key("f5", "F5", Action.RELEASE, mark("release hold"), "release",
        mark("On the hold page only: the releasing person, not the one who does the step, releases the hold."), (0, 1), mark("release")),
    Key("f6", "F6", Action.PLACES, mark("steps"), "steps",
        mark("All steps with their marks. Look ahead or back without losing the place; go back, correct or leave out from there."), (1, 1)),
    Key("f7", "F7", Action.WORKING, mark("values, states"), "values",
        mark("Today's values with formula, numbers and limits; what the press is taken for, and where you say what you see."), (1, 2), mark("values")),
    Key("tab", "Tab", Action.SIDE, mark("other side"), "side",
        mark("The other person's list; on the values page, the states."), (1, 3), mark("other"), (mark("states"), mark("values"))),
    Key("escape", "Esc", Action.BACK, mark("back"), "back", mark("Back to where you were. Nothing is changed."), (0, 2)),
    Key("up", "Up", Action.UP, mark("up"), "up", mark("Up in a list or a long text.")),
    Key("down", "Down", Action.DOWN, mark("down"), "down", mark("Down in a list or a long text.")),
    Key("pageup", "PgUp", Action.PAGE_UP, mark("page up"), "page-up", mark("A screenful up.")),
    Key("pagedown", "PgDn", Action.PAGE_DOWN, mark("page down"), "page-down", mark("A screenful down.")),
    Key("f8", "F8", Action.FAR, mark("far view"), "far",
        mark("The step, its act and the value to set in letters that can be read from three metres. Any key leads back.")),
    Key("f9", "F9", Action.LOOK, mark("colours"), "look",
        mark("The next colours: dark, light, high contrast, none. What is picked is kept for the next time.")),
    Key("f10", "F10", Action.HINT, mark("hint, time"), "hint",
        mark("In a dry run with a scenario: the next hint (it is counted), why a step is done, or through a wait at once.")),
    Key("f12", "F12", Action.COACH, mark("coach"), "coach",
        mark("In a dry run with a scenario, for the coach: ask a question and judge the answer, or stop the dry run.")),
)  # fmt: skip
"""In the order of the help page. Two keys share a slot only where no page has both."""

PAGES: dict[str, tuple[Action, ...]] = {
    "run": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.PAUSE, Action.SAFE, Action.PLACES, Action.WORKING,
            Action.SIDE),
    "hold": (Action.GO_ON, Action.HELP, Action.SAFE, Action.RELEASE, Action.BACK),
    "places": (Action.GO_ON, Action.HELP, Action.SAFE, Action.SIDE, Action.BACK),
    "working": (Action.GO_ON, Action.HELP, Action.SAFE, Action.SIDE, Action.BACK),
    "looks": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.SAFE, Action.SIDE, Action.BACK),
    "form": (Action.GO_ON, Action.HELP, Action.SAFE, Action.BACK),
    "halted": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.PAUSE, Action.SAFE, Action.PLACES, Action.WORKING),
    "finish": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.PAUSE, Action.SAFE, Action.PLACES, Action.WORKING),
    "carried": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.PAUSE, Action.SAFE, Action.PLACES, Action.WORKING),
    "over": (Action.GO_ON, Action.HELP, Action.UNEXPECTED, Action.PLACES, Action.WORKING),
    "review": (Action.GO_ON, Action.HELP, Action.BACK),
    "broken": (Action.GO_ON,),
    "lost": (Action.GO_ON, Action.HELP, Action.SAFE, Action.BACK),
    "help": (Action.GO_ON, Action.SAFE, Action.BACK),
    "start": (Action.GO_ON, Action.HELP, Action.BACK),
    "home": (Action.GO_ON, Action.HELP, Action.BACK),
}  # fmt: skip
"""The keys of each page. Stop and make safe is on every page of an open run."""

MOVES = (Action.UP, Action.DOWN, Action.PAGE_UP, Action.PAGE_DOWN)
"""Moving about in a list or a text: on every page, not in the footer."""

SIGHT = (Action.FAR, Action.LOOK)
"""How the screen is seen: they change nothing of the run, work beside what is typed, and are not in the footer."""

LESSON = (Action.HINT, Action.COACH)
"""Of a dry run with a scenario alone, on every page of it, and not in the footer."""


def key_for(action: Action) -> Key:
    """The row of an action."""
    return next(key for key in KEYS if key.action is action)


def action_of(pressed: str) -> Action | None:
    """The action of a key as Textual names it; None for a key that means nothing."""
    return next((key.action for key in KEYS if key.key == pressed), None)


def action_for_word(word: str) -> Action | None:
    """The action of a command word of plain mode."""
    return next((key.action for key in KEYS if key.word == word.lower()), None)
