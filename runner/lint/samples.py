"""Sample jobs: values that the procedure accepts, chosen to decide its conditions one way and the other.

A sample is a real job, so a fault that a walk meets under it is real; that no sample decides a condition some way proves
nothing. Samples are the same on every run: corners, then edges, then points spread evenly.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate, si_of
from runner.formula.expr import Expr, Number, Text, nodes
from runner.formula.fault import Fault
from runner.formula.quantity import show
from runner.formula.scope import names_needed
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Calculation, Condition, Input, Procedure, Split, Step, steps_of
from runner.procedure.working import units_of, uses, work_out

SPREAD = 40
"""Points tried between corners and edges; enough for a condition that splits off an eighth of the box, in most cases."""

GOLDEN = 0.6180339887498949
"""Fractional part of the golden ratio: its multiples fill the unit interval evenly."""

Fraction = Callable[[int], float]
"""How far along its range the n-th value of a sample lies, 0 to 1."""


class Sample(NamedTuple):
    """One job, and how it decides the conditions that matter for order."""

    truths: Mapping[str, bool]
    """By the text of the condition; one that could not be decided is absent."""
    words: str
    """The values that the conditions depend on, as a person reads them."""

    def applies(self, step: Step) -> bool:
        """Whether a step applies; the plain order takes it where its condition is not decided."""
        return step.when is None or self.truths.get(step.when.text, True)


PLAIN = Sample({}, "")


def samples(procedure: Procedure) -> tuple[Sample, ...]:
    """A sample for every way in which jobs were found to decide the conditions; one that decides nothing if there are none."""
    conditions = deciding(procedure)
    if not conditions:
        return (PLAIN,)
    source = Source(procedure, conditions)
    found: dict[tuple[bool | None, ...], Sample] = {}
    for fraction in fractions(source.width):
        values = source.values(fraction)
        if values is None:
            continue
        truths = tuple(_truth(procedure, condition.expr, values) for condition in conditions)
        if truths not in found:
            named = {c.text: truth for c, truth in zip(conditions, truths, strict=True) if truth is not None}
            found[truths] = Sample(named, source.words(values))
        if len(found) == 2 ** len(conditions):
            break
    return tuple(found.values()) or (PLAIN,)


def deciding(procedure: Procedure) -> tuple[Condition, ...]:
    """The conditions, each text once, of steps that need or make a state: no other condition bears on order."""
    found: dict[str, Condition] = {}
    for step in steps_of(procedure):
        if step.when is not None and (step.needs or step.makes):
            found.setdefault(step.when.text, step.when)
    return tuple(found.values())


def fractions(width: int) -> Iterator[Fraction]:
    """Ways through a box of so many values: high corner, low corner, middle, every edge's ends, points between."""
    yield lambda _: 1.0
    yield lambda _: 0.0
    yield lambda _: 0.5
    for varied in range(width):
        for end in (0.0, 1.0):
            yield lambda n, varied=varied, end=end: end if n == varied else 0.5  # type: ignore[misc]  # bound early
    for point in range(1, SPREAD + 1):
        yield lambda n, point=point: (point * GOLDEN * (n + 1) + n * 0.5) % 1.0  # type: ignore[misc]  # bound early


