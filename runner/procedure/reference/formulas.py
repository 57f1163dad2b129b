"""Operators, functions, constants and units as Markdown, from the tables of the formula package."""

from runner.formula.dimension import Dimension, describe
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.syntax import BINDING
from runner.formula.units import COMMON_SLIPS, REAMS, UNITS

OPERATORS = {
    "^": "power; the exponent is a whole number from -4 to 4",
    "negate": "minus before a value, as in `-x`; `-x^2` is `-(x^2)`",
    "*": "product",
    "/": "quotient",
    "+": "sum",
    "-": "difference",
    "==": "equal, also of texts",
    "!=": "not equal, also of texts",
    "<": "less",
    "<=": "less or equal",
    ">": "greater",
    ">=": "greater or equal",
    "not": "true where what follows is false",
    "and": "true where both are",
    "or": "true where one is",
}
"""What each operator of the precedence table does."""


TOLD_APART = (
    "Units are told apart strictly. A mass (`kg`, `lb`) is no force (`N`, `lbf`): its weight is the mass times `g_n`. What a gauge "
    "shows (`bar`) is no absolute pressure (`bar_abs`). `degC` is a point on a scale, a difference is in `K` or `delta_degC`. An "
    "angle is a dimension of its own, so `rpm` and `rad/s` convert by 2 pi and neither is a `1/min` or a `1/s`: a surface speed is "
    "`turning * pi * diameter / 1 [turn]` or `turning * radius / 1 [rad]`, and `turning * diameter` alone is refused. Pounds are no "
    "grammage: an input in `lb` becomes one when a formula divides it by the area of its ream."
)
"""What people take for one another."""


def operators() -> str:
    """The operators, those that bind most strongly first."""
    parts = [
        (
            "Operators, those that bind most strongly first. Those in one row bind equally, and are worked out from left to right: "
            "`a / b * c` is `(a / b) * c`, and `a - b + c` is `(a - b) + c`. Powers and comparisons are not chained: write `(x^2)^2`, and "
            "`a < b and b < c`."
        ),
        "",
        "| operators | are |",
        "|---|---|",
    ]
    for strength in sorted(set(BINDING.values()), reverse=True):
        row = [sign for sign in OPERATORS if BINDING[sign] == strength]
        signs = " ".join(f"`{'-' if sign == 'negate' else sign}`" for sign in row)
        parts.append(f"| {signs} | {'; '.join(OPERATORS[sign] for sign in row)} |")
    return "\n".join(parts)


def functions() -> str:
    """The functions and constants. An argument in brackets may be left out."""
    parts = [
        (
            "Functions. An argument in brackets may be left out, `...` stands for more of the same. A table, a column and a web path are "
            "named plainly, a roller in quotes."
        ),
        "",
        "| function | gives | example |",
        "|---|---|---|",
    ]
    parts += [f"| `{one.usage}` | {one.doc} | `{one.example}` |" for one in FUNCTIONS.values()]
    parts += ["", "Constants:", "", "| name | is |", "|---|---|"]
    parts += [f"| `{one.name}` | {one.shown}. {one.doc} |" for one in CONSTANTS.values()]
    return "\n".join(parts)


def units() -> str:
    """The units by dimension, how to join them, and what to write for common slips."""
    by_dimension: dict[Dimension, list[str]] = {}
    for name, unit in UNITS.items():
        by_dimension.setdefault(unit.dimension, []).append(f"`{name}`")
    parts = [
        "## Units",
        "",
        (
            "Join units with `*` and `/` and give them powers with `^`: `N/m`, `g/m^2`, `kg*m/s^2`, `m/min`, `1/s`. `1` is the unit of a pure "
            "number. Names are spelled exactly, capitals too."
        ),
        "",
        "| for | units |",
        "|---|---|",
    ]
    parts += [f"| {describe(dimension)} | {' '.join(names)} |" for dimension, names in by_dimension.items()]
    parts += ["", TOLD_APART, "", "| pounds of a ream of | divide by |", "|---|---|"]
    parts += [f"| {ream.papers} | `{ream.formula}` |" for ream in REAMS]
    parts += ["", "Often written otherwise:", "", "| not | but |", "|---|---|"]
    parts += [f"| `{slip}` | {words} |" for slip, words in COMMON_SLIPS.items()]
    return "\n".join(parts)
