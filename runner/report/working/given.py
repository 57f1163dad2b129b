"""Values as people give them for the arithmetic alone: from a job file, by `--set`, or as the ends of a sweep.

An input is judged as the job ticket judges it; a reading, choice or scan of a step is read as the step would read it, and
not held against limits that only a run knows. What cannot be taken is a sentence that says what to do.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from runner.formula.evaluate import Value
from runner.formula.quantity import Misread, read_quantity, show
from runner.formula.units import Unit
from runner.procedure.asks.ask import Ask
from runner.procedure.asks.ask import Misread as Unread
from runner.procedure.asks.choice import pick
from runner.procedure.model import Input, Procedure, steps_of
from runner.procedure.ticket import judge_input

JOB_FILE, OPTION = "job file", "--set"


@dataclass(frozen=True, slots=True)
class Given:
    """One value that was given."""

    value: Value
    """SI, or a text."""
    shown: str
    origin: str
    """Where it came from, as people say it: `job file`, `--set`."""


@dataclass(frozen=True, slots=True)
class Source:
    """A name that can be given a value: an input, or something that a step asks for."""

    name: str
    unit: Unit | None
    """None for a text."""
    choices: tuple[str, ...]
    """Empty for a number or free text."""
    asked: Input | Ask


def sources(procedure: Procedure) -> dict[str, Source]:
    """All that can be given, by name: inputs in their order, then numbers, choices and scans of the steps."""
    found = {given.name: Source(given.name, given.unit, given.choices, given) for given in procedure.inputs}
    for step in steps_of(procedure):
        for ask in step.asks:
            if ask.unit is not None or ask.kind in ("choose", "scan"):
                choices = ask.of if ask.kind == "choose" else ()
                found.setdefault(ask.name, Source(ask.name, ask.unit, choices, ask))
    return found


def take(procedure: Procedure, typed: Mapping[str, tuple[str, str]]) -> dict[str, Given] | str:
    """(text as typed, origin) by name as values; or what is wrong with the first that cannot be taken."""
    known = sources(procedure)
    found: dict[str, Given] = {}
    for name, (text, origin) in typed.items():
        source = known.get(name)
        if source is None:
            return unknown(procedure, name)
        given = read_one(source, text, origin)
        if isinstance(given, str):
            return given
        found[name] = given
    return found


def read_one(source: Source, text: str, origin: str) -> Given | str:
    """One value as typed; or what is wrong with it."""
    asked = source.asked
    if isinstance(asked, Input):
        judged = judge_input(asked, text)
        if isinstance(judged, Unread):
            return f"{source.name}: {judged.message}"
        return given_of(source, judged.value, origin)
    if source.unit is not None:
        read = read_quantity(text, source.unit)
        if isinstance(read, Misread):
            return f"{source.name}: {read.message}"
        return given_of(source, read.si, origin)
    if not source.choices:
        return given_of(source, text, origin) if text else f"{source.name}: {asked.ask}: nothing was typed."
    picked = pick(text, source.choices)
    if picked is None:
        return f"{source.name}: {asked.ask}: {text} is none of {', '.join(source.choices)}."
    return given_of(source, picked, origin)


def given_of(source: Source, value: Value, origin: str) -> Given:
    """A value with how it is shown."""
    if source.unit is not None and not isinstance(value, str):
        return Given(value, show(float(value), source.unit), origin)
    return Given(value, str(value), origin)


def unknown(procedure: Procedure, name: str) -> str:
    """What to say of a name that cannot be given a value."""
    if any(calculation.name == name for calculation in procedure.calculations):
        return f"{name} is worked out by this procedure; give the values that it is worked out from instead."
    close = get_close_matches(name, sources(procedure), 1)
    hint = f"; did you mean {close[0]}?" if close else ""
    return f"{name} is neither an input nor a reading of this procedure{hint}"