class Source:
    """Makes the values of a sample: inputs, what steps ask for, and the calculations that the conditions use."""

    def __init__(self, procedure: Procedure, conditions: Sequence[Condition]) -> None:
        self.procedure = procedure
        self.units = units_of(procedure)
        self.asks = {ask.name: ask for step in steps_of(procedure) for ask in step.asks}
        self.inputs = {given.name: given for given in procedure.inputs}
        self.worked = {worked.name: worked for worked in procedure.calculations}
        named = [node for condition in conditions for node in nodes(condition.expr)]
        self.texts = (*dict.fromkeys(node.value for node in named if isinstance(node, Text)), "another text")
        self.marks = tuple(si_of(node) for node in named if isinstance(node, Number))
        """Texts and numbers that the conditions name: where nothing else says what a value may be, it lies around these."""
        self.order: list[str] = []
        for condition in conditions:
            for name in sorted(names_needed(condition.expr, procedure.scope)):
                self._add(name, 0)

    @property
    def width(self) -> int:
        """How many values are free."""
        return sum(name not in self.worked for name in self.order)

    def values(self, fraction: Fraction) -> dict[str, Value] | None:
        """The values at one place of the box; None where the job breaks a limit, and so is not one that is allowed."""
        found: dict[str, Value] = {}
        free = 0
        for name in self.order:
            if name in self.worked:
                if not self._work_out(self.worked[name], found):
                    return None
                continue
            value = self._pick(name, fraction(free), found)
            free += 1
            if value is not None:
                found[name] = value
        return found

    def words(self, values: Mapping[str, Value]) -> str:
        """The free values as a person reads them."""
        return ", ".join(
            f"{name} {self._shown(name, values[name])}"
            for name in self.order
            if name in values and name not in self.worked
        )

    def _shown(self, name: str, value: Value) -> str:
        unit = self.units.get(name)
        return show(float(value), unit) if unit is not None and not isinstance(value, str) else str(value)

    def _add(self, name: str, depth: int) -> None:
        """Put a name after everything that it depends on."""
        if name in self.order or depth > len(self.worked) + len(self.asks):
            return
        for below in sorted(self._below(name)):
            self._add(below, depth + 1)
        self.order.append(name)

    def _below(self, name: str) -> frozenset[str]:
        scope = self.procedure.scope
        if name in self.worked:
            worked = self.worked[name]
            formula = names_needed(worked.formula, scope) if isinstance(worked, Calculation) else frozenset()
            return uses(worked) | formula
        ask = self.asks.get(name)
        if ask is None:
            return frozenset()
        bounds = [names_needed(bound, scope) for bound in (ask.low, ask.high) if bound is not None]
        return frozenset({ask.match} if ask.match else ()).union(*bounds)

    def _work_out(self, worked: Calculation | Split, found: dict[str, Value]) -> bool:
        """Add a calculation's value; False where it breaks its limit. What cannot be worked out stays unknown."""
        if not uses(worked) <= found.keys():
            return True
        result = work_out(self.procedure, worked, found, {})
        if result.verdict == "failed":
            return True
        found[worked.name] = result.value
        return result.verdict != "out"

    def _pick(self, name: str, fraction: float, found: Mapping[str, Value]) -> Value | None:
        if name in self.inputs:
            return self._given(self.inputs[name], fraction)
        ask = self.asks.get(name)
        return None if ask is None else self._answer(ask, fraction, found)

    def _given(self, given: Input, fraction: float) -> Value | None:
        """A value of the job ticket."""
        if given.unit is None:
            return _at(given.choices or self.texts, fraction)
        low, high = given.within or given.likely or (None, None)
        return self._between(low, high, fraction)

    def _answer(self, ask: Ask, fraction: float, found: Mapping[str, Value]) -> Value | None:
        """An answer that lets the work go on."""
        if ask.match:
            return found.get(ask.match)
        if ask.of and ask.kind == "choose":
            return _at(ask.accept or ask.of, fraction)
        if ask.kind == "scan":
            return _at(self.texts, fraction)
        low, high = (self._bound(bound, found) for bound in (ask.low, ask.high))
        if ask.likely is not None:
            low = ask.likely[0] if low is None else low
            high = ask.likely[1] if high is None else high
        return self._between(low, high, fraction)

    def _between(self, low: float | None, high: float | None, fraction: float) -> float | None:
        """A number between two ends; an end that is open lies a bit beyond what else is known."""
        known = [end for end in (low, high, *self.marks) if end is not None]
        if not known:
            return None
        room = max(abs(end) for end in known) / 2 or 1.0
        low = min(known) - room if low is None else low
        high = max(*known, low) + room if high is None else high
        return low + fraction * (high - low)

    def _bound(self, bound: Expr | None, found: Mapping[str, Value]) -> float | None:
        if bound is None:
            return None
        value = evaluate(bound, found, self.procedure.scope)
        return None if isinstance(value, Fault | str) else float(value)


def _truth(procedure: Procedure, expr: Expr, values: Mapping[str, Value]) -> bool | None:
    found = evaluate(expr, values, procedure.scope)
    return found if isinstance(found, bool) else None


def _at(choices: Sequence[str], fraction: float) -> str:
    return choices[min(int(fraction * len(choices)), len(choices) - 1)]
