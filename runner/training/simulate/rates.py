"""How often things go otherwise in a simulated run, and how long acts take. Common practice, no source: set so that ten
thousand runs meet everything; they say nothing about a real crew."""

from typing import NamedTuple


class Rates(NamedTuple):
    """Chances of each kind of departure, each time that it could come about."""

    trouble: float = 0.012
    """A step in progress meets one of its troubles."""
    out: float = 0.02
    """An answer is out of limits."""
    out_again: float = 0.5
    """So is the one after it."""
    left_out: float = 0.2
    """An optional step is left out."""
    interrupted: float = 0.002
    """The run is paused, or stopped and made safe, before an act."""
    back: float = 0.002
    """A person goes back to an earlier step when one ends."""
    differs: float = 0.03
    """Two independent looks differ."""
    not_allowed: float = 0.05
    """A job comes first that the procedure may not allow."""
    corrected: float = 0.002
    """An answer is corrected."""


PLAIN = Rates(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""Nothing goes otherwise but what the job and the answers bring."""

ACT_S = 3.0
"""An act of a person at the screen."""
INTERRUPTION_S = (120.0, 1200.0)
"""How long a pause lasts."""
SHORTEST, LONGEST = 0.7, 1.6
"""Shares of the expected time between which a step takes, most likely the expected one (a triangle)."""
UNSAID_S = 60.0
"""Of a step whose author does not say how long it takes."""
