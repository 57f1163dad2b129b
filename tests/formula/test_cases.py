"""Every case in cases/*.yaml: a formula with its value, its kind, or its fault with columns and words."""

from pathlib import Path as FilePath
from typing import Any

import pytest
from ruamel.yaml import YAML

from runner.formula.check import check
from runner.formula.enclose import bounds, truths
from runner.formula.evaluate import evaluate, ready
from runner.formula.explain import text_of
from runner.formula.fault import Fault
from runner.formula.interval import Interval, Texts, Truths
from runner.formula.kinds import words
from runner.formula.syntax import parse
from tests.formula.vocabulary import Vocabulary, si, tree, vocabulary

FILES = sorted((FilePath(__file__).parent / "cases").glob("*.yaml"))


def cases() -> list[Any]:
    found = []
    for file in FILES:
        document = YAML(typ="safe").load(file.read_text(encoding="utf-8"))
        known = vocabulary(document)
        found += [pytest.param(case, known, id=f"{file.stem}: {case['formula']}") for case in document["cases"]]
    return found


@pytest.mark.parametrize(("case", "known"), cases())
def test_a_case_comes_out_as_written(case: dict[str, Any], known: Vocabulary) -> None:
    assert len(case.keys() & {"gives", "kind", "fault", "refused"}) == 1
    if "gives" in case:
        has_value(case, known)
    elif "kind" in case:
        checked = check(tree(case["formula"]), known.names)
        assert checked.faults == ()
        assert checked.kind is not None
        assert words(checked.kind) == (str(case["kind"]).lower() if case["kind"] is True else case["kind"])
    elif "fault" in case:
        parsed = parse(case["formula"])
        faults = (parsed,) if isinstance(parsed, Fault) else check(parsed, known.names).faults
        assert len(faults) == 1, faults
        is_told(faults[0], case["fault"], case)
    else:
        expr = tree(case["formula"])
        if "unchecked" not in case:
            assert check(expr, known.names).faults == ()
        found = evaluate(expr, known.values, known.scope)
        assert isinstance(found, Fault), found
        is_told(found, case["refused"], case)


def is_told(fault: Fault, told: str, case: dict[str, Any]) -> None:
    assert told in fault.message, fault
    assert [fault.start, fault.end] == case["at"], fault
    assert str(case.get("hint", "")) in fault.hint, fault


def has_value(case: dict[str, Any], known: Vocabulary) -> None:
    expr = tree(case["formula"])
    assert check(expr, known.names).faults == ()
    found = evaluate(expr, known.values, known.scope)
    assert not isinstance(found, Fault), found
    assert ready(expr, known.scope)(known.values) == found, "the fast way differs from the careful one"
    box = {
        name: Texts(frozenset((value,))) if isinstance(value, str) else Interval(float(value), float(value))
        for name, value in known.values.items()
    }
    if isinstance(found, bool):
        assert found is case["gives"]
        assert truths(expr, box, known.scope) in (Truths(found, not found), Truths(True, True))
    elif isinstance(found, str):
        assert found == case["gives"]
    else:
        within = si(case["within"] if isinstance(case.get("within"), str) else str(case.get("within", 0)))
        expected = si(str(case["gives"]))
        assert found == pytest.approx(expected, abs=within, rel=1e-12 if not within else 0)
        bounded = bounds(expr, box, known.scope)
        assert isinstance(bounded, Interval)
        assert bounded.low <= found <= bounded.high
        assert bounded.high - bounded.low <= 1e-9 * max(1.0, abs(found)), "the bounds of one value are one value"


@pytest.mark.parametrize(("case", "known"), [case for case in cases() if "fault" not in case.values[0]])
def test_a_formula_written_back_reads_the_same(case: dict[str, Any], known: Vocabulary) -> None:
    expr = tree(case["formula"])
    again = tree(text_of(expr))
    assert text_of(again) == text_of(expr)
    assert evaluate(again, known.values, known.scope) == evaluate(expr, known.values, known.scope) or isinstance(
        evaluate(expr, known.values, known.scope), Fault
    )
