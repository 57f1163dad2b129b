"""Which key presses count: a held key, a barcode reader's burst and a key meant for the screen before do not.

Pure: the time of a key and of the last change of the screen come in as seconds. Terminals send no key-up, so a held
key is known by its train of repeats. Letters of an entry are never dropped one by one: a burst goes as a whole.
"""

from typing import NamedTuple

from runner.say.text import mark

FRESH_S = 0.3
"""An act counts only this long after the screen changed, and after the key before."""
PICKED_S = 0.12
"""Enter so soon behind the number that picked a line is no act: whoever types both does not press them as one chord, and
nobody reads what was picked in less."""
REPEAT_S = 0.7
"""Longer than the pause before a held key begins to repeat (up to 0.66 s by common default; from memory)."""
BURST_S = 0.04
"""No person types the next letter this soon after Enter; a barcode reader does."""
GAP_S = 0.05
"""At most this between two characters of a barcode reader (1 to 10 ms is usual; common practice, no source). A person
who typed on like that would come to 240 words a minute, at five characters a word."""
TRAIN = 4
"""So many characters with such gaps are no person's."""

QUIET_S = 0.15
"""A digit that takes its line by itself does so when nothing has come behind it for so long: then it was no scan."""

TOO_SOON = mark("That key came too soon after the screen changed. Press it again.")
HELD = mark("One press, one step: let go of the key and press it again.")
BURST = mark("Keys came faster than a person types; none of them counted. Type or scan it again.")


class Guard(NamedTuple):
    """What has to be remembered of keys."""

    changed: float = -1e9
    """When the screen last changed to something else to act on."""
    last: float = -1e9
    last_key: str = ""
    acted: float = -1e9
    acted_key: str = ""
    sent: float = -1e9
    """When an entry was last given with Enter."""
    burst: bool = False
    first: float = -1e9
    """When the present train of quick characters began."""
    quick: int = 0
    """How many characters it has."""


def screen_changed(guard: Guard, at: float) -> Guard:
    """The screen shows something else to act on."""
    return guard._replace(changed=at)


def letter(guard: Guard, at: float) -> tuple[Guard, str]:
    """A printing character for an open entry: the guard after it, and why it does not count (empty: it counts)."""
    burst = (guard.burst and at - guard.last < FRESH_S) or at - guard.sent < BURST_S
    return _character(guard, at)._replace(burst=burst), BURST if burst else ""


def stray(guard: Guard, at: float) -> Guard:
    """A printing character where nothing is typed: it does nothing, but an Enter right behind it is no act."""
    return _character(guard, at)


def _character(guard: Guard, at: float) -> Guard:
    glued = guard.last_key == "letter" and at - guard.last < GAP_S
    return guard._replace(
        last=at, last_key="letter", first=guard.first if glued else at, quick=guard.quick + 1 if glued else 1
    )


def scanned(guard: Guard) -> bool:
    """Whether the characters so far came as from a barcode reader."""
    return guard.quick >= TRAIN


def behind(guard: Guard, at: float) -> bool:
    """Whether a key at this time is the end of what a barcode reader sends: glued to a character, or near a burst."""
    return guard.last_key == "letter" and at - guard.last < (FRESH_S if scanned(guard) else GAP_S)


def other(guard: Guard, at: float) -> tuple[Guard, str]:
    """A key that opens, moves or leaves something. Behind a burst it is a part of it, as is what comes behind it."""
    return (guard._replace(last=at), BURST) if behind(guard, at) else (guard, "")


def digit(guard: Guard, key: str, at: float) -> tuple[Guard, str]:
    """A digit that is to take its line by itself: the guard after it, and why it does not count (empty: once it is quiet)."""
    seen = _character(guard, at)
    if guard.last_key == "letter" and at - guard.last < FRESH_S:
        return seen, BURST
    if guard.burst and at - guard.last < FRESH_S:
        return seen, BURST
    if at - guard.changed < FRESH_S:
        return seen, TOO_SOON
    if guard.acted_key == key and at - guard.acted < REPEAT_S:
        return seen, HELD
    return seen._replace(burst=False), ""


def left_view(guard: Guard, at: float) -> Guard:
    """A key that only left a view: what comes in one train with it is no entry and no act."""
    return guard._replace(changed=at, last=at, last_key="letter", burst=True)


def act(guard: Guard, key: str, at: float, typed: bool = False, picked: bool = False) -> tuple[Guard, str]:
    """A key that acts. `typed` is true where an entry with text is given, which follows on its letters at once; `picked`
    where the characters before it were a number that picked a line."""
    seen = guard._replace(last=at, last_key=key)
    if guard.burst and at - guard.last < FRESH_S:
        return seen, BURST
    seen = seen._replace(burst=False)
    if typed and behind(guard, at) and scanned(guard) and guard.first - guard.changed < FRESH_S:
        return seen, BURST  # nobody can have read what is asked; it was scanned for the question before
    if typed:
        return seen._replace(acted=at, acted_key=key, sent=at), ""
    if at - guard.changed < FRESH_S:
        return seen, TOO_SOON
    if guard.last_key == key and at - guard.last < FRESH_S:
        return seen, HELD
    if guard.acted_key == key and at - guard.acted < REPEAT_S:
        return seen, HELD
    if guard.last_key == "letter" and at - guard.last < (PICKED_S if picked and not scanned(guard) else FRESH_S):
        return seen, BURST
    return seen._replace(acted=at, acted_key=key), ""
