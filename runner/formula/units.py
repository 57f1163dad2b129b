"""Units: the trade's table with exact factors, and unit texts such as `N/m`, `g/m^2`, `kg*m`, `1/s` read from it.

A factor is a quotient of whole numbers, and a decimal number is converted as the quotient that it is, so 9 mm and
0.009 m are the same float and a limit typed in another unit is met exactly. Units are told apart strictly: `lb` is a
mass and `lbf` a force, `bar` is what a gauge shows and `bar_abs` is a point on the absolute scale.
"""

from math import gcd, pi
from typing import NamedTuple

from runner.formula.dimension import (
    ABSOLUTE_PRESSURE,
    ANGLE,
    ENERGY,
    FORCE,
    FORCE_PER_WIDTH,
    LENGTH,
    MASS,
    NUMBER,
    POWER,
    PRESSURE,
    ROTATION,
    SPEED,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VOLUME,
    Dimension,
    combine,
    describe,
)
from runner.formula.fault import Fault, nearest_name

__all__ = ["UNITS", "Dimension", "Unit", "describe", "parse_unit", "shown"]

LONGEST = 40
"""Characters of a unit text."""


class Unit(NamedTuple):
    """A unit: value in SI = value * numerator / divisor + offset, the offset a quotient too."""

    text: str
    numerator: int
    divisor: int
    dimension: Dimension
    offset_numerator: int = 0
    offset_divisor: int = 1

    @property
    def factor(self) -> float:
        """SI units in one of this."""
        return self.numerator / self.divisor

    @property
    def offset(self) -> float:
        """What this unit calls zero, in SI; 0 but for degC and degF."""
        return self.offset_numerator / self.offset_divisor

    def si(self, magnitude: float) -> float:
        """A number of this unit in SI, the float nearest to the decimal number meant; too large gives infinity."""
        top, bottom = quotient(magnitude)
        return nearest_float(
            top * self.numerator * self.offset_divisor + bottom * self.divisor * self.offset_numerator,
            bottom * self.divisor * self.offset_divisor,
        )

    def magnitude(self, si: float) -> float:
        """An SI value as a number of this unit, the inverse of `si`."""
        top, bottom = quotient(si)
        return nearest_float(
            (top * self.offset_divisor - bottom * self.offset_numerator) * self.divisor,
            bottom * self.offset_divisor * self.numerator,
        )


def quotient(number: float) -> tuple[int, int]:
    """The shortest decimal number that is this float, as a quotient of whole numbers. The float must be finite."""
    digits, _, exponent = repr(number).partition("e")
    whole, _, part = digits.partition(".")
    power = int(exponent or "0") - len(part)
    return (int(whole + part) * 10**power, 1) if power >= 0 else (int(whole + part), 10**-power)


def nearest_float(top: int, bottom: int) -> float:
    """A quotient of whole numbers, rounded once; infinite when no float is that large."""
    try:
        return top / bottom
    except OverflowError:
        return float("inf") if (top > 0) == (bottom > 0) else float("-inf")


PI_TOP, PI_BOTTOM = pi.as_integer_ratio()
G_TOP, G_BOTTOM = 980665, 100000  # standard gravity, m/s^2, exact
LB_TOP, LB_BOTTOM = 45359237, 10**8  # pound in kg, exact (1959)

