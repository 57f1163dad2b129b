"""Limits compared over all allowed jobs. Judge: thousands of jobs picked at random and worked out one by one."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.evaluate import evaluate
from runner.formula.expr import Expr
from runner.formula.quantity import Misread, read_quantity
from runner.formula.scope import EMPTY
from runner.formula.syntax import parse
from runner.formula.units import UNITS
from runner.lint.diff.bounds import compared, holds_more
from tests.lint.diff.written import small

JOBS = [
    {"width": random.Random(seed).uniform(0.4, 1.3), "force": random.Random(-seed - 1).uniform(10, 100)}
    for seed in range(800)
]
JOBS += [{"width": width, "force": force} for width in (0.4, 1.3) for force in (10.0, 100.0)]

factors = st.integers(-3, 3)


def tree(text: str) -> Expr:
    found = parse(text)
    assert not hasattr(found, "message"), (text, found)
    return found


def formula(a: int, b: int, c: int, d: int) -> str:
    """A length over width and force, in metres."""
    return f"{a} * width + {b} * force * 0.01 [m/N] + {c} [m] + {d} * width^2 / 1 [m]".replace("+ -", "- ")


def at(expr: Expr, job: dict[str, float]) -> float:
    found = evaluate(expr, job, EMPTY)
    assert isinstance(found, float)
    return found


def job_of(text: str) -> dict[str, float]:
    """A job as it is told: `width 400 mm, force 10 N`."""
    found = {}
    for part in text.split(", "):
        name, typed = part.split(" ", 1)
        read = read_quantity(typed, UNITS["mm" if name == "width" else "N"])
        assert not isinstance(read, Misread)
        found[name] = read.si
    return found


@settings(max_examples=60, deadline=None)
@given(st.tuples(factors, factors, factors, factors), st.tuples(factors, factors, factors, factors))
def test_no_means_no_job_and_yes_names_one(old_parts: tuple[int, ...], new_parts: tuple[int, ...]) -> None:
    old, new = tree(formula(*old_parts)), tree(formula(*new_parts))
    found = compared(old, new, small())
    offs = [at(new, job) - at(old, job) for job in JOBS]
    for answer, sign in ((found.less, -1.0), (found.more, 1.0)):
        if answer.so is False:
            assert max(sign * off for off in offs) <= 1e-6
        elif answer.so:
            if answer.job:
                job = {"width": 1.0, "force": 50.0, **job_of(answer.job)}
                assert sign * (at(new, job) - at(old, job)) > 0
            else:
                assert all(sign * off > 0 for off in offs)
        else:
            # the cuts of a search are few: it may leave open what comes within a tenth of the range of the difference
            near = 0.1 * (max(offs) - min(offs)) + 1e-2
            assert max(sign * off for off in offs) > -near, "unclear is for what is near"


@pytest.mark.parametrize(
    ("old", "new", "less", "more"),
    [
        ("width", "width", False, False),
        ("width - 10 [mm]", "width - 20 [mm]", True, False),
        ("width - 10 [mm]", "400 [mm]", True, True),
        ("2 * width", "width * 3", False, True),
        ("width", "800 [mm]", True, True),
        ("width", "1300 [mm]", False, True),
        ("width", "400 [mm]", True, False),
        ("sqrt(width * 1 [m])", "width", True, True),
    ],
)
def test_plain_cases_by_hand(old: str, new: str, less: bool, more: bool) -> None:
    found = compared(tree(old), tree(new), small())
    assert (found.less.so, found.more.so) == (less, more)


def test_what_the_new_text_does_not_know_is_unclear() -> None:
    found = compared(tree("gone * 2"), tree("width"), small())
    assert (found.less.so, found.more.so) == (None, None)


@pytest.mark.parametrize(
    ("old", "new", "fails", "holds"),
    [
        ("width > 500 [mm]", "width > 600 [mm]", True, False),
        ("width > 500 [mm]", "width > 450 [mm]", False, True),
        ("width > 500 [mm]", "width > 500 [mm] and force > 20 [N]", True, False),
        ("width > 300 [mm]", "width > 200 [mm]", False, False),
        ("width > 500 [mm]", "width < 500 [mm]", True, True),
    ],
)
def test_conditions_by_hand(old: str, new: str, fails: bool, holds: bool) -> None:
    found = holds_more(tree(old), tree(new), small())
    assert (found.less.so, found.more.so) == (fails, holds)
