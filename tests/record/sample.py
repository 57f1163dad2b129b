"""Events and journals for the tests of the record: a short live run on Line 3, invented like all demo data."""

from collections.abc import Sequence
from datetime import UTC
from types import NoneType
from typing import Any, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.record.line import GENESIS, Entry, Mark, decode, encode
from runner.record.seal import seal
from runner.record.verify import OUTCOMES

RUN = "20261125-0800-k7m2"
LIVE = Mark(RUN, "live")
PEOPLE = ("Ada", "Ben", "Cleo")

Action = tuple[ev.Event, ...]


def moment(seconds: float) -> Moment:
    """So many seconds after eight."""
    whole, part = divmod(round(seconds * 1000), 1000)
    clock = f"{8 + whole // 3600:02d}:{whole // 60 % 60:02d}:{whole % 60:02d}"
    return Moment(f"2026-11-25T{clock}.{part:03d}Z", float(seconds), "boot-1")


def begun(mark: Mark = LIVE, text: str = "format: 1\nid: sample\n") -> ev.RunBegun:
    """The first event of a run."""
    return ev.RunBegun(
        by="Ada",
        at=moment(0),
        run=mark.run,
        mode=mark.mode,
        played=False,
        procedure="sample",
        title="Change the roll, Line 3",
        revision=4,
        status="draft",
        digest="d" * 64,
        sources=(("sample.procedure.yaml", text),),
        crew=(("unwind", "Ada"), ("lead", "Ben")),
        identity="identity not verified",
        program="changeover 0.1.0",
    )


def step_actions(number: int) -> list[Action]:
    """A step with a hold and a reading, as four actions of one to three events."""
    name, at = f"step-{number}", moment(number * 60)
    return [
        (ev.CautionsRead("Ada", at, name, ("hanging-load",)), ev.HoldReached("", at, name, "lead")),
        (ev.HoldReleased("Ben", at, name, "lead", ("Drop zone is clear",), (("crane", "free"),)),),
        (ev.StepBegun("Ada", at, name, f"2.{number}", 1, "Lift the roll of 412 kg into the chucks. µ²−"),),
        (
            ev.Answered(
                "Ada", at, name, "pressure", "reading", "Pressure on the gauge", "6.2", "6.2 bar",
                620000.0, 6.2, "bar", "5.5 to 7 bar", "in", 1,
            ),
            ev.StepDone("Ada", at, name, f"2.{number}", (("crane", "free"),)),
            ev.StepNotApplicable("", at, f"{name}-b", f"2.{number}", "roll_mass > 25 [kg] is false"),
        ),
    ]  # fmt: skip


def actions(steps: int = 6, end: bool = True, mark: Mark = LIVE) -> list[Action]:
    """A whole run: begun with one input, its steps, finished."""
    given = ev.InputGiven("Ada", moment(0), "web_width", "Web width", "1250", "1250 mm", 1.25, 1250.0, "mm", "in")
    found: list[Action] = [(begun(mark), given)]
    for number in range(1, steps + 1):
        found += step_actions(number)
    if end:
        found.append((ev.Finished("Ada", moment(steps * 60 + 60), 0),))
    return found


def lines(done: Sequence[Action]) -> list[bytes]:
    """The lines of actions, the first of which begins a run; an end has its seal, as a journal writes it."""
    first = done[0][0]
    assert isinstance(first, ev.RunBegun)
    mark = Mark(first.run, first.mode)
    number, prev, found = 0, GENESIS, []
    for action in done:
        outcome = OUTCOMES.get(type(action[-1]))
        of = len(action) + (outcome is not None)
        for at, event in enumerate(action):
            number += 1
            line, prev = encode(event, number, prev, mark, of - 1 - at, of)
            found.append(line)
        if outcome is not None:
            line, prev = encode(seal(mark, action[-1].at, prev, number, outcome, None), number + 1, prev, mark, 0, of)
            number += 1
            found.append(line)
    return found


def as_kept(done: Sequence[Action]) -> list[Action]:
    """The actions as they stand in a journal: an end has its seal."""
    kept: list[Action] = [()]
    for line in lines(done):
        entry = decode(line)
        assert isinstance(entry, Entry)
        kept[-1] += (entry.event,)
        if not entry.left:
            kept.append(())
    return kept[:-1]


def content(done: Sequence[Action]) -> bytes:
    """The bytes of a journal."""
    return b"".join(lines(done))


MOMENTS = st.builds(
    lambda when, tick, boot: Moment(when.strftime("%Y-%m-%dT%H:%M:%S") + ".250Z", tick, boot),
    st.datetimes(timezones=st.just(UTC)).filter(lambda when: when.year >= 1000),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=40),
)
SIMPLE: dict[object, st.SearchStrategy[Any]] = {
    str: st.text(max_size=60),
    float: st.floats(allow_nan=False, allow_infinity=False),
    int: st.integers(-(10**12), 10**12),
    bool: st.booleans(),
    NoneType: st.none(),
    Moment: MOMENTS,
}


def any_of(annotation: object) -> st.SearchStrategy[Any]:
    """Anything that a field with this annotation may hold."""
    origin, parts = get_origin(annotation), get_args(annotation)
    if annotation in SIMPLE:
        return SIMPLE[annotation]
    if origin is tuple and parts[-1] is Ellipsis:
        return st.lists(any_of(parts[0]), max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*(any_of(part) for part in parts))
    return st.one_of(*(any_of(part) for part in parts))


def any_event(event: type[ev.Event]) -> st.SearchStrategy[ev.Event]:
    """Any event of a class."""
    return st.builds(event, **{name: any_of(hint) for name, hint in get_type_hints(event).items()})
