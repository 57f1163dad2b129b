"""What friction holds: a web on a roller that it wraps, a core on the leaves of its chuck.

Friction coefficients are plain numbers that belong to two surfaces as they are today; they are arguments, never a
default. A web that carries air with it has less than any table says.
"""

from math import exp


def capstan_ratio(friction: float, wrap: float) -> float:
    """Largest ratio of the pulls before and after a bar without slip, e^(mu beta), wrap in rad.

    Source: Euler and Eytelwein, in any handbook of mechanics. Range: both >= 0; not valid once air gets under the web.
    """
    if friction < 0.0 or wrap < 0.0:
        raise ValueError("friction and wrap cannot be negative")
    return exp(friction * wrap)


def slips(one: float, other: float, friction: float, wrap: float) -> bool:
    """Whether the pulls on both sides of a roller (alike in unit, in either order) are too unequal for its friction.

    larger > smaller * e^(mu beta); just equal still holds. Range: pulls >= 0, else as `capstan_ratio`.
    Use for webs: convertingblog.com/archives/000054.html.
    """
    if min(one, other) < 0.0:
        raise ValueError("a web cannot push: its tension cannot be negative")
    return max(one, other) > min(one, other) * capstan_ratio(friction, wrap)


def chuck_torque(leaf_force: float, leaves: float, friction: float, bore: float) -> float:
    """Torque that an expanding chuck holds by friction, M = mu n F d / 2, in N m, for n leaves in a core of bore d (m).

    `leaf_force` (N) is what one leaf presses outwards; leaves of both chucks count where both hold. Source: Coulomb
    friction on the bore of the core; common practice, no source for the sum over leaves. Range: leaf_force, friction,
    bore >= 0, leaves a whole number from 1. A core that is crushed or oily holds less.
    """
    if min(leaf_force, friction, bore) < 0.0:
        raise ValueError("force, friction and bore of a chuck cannot be negative")
    if leaves < 1.0 or leaves != int(leaves):
        raise ValueError("the number of leaves must be a whole number, 1 or more")
    return friction * leaves * leaf_force * bore / 2.0
