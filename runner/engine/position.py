"""Where a run stands, as far as order goes: small, hashable, and all that `flow` and the path proof look at.

A lane is one of the lists of the phase that is on, counted from 0. Tracked states are indices into the procedure's
states and their values; UNKNOWN meets no need.
"""

from typing import NamedTuple


class Cursor(NamedTuple):
    """The place in one list: the step that is up, and whether it has begun. Past the last step: the list has ended."""

    step: int
    begun: bool = False


class Position(NamedTuple):
    """Place in every list of the phase that is on, values of the tracked states, and who owns what."""

    phase: int
    """Index of the phase; the number of phases where all have ended."""
    cursors: tuple[Cursor, ...]
    states: tuple[int, ...]
    owners: tuple[str, ...]
    """For each state the role that took it, where it has one owner at a time; empty for nobody."""
