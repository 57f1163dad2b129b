"""Generated formulas, sound and broken: parsed, checked, worked out and bounded; nothing raised, infinite, not a number or slow."""

from math import isfinite
from random import Random
from time import process_time

import pytest

from runner.formula.check import check
from runner.formula.enclose import bounds
from runner.formula.evaluate import evaluate
from runner.formula.explain import text_of
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.interval import Interval
from runner.formula.kinds import Quantity
from runner.formula.scope import EMPTY
from runner.formula.syntax import parse
from runner.formula.units import UNITS, parse_unit

MOST_SECONDS = 0.01
"""Of this process for one formula."""
UNITS_TRIED = ("mm", "kg", "N/m", "g/m^2", "1", "rpm", "bar", "degC", "deg", "min", "lb", "nonsense", "m/m", "kg^-3")
NAMES = {"width": "mm", "pull": "N", "mass": "kg", "share": "1", "warm": "degC"}
BROKEN = (
    "",
    "(",
    ")",
    "**",
    "..",
    "3 [",
    "[mm]",
    ",",
    "width width",
    "=",
    "==",
    "and",
    "lookup(",
    "'",
    "\\",
    "1e400",
    "-" * 40,
    "(" * 70,
)
FEW, MANY = range(4), range(4, 200)
EACH = 5000


def written(random: Random, depth: int) -> str:
    """A formula of random parts; about one in ten parts is broken or of the wrong kind."""
    if depth <= 0 or random.random() < 0.2:
        kind = random.randrange(8)
        if kind == 0:
            return random.choice(BROKEN)
        if kind < 4:
            return random.choice((*NAMES, "pi", "g_n", "nothing"))
        number = f"{random.choice((0, 1, 2, 3.5, 1e-9, 1e9, 250, 1e300)):g}"
        return number if kind < 6 else f"{number} [{random.choice(UNITS_TRIED)}]"
    kind = random.randrange(6)
    if kind == 0:
        name = random.choice(tuple(FUNCTIONS))
        parts = ", ".join(written(random, depth - 1) for _ in range(random.randint(0, 4)))
        return f"{name}({parts})"
    if kind == 1:
        return f"({written(random, depth - 1)})^{random.randint(-4, 6)}"
    if kind == 2:
        return f"{random.choice(('-', 'not '))}{written(random, depth - 1)}"
    sign = random.choice((" + ", " - ", " * ", " / ", " < ", " >= ", " == ", " and ", " or ", "+", "*"))
    return f"({written(random, depth - 1)}{sign}{written(random, depth - 1)})"


def unit_kind(unit: str) -> Quantity:
    """The kind of a value in a unit."""
    found = UNITS.get(unit) or parse_unit(unit)
    assert not isinstance(found, Fault)
    return Quantity(found.dimension)


KINDS = {name: unit_kind(unit) for name, unit in NAMES.items()}
BOX = {name: Interval(-1.0, 2.0) if name == "share" else Interval(0.0, 3.0) for name in NAMES}


def look_at(seed: int) -> None:
    """Five thousand formulas of one seed."""
    random = Random(seed)
    for number in range(EACH):
        text = written(random, random.randint(1, 5))
        where = f"formula {number} of seed {seed}: {text}"
        began = process_time()
        sound(text, where)
        took = process_time() - began
        if took >= MOST_SECONDS:  # once more: the clock of the process may have been interrupted
            began = process_time()
            sound(text, where)
            took = process_time() - began
        assert took < MOST_SECONDS, f"{where} took {took * 1e3:.0f} ms"


def sound(text: str, where: str) -> None:
    """Everything that is done with a formula, as far as it goes."""
    expr = parse(text)
    if isinstance(expr, Fault):
        assert expr.message, where
        assert 0 <= expr.start <= expr.end <= max(len(text), 1), (where, expr)
        return
    checked = check(expr, KINDS)
    assert text_of(expr), where
    for fault in checked.faults:
        assert 0 <= fault.start <= fault.end <= len(text), (where, fault)
    if checked.faults:
        return
    for share in (0.0, 0.5, 1.0):
        point = {name: part.low + share * (part.high - part.low) for name, part in BOX.items()}
        value = evaluate(expr, point, EMPTY)
        if isinstance(value, float):
            assert isfinite(value), where
        assert not isinstance(value, complex), where
    if isinstance(checked.kind, Quantity):
        found = bounds(expr, BOX, EMPTY)
        if isinstance(found, Interval):
            assert isfinite(found.low), where
            assert isfinite(found.high), where


@pytest.mark.parametrize("seed", FEW)
def test_a_generated_formula_gives_a_value_or_a_fault(seed: int) -> None:
    look_at(seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", MANY)
def test_a_million_generated_formulas_do(seed: int) -> None:
    look_at(seed)
