"""What a step may ask of a person, as the rest of the program sees it.

Every kind of ask is one file beside this one, and is known to the compiler, the schema, the engine, the screens,
paper and reports only through the seven fields of `AskKind`. An answer is judged here and nowhere else.
"""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from runner.formula.evaluate import Value
from runner.formula.expr import Expr
from runner.formula.scope import Scope
from runner.formula.units import Unit
from runner.procedure.finding import Place

if TYPE_CHECKING:
    from runner.procedure.language.shape import Key


class Ask(NamedTuple):
    """One thing that a step wants to be told. Fields that a kind does not use keep their defaults."""

    kind: str
    """The key of its AskKind: read, choose, scan, wait, thread or advance."""
    name: str
    """The value's name in formulas, unique in the procedure. A wait is named after its step."""
    ask: str
    """The question, in the author's words."""
    place: Place
    unit: Unit | None = None
    low: Expr | None = None
    """Least allowed value; over values already known."""
    high: Expr | None = None
    likely: tuple[float, float] | None = None
    """SI band outside which a value is asked for again."""
    of: tuple[str, ...] = ()
    """The answers of a choice; the rollers of a path with their passes, 'entry idler: under'."""
    accept: tuple[str, ...] = ()
    """Answers of a choice that let the work go on; empty: all of them."""
    match: str = ""
    """A value that the answer must equal."""
    otherwise: str = ""
    """The id of a trouble of this step that an answer out of limits leads to."""
    path: str = ""
    at_least_s: float = 0.0
    at_most_s: float | None = None


class Prompt(NamedTuple):
    """How a screen asks. The shapes are few: number, choice, text, countdown, ticks."""

    shape: str
    """number, choice, text, countdown or ticks (a list to be ticked one by one, in order)."""
    question: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    limits: str = ""
    """What is accepted, as a person reads it: '5.5 to 7 bar'."""
    seconds: float = 0.0


class Judged(NamedTuple):
    """What became of a typed answer. The verdict is in, out or unlikely (to be typed once more)."""

    value: Value
    """SI float, or the text of a choice or scan."""
    unit: str
    magnitude: float | None
    """The number in `unit`, for the record; None for text."""
    shown: str
    """The echo with its unit."""
    verdict: str
    limits: str


class Misread(NamedTuple):
    """The typed answer could not be taken; the words say what to type."""

    message: str


class AskKind(NamedTuple):
    """One kind of ask: the whole of what the program knows about it."""

    key: str
    """The key of a step that brings it."""
    shape: "Key"
    """Its key of a step: shape, words and worked example."""
    build: Callable[..., tuple[Ask, ...]]
    """(step, desk) to asks: from the checked nodes of a step; faults go to the `Desk` that is passed in."""
    prompt: Callable[[Ask, Mapping[str, Value], Scope], Prompt]
    accept: Callable[[Ask, str, Mapping[str, Value], Scope], Judged | Misread]
    printed: Callable[[Ask, Mapping[str, Value], Scope], tuple[str, ...]]
    """Lines for paper, over the values that are known: the question with a blank, unit and limits, then a box a line."""
    word: str
    """How reports call it: reading, choice, scan, wait, threading, feed."""
