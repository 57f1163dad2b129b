"""Prints how long a formula takes against a Python lambda called with keywords, and against pint quantities.

Goals: at most 2 times the lambda, at most 0.03 times pint.
"""

import statistics
import time
from collections.abc import Callable

import pint

from runner.formula.evaluate import ready
from runner.formula.fault import Fault
from runner.formula.scope import EMPTY
from runner.formula.syntax import parse

TEXT = "(2 * tension * width - pull) / g_n"
RUNS, INNER = 9, 4000


def seconds(function: Callable[[], object]) -> float:
    began = time.perf_counter()
    for _ in range(INNER):
        function()
    return (time.perf_counter() - began) / INNER


def main() -> None:
    expr = parse(TEXT)
    assert not isinstance(expr, Fault)
    formula = ready(expr, EMPTY)
    values = {"tension": 150.0, "width": 1.2, "pull": 3.2}
    plain: Callable[..., float] = lambda tension, width, pull: (2 * tension * width - pull) / 9.80665  # noqa: E731 - the yardstick is a lambda
    unit: pint.UnitRegistry = pint.UnitRegistry()
    tension, width, pull = 150 * unit("N/m"), 1.2 * unit.m, 3.2 * unit.N
    g_n = 9.80665 * unit("m/s^2")
    candidates: dict[str, Callable[[], object]] = {
        "a Python lambda": lambda: plain(**values),
        "the formula": lambda: formula(values),
        "pint quantities": lambda: (2 * tension * width - pull) / g_n,
    }
    assert formula(values) == plain(**values)
    times: dict[str, list[float]] = {name: [] for name in candidates}
    for _ in range(RUNS):
        for name, function in candidates.items():
            times[name].append(seconds(function))
    for other, goal in (("a Python lambda", "2"), ("pint quantities", "0.03")):
        ratio = statistics.median(a / b for a, b in zip(times["the formula"], times[other], strict=True))
        print(f"the formula: {ratio:.3f} x {other} (goal: at most {goal})")


if __name__ == "__main__":
    main()
