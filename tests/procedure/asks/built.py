"""Asks as the compiler builds them, from the text of one step."""

from runner.formula.scope import Scope
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask, Judged, Misread, Prompt
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure, steps_of

HEAD = """\
format: 1
id: x
title: X
revision: 1
equipment: Line 3
purpose: It is done
people: {unwind: Operator}
inputs:
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
  roll_number: {ask: Number on the roll}
  roll_od: {ask: Outer diameter, unit: mm, within: [200, 1200]}
web_paths:
  unwind:
    rollers:
      - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
      - {roller: entry idler, at: [900 mm, 300 mm], diameter: 100 mm, pass: under}
      - {roller: exit idler, at: [1600 mm, 300 mm], diameter: 100 mm, pass: under}
phases:
  - phase: Do
    steps:
      - id: act-now
        do: Do it.
"""


def procedure(keys: str) -> Procedure:
    """A procedure whose one step has these keys, one a line."""
    text = HEAD + "".join(f"        {line}\n" for line in keys.split("\n"))
    result = compile_procedure(text, "x", lambda _: None)
    assert result.procedure is not None, result.findings
    return result.procedure


def ask_of(keys: str) -> tuple[Ask, Scope]:
    """The first ask of the step, and the scope of its procedure."""
    made = procedure(keys)
    return steps_of(made)[0].asks[0], made.scope


def judged(keys: str, typed: str, **values: float | str) -> Judged | Misread:
    """What becomes of a typed answer."""
    ask, scope = ask_of(keys)
    return KIND_OF[ask.kind].accept(ask, typed, values, scope)


def verdict(keys: str, typed: str, **values: float | str) -> str:
    """The verdict, or `misread`."""
    found = judged(keys, typed, **values)
    return found.verdict if isinstance(found, Judged) else "misread"


def prompted(keys: str, **values: float | str) -> Prompt:
    """How a screen asks."""
    ask, scope = ask_of(keys)
    return KIND_OF[ask.kind].prompt(ask, values, scope)


def printed(keys: str) -> str:
    """The lines on paper."""
    ask, scope = ask_of(keys)
    return "\n".join(KIND_OF[ask.kind].printed(ask, {}, scope))
