"""A wait: nothing to do until a time has passed. The clock answers it; a person only says that they go on.

How much of the time is left is the engine's affair, which knows when the wait began.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value
from runner.formula.scope import Scope
from runner.procedure.asks.ask import Ask, AskKind, Judged, Misread, Prompt
from runner.procedure.desk import Desk
from runner.procedure.language.shape import DURATION, Group, Key, Record
from runner.procedure.nodes import Map, key_place
from runner.say.text import say

WAIT_RECORD = Record(
    "a wait",
    (
        Key("at_least", DURATION, False, "The time that must pass.", "at_least: 90 s"),
        Key(
            "at_most",
            DURATION,
            False,
            "The time after which it is late: an exception goes on record.",
            "at_most: 5 min",
        ),
    ),
    "A time to let pass before the step is done. It runs from the moment when the step is begun.",
    (Group("at least one", ("at_least", "at_most")),),
)

SHAPE = Key("wait", WAIT_RECORD, False, "A time to let pass.", "wait: {at_least: 90 s, at_most: 5 min}")

SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0}


def seconds(text: str) -> float:
    """A duration of the language in seconds: `6 min` gives 360."""
    text = text.strip()
    unit = next(unit for unit in ("min", "s", "h") if text.endswith(unit))
    return float(text.removesuffix(unit)) * SECONDS[unit]


def duration(length_s: float) -> str:
    """Seconds as people say them: 90 s, 6 min, 1 h."""
    for unit in ("h", "min"):
        if length_s >= 2 * SECONDS[unit] or length_s == SECONDS["h"]:
            count = length_s / SECONDS[unit]
            if count == int(count):
                return f"{int(count)} {unit}"
    return f"{length_s:g} s"


def build(step: Map, desk: Desk) -> tuple[Ask, ...]:
    """The wait of a step, named after the step."""
    node: Map = step["wait"]
    least = seconds(node["at_least"]) if "at_least" in node else 0.0
    most = seconds(node["at_most"]) if "at_most" in node else None
    if most is not None and most < least:
        desk.at_value("limits-reversed", "the least time is longer than the longest", node, "at_most")
    return (Ask("wait", step["id"].strip(), say("Wait"), key_place(step, "wait"), at_least_s=least, at_most_s=most),)


def times(ask: Ask) -> str:
    """Least and longest time in words."""
    parts = [say("at least {time}", time=duration(ask.at_least_s))] if ask.at_least_s else []
    parts += [say("at most {time}", time=duration(ask.at_most_s))] if ask.at_most_s is not None else []
    return ", ".join(parts)


def prompt(ask: Ask, _values: Mapping[str, Value], _scope: Scope) -> Prompt:
    """A countdown."""
    return Prompt("countdown", ask.ask, limits=times(ask), seconds=ask.at_least_s)


def accept(ask: Ask, typed: str, _values: Mapping[str, Value], _scope: Scope) -> Judged | Misread:
    """Nothing is typed at a wait: that it is over is all there is to say."""
    if typed.strip():
        return Misread(say("nothing is typed at a wait; go on when its time has passed"))
    return Judged(ask.at_least_s, "s", ask.at_least_s, times(ask), "in", times(ask))


def printed(ask: Ask, _values: Mapping[str, Value], _scope: Scope) -> tuple[str, ...]:
    """Lines for when it began and ended."""
    return (f"Wait {times(ask)}: from ______ to ______",)


WAIT = AskKind("wait", SHAPE, build, prompt, accept, printed, "wait")