NAMED: tuple[tuple[str, int, int, Dimension], ...] = (
    ("1", 1, 1, NUMBER),
    ("%", 1, 100, NUMBER),
    # lengths; mil and thou are the same, a thousandth of an inch, and never a millimetre
    ("m", 1, 1, LENGTH),
    ("dm", 1, 10, LENGTH),
    ("cm", 1, 100, LENGTH),
    ("mm", 1, 1000, LENGTH),
    ("um", 1, 10**6, LENGTH),
    ("µm", 1, 10**6, LENGTH),
    ("nm", 1, 10**9, LENGTH),
    ("km", 1000, 1, LENGTH),
    ("in", 254, 10000, LENGTH),
    ("ft", 3048, 10000, LENGTH),
    ("yd", 9144, 10000, LENGTH),
    ("mil", 254, 10**7, LENGTH),
    ("thou", 254, 10**7, LENGTH),
    # masses; a pound without more words is a mass
    ("kg", 1, 1, MASS),
    ("g", 1, 1000, MASS),
    ("mg", 1, 10**6, MASS),
    ("t", 1000, 1, MASS),
    ("lb", LB_TOP, LB_BOTTOM, MASS),
    ("oz", LB_TOP, 16 * LB_BOTTOM, MASS),
    # forces
    ("N", 1, 1, FORCE),
    ("mN", 1, 1000, FORCE),
    ("daN", 10, 1, FORCE),
    ("kN", 1000, 1, FORCE),
    ("lbf", LB_TOP * G_TOP, LB_BOTTOM * G_BOTTOM, FORCE),
    ("ozf", LB_TOP * G_TOP, 16 * LB_BOTTOM * G_BOTTOM, FORCE),
    ("kgf", G_TOP, G_BOTTOM, FORCE),
    ("gf", G_TOP, 1000 * G_BOTTOM, FORCE),
    ("pli", LB_TOP * G_TOP * 10000, LB_BOTTOM * G_BOTTOM * 254, FORCE_PER_WIDTH),  # pounds-force per linear inch
    # pressures as a gauge shows them: differences to the air
    ("Pa", 1, 1, PRESSURE),
    ("hPa", 100, 1, PRESSURE),
    ("kPa", 1000, 1, PRESSURE),
    ("MPa", 10**6, 1, PRESSURE),
    ("GPa", 10**9, 1, PRESSURE),
    ("mbar", 100, 1, PRESSURE),
    ("bar", 10**5, 1, PRESSURE),
    ("psi", LB_TOP * G_TOP * 10**8, LB_BOTTOM * G_BOTTOM * 254**2, PRESSURE),
    # pressures on the absolute scale: points
    ("Pa_abs", 1, 1, ABSOLUTE_PRESSURE),
    ("kPa_abs", 1000, 1, ABSOLUTE_PRESSURE),
    ("mbar_abs", 100, 1, ABSOLUTE_PRESSURE),
    ("bar_abs", 10**5, 1, ABSOLUTE_PRESSURE),
    ("psi_abs", LB_TOP * G_TOP * 10**8, LB_BOTTOM * G_BOTTOM * 254**2, ABSOLUTE_PRESSURE),
    # times
    ("s", 1, 1, TIME),
    ("ms", 1, 1000, TIME),
    ("min", 60, 1, TIME),
    ("h", 3600, 1, TIME),
    ("d", 86400, 1, TIME),
    # angles and rotation
    ("rad", 1, 1, ANGLE),
    ("mrad", 1, 1000, ANGLE),
    ("deg", PI_TOP, 180 * PI_BOTTOM, ANGLE),
    ("°", PI_TOP, 180 * PI_BOTTOM, ANGLE),
    ("turn", 2 * PI_TOP, PI_BOTTOM, ANGLE),
    ("rpm", 2 * PI_TOP, 60 * PI_BOTTOM, ROTATION),
    # speeds that have a name of their own
    ("mpm", 1, 60, SPEED),
    ("fpm", 3048, 600000, SPEED),
    # work and power
    ("J", 1, 1, ENERGY),
    ("kJ", 1000, 1, ENERGY),
    ("MJ", 10**6, 1, ENERGY),
    ("Wh", 3600, 1, ENERGY),
    ("kWh", 3600000, 1, ENERGY),
    ("Nm", 1, 1, ENERGY),
    ("W", 1, 1, POWER),
    ("kW", 1000, 1, POWER),
    ("hp", 550 * 3048 * LB_TOP * G_TOP, 10000 * LB_BOTTOM * G_BOTTOM, POWER),  # 550 foot pounds-force a second
    # volumes; the gallon is the US one
    ("L", 1, 1000, VOLUME),
    ("l", 1, 1000, VOLUME),
    ("dL", 1, 10000, VOLUME),
    ("cL", 1, 10**5, VOLUME),
    ("mL", 1, 10**6, VOLUME),
    ("ml", 1, 10**6, VOLUME),
    ("gal", 3785411784, 10**12, VOLUME),
    # temperature differences
    ("K", 1, 1, TEMPERATURE_DIFFERENCE),
    ("delta_degC", 1, 1, TEMPERATURE_DIFFERENCE),
    ("delta_degF", 5, 9, TEMPERATURE_DIFFERENCE),
    # frequency
    ("Hz", 1, 1, Dimension(time=-1)),
)
"""(name, SI units in one of it as numerator and divisor, dimension). Sources: the definitions in NIST SP 811, App. B."""

