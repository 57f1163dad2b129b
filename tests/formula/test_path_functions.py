"""Formulas over a web path whose bar travels: values by hand, and faults in words for the author or the operator."""

import pytest

from runner.formula.check import check
from runner.formula.evaluate import evaluate, path_of, ready
from runner.formula.fault import Fault
from runner.formula.kinds import Kind, Path, Quantity
from runner.formula.scope import PathRoller, Scope
from runner.trade.web_path import VERTICAL, Problem
from tests.formula.vocabulary import tree, unit_of

# Idlers as far apart as the bar is thick: upright spans, so that a metre of travel is two metres of web.
ROLLERS = (
    PathRoller("in", tree("0 [m]"), tree("1 [m]"), tree("size"), "over"),
    PathRoller("bar", tree("150 [mm]"), tree("0 [m]"), tree("200 [mm]"), "under", VERTICAL, (-0.4, 0.3)),
    PathRoller("out", tree("300 [mm]"), tree("1 [m]"), tree("size"), "over"),
)
SCOPE = Scope({}, {"web": ROLLERS})
VALUES = {"size": 0.1}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("path_take_up(web, 'bar')", 1.4),
        ("path_length_at(web, 'bar', 0) - path_length(web)", 0.8),
        ("path_length(web) - path_length_at(web, 'bar', 1)", 0.6),
        ("bar_factor_at(web, 'bar', 0.5)", 2.0),
        ("bar_factor_at(web, 'bar', 4/7)", 2.0),
    ],
)
def test_the_values_are_those_of_upright_spans(text: str, value: float) -> None:
    assert evaluate(tree(text), VALUES, SCOPE) == pytest.approx(value)
    assert ready(tree(text), SCOPE)(VALUES) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "values", "words"),
    [
        ("bar_factor_at(web, 'bar', 2)", VALUES, "2 is not between 0 and 1"),
        ("bar_factor_at(web, 'bar', -1)", VALUES, "-1 is not between 0 and 1"),
        ("path_length(web)", {}, "web path web: in: size is not known yet"),
        ("path_length(web)", {"size": 0.5}, "web path web: out and in overlap or touch"),
    ],
)
def test_what_has_no_value_says_why(text: str, values: dict[str, float], words: str) -> None:
    found = evaluate(tree(text), values, SCOPE)
    assert isinstance(found, Fault)
    assert words in found.message


def test_a_bar_that_hits_something_on_its_travel_is_told_with_the_place() -> None:
    rollers = (ROLLERS[0], ROLLERS[1]._replace(travel=(-0.4, 1.0)), ROLLERS[2]._replace(x=tree("250 [mm]")))
    found = evaluate(tree("bar_factor_at(web, 'bar', 1)"), VALUES, Scope({}, {"web": rollers}))
    assert isinstance(found, Fault)
    assert "with bar at 1 of its travel, bar and in overlap" in found.message


def test_a_path_without_a_value_names_the_roller() -> None:
    found = path_of(ROLLERS, {}, SCOPE)
    assert isinstance(found, Problem)
    assert found.roller == 0


NAMES: dict[str, Kind] = {
    "web": Path(("in", "bar", "idler", "out"), frozenset({"bar"})),
    "width": Quantity(unit_of("m").dimension),
}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("path_take_up(web, 'idler')", "'idler' has no travel"),
        ("path_take_up(web, 'baar')", "web has no roller 'baar'"),
        ("bar_factor_at(web, 'in', 0)", "'in' is an end of the path"),
        ("bar_factor_at(web, 'bar', width)", "a plain number is needed"),
        ("bar_factor_at(web, 'bar')", "takes 3 arguments"),
        ("path_length_at(web, 1, 1)", "the roller is a name in quotes"),
    ],
)
def test_a_call_that_does_not_fit_is_told_while_writing(text: str, words: str) -> None:
    (fault,) = check(tree(text), NAMES).faults
    assert words in fault.message
