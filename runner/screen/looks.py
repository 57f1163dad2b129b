"""How a person wants the screen: which palette, whether only plain characters, and how the wish is kept.

Where the wish comes from (an option, the environment, what was kept) is the command line's business.
"""

from collections.abc import Callable
from typing import NamedTuple

from runner.screen.palette import USUAL


def forget(_: str) -> None:
    """Keep nothing."""


class Looks(NamedTuple):
    """What the screen begins with."""

    palette: str = USUAL
    """A name of `runner.screen.palette.PALETTES`."""
    ascii: bool = False
    """True where nothing outside ASCII may be sent to the terminal."""
    colourless: bool = False
    """True where no colour is wanted, whatever is picked."""
    keep: Callable[[str], None] = forget
    """Keeps the name of a palette for the next time; never raises."""
