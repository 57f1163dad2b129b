"""Frozen classes made here are, to whoever uses them, those that `dataclasses` makes (Python's documentation of it)."""

import copy
import dataclasses
import pickle
from dataclasses import field
from typing import Any

import pytest

from runner.engine import events as ev
from runner.engine.frozen import dataclass
from runner.engine.moment import Moment

AT = Moment("2026-11-25T09:40:14.250Z", 0.0, "boot")


@dataclass(frozen=True, slots=True)
class Ours:
    """With every kind of field."""

    name: str
    rest: dict[str, int] = field(default_factory=dict)
    secret: str = field(default="s", repr=False)
    by: str = field(default="", kw_only=True)


@dataclasses.dataclass(frozen=True, slots=True)
class Theirs:
    """The same, made by the standard decorator."""

    name: str
    rest: dict[str, int] = field(default_factory=dict)
    secret: str = field(default="s", repr=False)
    by: str = field(default="", kw_only=True)


@pytest.mark.parametrize("kind", [Ours, Theirs])
def test_both_behave_alike(kind: Any) -> None:
    made = kind("a", by="x")
    assert (made.rest, made.secret, made.by) == ({}, "s", "x")
    assert made.rest is not kind("a").rest
    assert repr(made) == f"{kind.__name__}(name='a', rest={{}}, by='x')"
    assert made == kind("a", {}, "s", by="x")
    assert made != kind("b", by="x")
    assert made != "a"
    assert dataclasses.replace(made, name="b").name == "b"
    assert dataclasses.asdict(made) == {"name": "a", "rest": {}, "secret": "s", "by": "x"}
    assert kind.__match_args__ == ("name", "rest", "secret")
    assert not hasattr(made, "__dict__")
    for act in (lambda: setattr(made, "name", "c"), lambda: delattr(made, "name")):
        with pytest.raises(dataclasses.FrozenInstanceError):
            act()
    for wrong in ({}, {"name": "a", "other": 1}):
        with pytest.raises(TypeError):
            kind(**wrong)


def test_events_are_compared_hashed_copied_and_sent() -> None:
    one, other = (ev.StepBegun("N. Petrov", AT, "lift", "2.1", 1, "Lift the roll.") for _ in range(2))
    assert one == other
    assert len({one, other}) == 1
    assert one != dataclasses.replace(other, step="stop")
    assert copy.copy(one) == pickle.loads(pickle.dumps(one)) == one
    another: ev.Event = ev.StepDone("N. Petrov", AT, "lift", "2.1", ())
    assert one != another
