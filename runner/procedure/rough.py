"""The author's rough check of a calculation: the same result by a simpler way, worked out each time beside the formula.

The two agree where they differ by no more than a stated share of the larger. Where they do not, one of them is wrong, and
nobody can say which: the value does not count.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate
from runner.formula.fault import Fault
from runner.formula.quantity import show
from runner.formula.scope import Scope
from runner.formula.units import Unit
from runner.procedure.model import RoughCheck
from runner.say.text import say

COARSE = 0.02
"""A check that may differ by more than this is shown with two digits, since the others say nothing."""


class Compared(NamedTuple):
    """What the rough check says."""

    agrees: bool
    words: str
    about: str
    """The rough value as shown; empty where there is none."""


def compare(check: RoughCheck, value: float, unit: Unit, values: Mapping[str, Value], scope: Scope) -> Compared:
    """The rough check beside the result of the formula, before rounding."""
    found = evaluate(check.formula, values, scope)
    if isinstance(found, Fault):
        return Compared(False, say("rough check cannot be worked out: {why}", why=found.message), "")
    rough, share = float(found), f"{100 * check.within:.6g} %"
    about = about_words(rough, unit, 2 if check.within > COARSE else 4)
    agrees = abs(rough - value) <= check.within * max(abs(rough), abs(value)) * (1 + 1e-9)
    if agrees:
        return Compared(
            True,
            f"{say('rough check')}: {say('about {about}, agrees within {share}', about=about, share=share)}",
            about,
        )
    differs = say("about {about}, DIFFERS by more than {share}", about=about, share=share)
    return Compared(False, f"{say('rough check')}: {differs}", about)


def about_words(value: float, unit: Unit, digits: int) -> str:
    """A value with so many digits and zeros after them: 593.2 kg is about 590 kg."""
    return show(unit.si(float(f"{unit.magnitude(value):.{digits - 1}e}")), unit)