UNITS: dict[str, Unit] = {
    **{name: Unit(name, top // gcd(top, bottom), bottom // gcd(top, bottom), of) for name, top, bottom, of in NAMED},
    "degC": Unit("degC", 1, 1, TEMPERATURE, 27315, 100),
    "°C": Unit("°C", 1, 1, TEMPERATURE, 27315, 100),
    "degF": Unit("degF", 5, 9, TEMPERATURE, 45967 * 5, 900),
    "°F": Unit("°F", 5, 9, TEMPERATURE, 45967 * 5, 900),
}
"""Every unit that has a name. THE table: reference, did-you-mean and tests read it."""


class Ream(NamedTuple):
    """A ream by which pounds are counted: the papers, and its area as a formula."""

    papers: str
    formula: str


REAMS: tuple[Ream, ...] = (
    Ream("writing papers", "500 * 17 [in] * 22 [in]"),
    Ream("cover papers", "500 * 20 [in] * 26 [in]"),
    Ream("bristol", "500 * 22.5 [in] * 28.5 [in]"),
    Ream("index", "500 * 25.5 [in] * 30.5 [in]"),
    Ream("book papers", "500 * 25 [in] * 38 [in]"),
    Ream("newsprint and kraft", "500 * 24 [in] * 36 [in]"),
    Ream("board", "1000 [ft^2]"),
)
"""Sizes: ivexsp.com and printwiki.org/Grammage; which papers go by which is common practice of the US trade, from memory."""

COMMON_SLIPS: dict[str, str] = {
    "psig": "write psi, which is what a gauge shows",
    "barg": "write bar, which is what a gauge shows",
    "psia": "write psi_abs for an absolute pressure",
    "bara": "write bar_abs for an absolute pressure",
    "C": "write degC for a temperature, K for a difference",
    "F": "write degF for a temperature, delta_degF for a difference",
    "lbs": "write lb for a mass, lbf for a force",
    "#": "write lb for a mass, lbf for a force",
    '"': "write in for inches",
    "''": "write in for inches",
    "'": "write ft for feet",
    "gsm": "write g/m^2",
    "micron": "write um",
    "sec": "write s",
    "hr": "write h",
    "rev": "write turn",
    "pcs": "a number of things has no unit; write 1",
    "kp": "write kgf",
    "gauge": "write um, mil or mm: a gauge number is not a length everywhere",
    "ream": "write lb, and in the formula divide by the area of the ream, as in basis / (500 * 25 [in] * 38 [in])",
    "pt": "write mil (a board point is one mil) or um",
}
"""What people write for a unit that is called otherwise here, and what to write."""

SUPERSCRIPTS = {"²": "2", "³": "3", "⁴": "4"}


def parse_unit(text: str) -> Unit | Fault:
    """A unit text: names joined by `*`, `·` or `⋅` and `/`, each with a whole power 1 to 4 (`^2`, `²`).

    `/` takes only the next name, so `N/m*s` is refused as unclear when a `*` follows a `/`. A temperature or an absolute
    pressure stands alone. The fault's columns are those of `text`.
    """
    stripped = text.strip()
    if stripped in UNITS:
        return UNITS[stripped]
    if len(text) > LONGEST:
        return Fault(LONGEST, len(text), f"a unit is no longer than {LONGEST} characters")
    if not stripped:
        return Fault(0, len(text), "there is no unit", "write 1 for a plain number")
    numerator, divisor, dimension = 1, 1, NUMBER
    sign, divided, start, end = 1, False, len(text) - len(text.lstrip()), len(text.rstrip())
    place = start
    while True:
        factor = read_factor(text, place, end)
        if isinstance(factor, Fault):
            return factor
        unit, exponent, after = factor
        if unit.dimension.point and after - place != end:
            return Fault(
                place, after, f"{unit.text} is a point on a scale and cannot be part of a product", "use K or Pa"
            )
        if unit.text == "1" and not (place == start and text[place:end].replace(" ", "").startswith("1/")):
            return Fault(place, after, "a 1 stands alone or before a /, as in 1/s", "leave it out")
        top, bottom = (unit.numerator, unit.divisor) if sign > 0 else (unit.divisor, unit.numerator)
        numerator, divisor = numerator * top**exponent, divisor * bottom**exponent
        dimension = combine(dimension, unit.dimension, sign * exponent)
        place = after
        while place < end and text[place] == " ":
            place += 1
        if place >= end:
            shared = gcd(numerator, divisor)
            return Unit(stripped, numerator // shared, divisor // shared, dimension)
        if text[place] == "/":
            sign, divided = -1, True
        elif text[place] not in "*·⋅":
            return Fault(
                place, end, f"{shown(text[place])} does not belong here", "join units with * and /, as in kg*m/s^2"
            )
        elif divided:
            return Fault(place, place + 1, "a * after a / is unclear", "write every unit under the line with its own /")
        else:
            sign = 1
        place += 1


def read_factor(text: str, place: int, end: int) -> tuple[Unit, int, int] | Fault:
    """One unit name with its power from `place` on: (unit, power, place after it)."""
    while place < end and text[place] == " ":
        place += 1
    start = place
    while place < end and text[place] not in "*·⋅/^ ²³⁴":
        place += 1
    name = text[start:place]
    unit = UNITS.get(name.replace("\N{GREEK SMALL LETTER MU}", "\N{MICRO SIGN}"))
    if unit is None:
        return unknown(name, start, place, end)
    if place < end and text[place] in SUPERSCRIPTS:
        return unit, int(SUPERSCRIPTS[text[place]]), place + 1
    if place < end and text[place] == "^":
        if place + 1 < end and text[place + 1] in "1234" and (place + 2 == end or not text[place + 2].isalnum()):
            return unit, int(text[place + 1]), place + 2
        return Fault(
            place, end, "a power of a unit is a whole number from 1 to 4", "write a unit below the line after a /"
        )
    return unit, 1, place


def unknown(name: str, start: int, place: int, end: int) -> Fault:
    """The fault for a name that is no unit, with what to write instead where that is known."""
    if not name:
        return Fault(start, max(place, min(start + 1, end)), "a unit is missing here")
    if name in COMMON_SLIPS:
        return Fault(start, place, f"{shown(name)} is no unit here", COMMON_SLIPS[name])
    if name[0].isdigit():
        return Fault(
            start,
            place,
            f"{shown(name)} has a number in it, a unit has none",
            "work it out in a formula, as in x / 3000 [ft^2]",
        )
    if name[:-1] in UNITS and name[-1] in "234":
        return Fault(start, place, f"{shown(name)} is no unit here", f"write {name[:-1]}^{name[-1]}")
    near = nearest_name(name, list(UNITS))
    return Fault(start, place, f"{shown(name)} is no unit here", f"did you mean {near}?" if near else "")


def shown(text: str) -> str:
    """Text of an author inside a message: nothing that does not print."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)
