"""Published figures for powered movement with a guard open, as data: what a site without figures of its own is told.

They are those that the British HSE publishes for printing machinery ("Control definitions"), taken over from an excerpt; a site's
own figures, the manual of the machine and the standards that it was built to come first. All ask for hold-to-run control.
"""

from typing import TYPE_CHECKING, NamedTuple

from runner.formula.dimension import LENGTH, SPEED, Dimension

if TYPE_CHECKING:
    from runner.procedure.site import Motion

SOURCE = "HSE, Printing machinery, Control definitions"


class HeldMotion(NamedTuple):
    """One way of moving a press while a button is held."""

    name: str
    dimension: Dimension
    most: float
    """SI: m or m/s."""
    shown: str
    first: bool
    """True for the figures that come first; the others only where those defeat the work and nothing grows much more dangerous."""


FIGURES = (
    HeldMotion("true inch", LENGTH, 0.025, "25 mm each time the button is pressed", first=True),
    HeldMotion("limited inch", LENGTH, 0.075, "75 mm each time the button is pressed", first=False),
    HeldMotion("slow crawl", SPEED, 1 / 60, "1 m/min", first=True),
    HeldMotion("fast slow crawl", SPEED, 5 / 60, "5 m/min", first=False),
)
"""Continuous crawl, with nobody holding a button, is another thing: it needs trip or nip bars, and none of these figures."""


FIRST = " or ".join(row.shown for row in FIGURES if row.first)


def figures_of(motion: "Motion | None") -> tuple[HeldMotion, ...]:
    """The figures that count: the site's own, and published ones for what it does not say."""
    if motion is None:
        return FIGURES
    own = ((LENGTH, motion.distance), (SPEED, motion.speed))
    rows = tuple(HeldMotion("own", kind, given[0], given[1], first=True) for kind, given in own if given is not None)
    said = {row.dimension for row in rows}
    return (*rows, *(row for row in FIGURES if row.dimension not in said))


def sourced(motion: "Motion | None") -> str:
    """The figures that come first, with their source, as a hint tells them."""
    if motion is None:
        return f"published: {FIRST} ({SOURCE})"
    own = " or ".join(given[1] for given in (motion.distance, motion.speed) if given is not None)
    return f"here: {own} ({motion.source}, {motion.date})" if own else f"published: {FIRST} ({SOURCE})"
