"""What each leg of a sling carries, and what a sling may carry by the way it is used.

Masses in kilograms, angles in radians **from the horizontal**. A leg flatter than 30 degrees is refused, and four legs
count as three, since a stiff load may leave one slack. A rating is what the plate says; the design factor within it is
never a reserve to use up.
"""

from math import pi, sin

FLATTEST = pi / 6.0
"""30 degrees from the horizontal: flatter slings are not to be used (usnetting.com safety tips, citing ASME B30.9)."""

MODE_FACTORS: dict[str, float] = {
    "vertical": 1.0,
    "choke": 0.8,
    "basket": 2.0,
    "two legs to 90": 1.4,
    "two legs to 120": 1.0,
    "three or four legs to 90": 2.1,
    "three or four legs to 120": 1.5,
    "three or four legs, uneven": 1.4,
}
"""Share of the rating of one leg that a sling may carry, the angle being that between the legs (of four, opposite ones).

Source: uniform load method (cpcsmastery.co.uk/reference/sling-angles-swl); the limit of 90 degrees on 2.1, and 1.5
beyond it, as in EN 818-4, from memory.
"""


def leg_load(load: float, legs: float, angle: float) -> float:
    """Load in each leg of a sling, W / (n sin alpha), in kg, alpha from the horizontal; four legs count as three.

    Source: sling charts (ashleysling.com/calculating-sling-angles), exact form; four legs as three as in the federal
    chain table H-1. Range: load >= 0, legs 1, 2, 3 or 4, 30 to 90 degrees.
    """
    refuse_load(load)
    refuse_angle(angle)
    return load / (legs_that_carry(legs) * sin(angle))


def leg_load_by_height(load: float, legs: float, length: float, height: float) -> float:
    """Load in each leg, W L / (n H), in kg, for legs `length` long whose upper end is `height` above the lower; no angle.

    Source: sling charts as `leg_load`, the same load since H / L is its sine. Range: load >= 0, legs 1 to 4,
    L / 2 <= H <= L, which is 30 to 90 degrees.
    """
    refuse_load(load)
    if length <= 0.0 or height > length:
        raise ValueError("the height under the hook cannot be more than the length of a leg")
    if 2.0 * height < length * (1.0 - ROUNDING):
        raise ValueError("a sling leg flatter than 30 degrees from the horizontal is not to be used")
    return load * (length / height) / legs_that_carry(legs)


def sling_capacity(leg_rating: float, legs: float, angle: float) -> float:
    """What a sling carries at an angle, n R sin alpha, in kg, from the rating of one leg; the inverse of `leg_load`.

    Source: federal chain table H-1, whose cells follow from it. Range as `leg_load`.
    """
    if leg_rating < 0.0:
        raise ValueError("a rating cannot be negative")
    refuse_angle(angle)
    return leg_rating * legs_that_carry(legs) * sin(angle)


def mode_factor(mode: str) -> float:
    """The factor on the rating of one leg for a way to use a sling, out of `MODE_FACTORS`."""
    if mode not in MODE_FACTORS:
        raise ValueError(f"a sling is used in one of these ways: {'; '.join(MODE_FACTORS)}")
    return MODE_FACTORS[mode]


ROUNDING = 1e-12
"""Share by which an angle or a height may miss 30 degrees by rounding alone."""


def legs_that_carry(legs: float) -> float:
    """How many legs may be counted on: 3 out of 4. `ValueError` for what no sling has."""
    if legs not in (1.0, 2.0, 3.0, 4.0):
        raise ValueError("a sling has a whole number of legs, 1 to 4")
    return min(legs, 3.0)


def refuse_load(load: float) -> None:
    """Raise `ValueError` for a negative load."""
    if load < 0.0:
        raise ValueError("a load cannot be negative")


def refuse_angle(angle: float) -> None:
    """Raise `ValueError` unless the leg stands at 30 to 90 degrees from the horizontal."""
    if not 0.0 < angle <= pi / 2.0:
        raise ValueError("the angle of a sling leg lies between 0 and 90 degrees from the horizontal")
    if angle < FLATTEST * (1.0 - ROUNDING):
        raise ValueError("a sling leg flatter than 30 degrees from the horizontal is not to be used")
