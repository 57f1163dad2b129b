"""What each value of a job may be, for a few names and all that they rest on, in an order in which they can be worked out.

A job is the ticket's inputs and the answers of a run. It is allowed when every answer is within its own limits and every
calculation that the names rest on is within its; only the limits of what is being asked about may be left out.
"""

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import NamedTuple

from runner.formula import bounds
from runner.formula.bounds import Box
from runner.formula.enclose import is_wide
from runner.formula.evaluate import Value
from runner.formula.expr import Expr, Name, Text, nodes
from runner.formula.interval import Interval, Possible, Texts, Truths, Unbounded
from runner.formula.scope import Scope, names_needed
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Calculation, Input, Procedure, steps_of

ANOTHER = "another text"
"""Stands for any text that no formula names."""

ANYTHING = 1e15
"""Where a number has no limit on one side, it is taken to lie within this, in SI: nobody types more."""

Part = dict[str, Interval | Texts | Truths]
"""What each known value may be over a part of the space."""


class Free(NamedTuple):
    """A value that a person gives: between formulas, one of some texts, or any text."""

    name: str
    low: Expr | float | None
    high: Expr | float | None
    texts: tuple[str, ...] | None
    """None for a number."""
    any_text: bool = False
    likely: tuple[float, float] | None = None


class PeopleGive(NamedTuple):
    """What people give in a procedure: inputs of the ticket and answers of steps, and when an answer is asked for."""

    inputs: Mapping[str, Input]
    asks: Mapping[str, Ask]
    asked_when: Mapping[str, Expr]


def people_give_in(procedure: Procedure) -> PeopleGive:
    """What people give in a procedure, by name."""
    steps = [step for step in steps_of(procedure) if step.asks]
    return PeopleGive(
        {given.name: given for given in procedure.inputs},
        {ask.name: ask for step in steps for ask in step.asks},
        {ask.name: step.when.expr for step in steps if step.when is not None for ask in step.asks},
    )


class Space:
    """The values that some names rest on."""

    def __init__(
        self,
        procedure: Procedure,
        names: Iterable[str],
        fixed: Mapping[str, Value] | None = None,
        given: Iterable[Expr] = (),
        people_give: PeopleGive | None = None,
    ) -> None:
        """`fixed` values are held; only jobs for which the conditions `given` hold count.

        `people_give` is what `people_give_in` has of it, where the caller asks about many spaces of one procedure.
        """
        self.procedure = procedure
        self.scope: Scope = procedure.scope
        self.fixed = dict(fixed or {})
        self.worked = {worked.name: worked for worked in procedure.calculations if worked.name not in self.fixed}
        self._inputs, self._asks, self._asked_when = people_give or people_give_in(procedure)
        self.order: list[str] = []
        self.free: dict[str, Free] = {}
        self.memo: dict[tuple[object, ...], Possible] = {}
        """What formulas were found to come to, by formula and by what their values may be."""
        self._needed: dict[int, tuple[str, ...]] = {}
        given = tuple(given)
        known = set(names).union(*(names_needed(condition, procedure.scope) for condition in given))
        self._known = sorted(known)
        for name in self._known:
            self._add(name, 0)
        asked = [self._asked_when[name] for name in self.order if name in self._asked_when and name not in self.fixed]
        self.conditions: tuple[Expr, ...] = (*given, *asked)
        """What holds in every job that counts: a reading is only known where its step was done."""

    def needed(self, expr: Expr) -> tuple[str, ...]:
        """The values that a formula of the procedure uses."""
        if id(expr) not in self._needed:
            self._needed[id(expr)] = tuple(sorted(names_needed(expr, self.scope)))
        return self._needed[id(expr)]

    def _below(self, name: str) -> list[str]:
        """What a value rests on."""
        if name in self.fixed:
            return []
        if name in self.worked:
            worked = self.worked[name]
            formula = names_needed(worked.formula, self.scope) if isinstance(worked, Calculation) else frozenset()
            return sorted(worked.uses | formula)
        ask = self._asks.get(name)
        if ask is None:
            return []
        found = {ask.match} if ask.match else set()
        if name in self._asked_when:
            found |= names_needed(self._asked_when[name], self.scope)
        for bound in (ask.low, ask.high):
            if bound is not None:
                found |= names_needed(bound, self.scope)
        return sorted(found - {name})

    def _add(self, name: str, depth: int) -> None:
        if name in self.order or depth > 200:
            return
        for below in self._below(name):
            self._add(below, depth + 1)
        self.order.append(name)
        if name not in self.worked and name not in self.fixed:
            free = self._free(name)
            if free is not None:
                self.free[name] = free

    @cached_property
    def counts(self) -> dict[str, int]:
        """By how many ways each free value is used, as often as names stand in formulas; more than a few make no
        difference. One that is used twice may have to be cut."""
        counts: dict[str, int] = {}
        for name in self._known:
            waiting = [(name, 1)]
            for _ in range(400):
                if not waiting:
                    break
                now, depth = waiting.pop()
                if now in self.free:
                    counts[now] = counts.get(now, 0) + 1
                if depth < 60:
                    waiting += [(below, depth + 1) for below in self._mentions(now)]
        return counts

    def _mentions(self, name: str) -> list[str]:
        worked = self.worked.get(name)
        if not isinstance(worked, Calculation):
            return self._below(name)
        found: list[str] = []
        for formula in (worked.formula, *(limit.bound for limit in worked.limits)):
            named = names_needed(formula, self.scope)
            found += [node.id for node in nodes(formula) if isinstance(node, Name) and node.id in named]
            found += sorted(named - set(found)) * 2  # a name of a web path's roller stands in it more than once
        return found

    def _free(self, name: str) -> Free | None:
        """What a person may give for a name; None where it is none of the procedure's."""
        given = self._inputs.get(name)
        if given is not None:
            return _of_input(given)
        ask = self._asks.get(name)
        return _of_ask(ask) if ask is not None and not ask.match else None

    def matched(self, name: str) -> str:
        """The value that an answer must equal, "" where there is none such."""
        ask = self._asks.get(name)
        return ask.match if ask is not None else ""

    @cached_property
    def texts_named(self) -> tuple[str, ...]:
        """Texts that the formulas of this space name, and one that they do not."""
        found: dict[str, None] = {}
        for name in self.order:
            worked = self.worked.get(name)
            if isinstance(worked, Calculation):
                found |= {node.value: None for node in nodes(worked.formula) if isinstance(node, Text)}
        return (*found, ANOTHER)

    def unlimited(self, part: Box) -> bool:
        """Whether some number here has no limit on one side, so that little can be proved by cutting."""
        return any(is_open(part.get(name)) for name in self.free)

    def start(self) -> Part:
        """What the values that people give may be."""
        part: Part = {}
        for name, value in self.fixed.items():
            part[name] = _alone(value)
        moving = any(not isinstance(end, float | None) for free in self.free.values() for end in (free.low, free.high))
        for name in self.order:
            if name in self.free:
                part[name] = self._may_be(self.free[name], part)
            elif name in self._asks and self._asks[name].match in part:
                part[name] = part[self._asks[name].match]
            elif moving and isinstance(worked := self.worked.get(name), Calculation):
                found = bounds.possible(worked.formula, part, self.scope)
                if not isinstance(found, Unbounded):
                    part[name] = found
        return {name: may_be for name, may_be in part.items() if name not in self.worked}

    def _may_be(self, free: Free, part: Part) -> Interval | Texts:
        if free.texts is not None:
            return Texts(None if free.any_text else frozenset(free.texts))
        low, high = self._end(free.low, part), self._end(free.high, part)
        return Interval(-ANYTHING if low is None else low.low, ANYTHING if high is None else high.high)

    def _end(self, bound: Expr | float | None, part: Part) -> Interval | None:
        if bound is None or isinstance(bound, float):
            return None if bound is None else Interval(bound, bound)
        found = bounds.possible(bound, part, self.scope)
        return found if isinstance(found, Interval) else None

    def cuttable(self, part: Box) -> list[str]:
        """The free values that may be cut, most used first."""
        wide = [name for name in self.free if is_wide(part.get(name)) and not is_open(part.get(name))]
        return sorted(wide, key=lambda name: -self.counts.get(name, 0))

    def likely(self, part: Box) -> Box:
        """The part of a part in which likely jobs lie: a job that is named is rather one of these."""
        found = dict(part)
        for name, free in self.free.items():
            now = part.get(name)
            if free.likely is not None and isinstance(now, Interval):
                low, high = max(now.low, free.likely[0]), min(now.high, free.likely[1])
                if low <= high:
                    found[name] = Interval(low, high)
        return found

    def ends(self, name: str, part: Box) -> tuple[Value, ...]:
        """Values of a free value that are worth trying in a part: both ends, or every text."""
        match part.get(name):
            case Interval(low, high) as now if is_open(now):
                likely = self.free[name].likely
                if likely is not None:
                    return likely
                if low > -ANYTHING:
                    return (low, 2.0 * low if low > 0.0 else 1.0)
                return (high, 2.0 * high if high < 0.0 else -1.0) if high < ANYTHING else (1.0, 0.0, -1.0)
            case Interval(low, high):
                return (low, high) if low < high else (low,)
            case Texts(may=frozenset() as texts):
                return tuple(sorted(texts))
        return self.texts_named

    def guesses(self, part: Box) -> dict[str, Value]:
        """A value for what may be anything: a text, a likely number, or one at its only limit."""
        return {
            name: self.ends(name, part)[0]
            for name in self.free
            if is_open(part.get(name)) or part.get(name) == Texts(None)
        }

    @cached_property
    def asked(self) -> tuple[str, ...]:
        """The names of all that people give, in the order of the ticket and the steps."""
        return (*self._inputs, *self._asks)

    def takes(self, name: str, value: float) -> bool:
        """Whether a number lies in the allowed band of an input; answers of steps are judged with their own limits."""
        given = self._inputs.get(name)
        if given is None or given.within is None:
            return True
        slack = 1e-12 * max(abs(end) for end in given.within)
        return given.within.low - slack <= value <= given.within.high + slack


def is_open(part: Interval | Texts | Truths | None) -> bool:
    """Whether a number has no limit on one side."""
    return isinstance(part, Interval) and (part.low <= -ANYTHING or part.high >= ANYTHING)


def _alone(value: Value) -> Interval | Texts | Truths:
    if isinstance(value, bool):
        return Truths(value, not value)
    return Texts(frozenset((value,))) if isinstance(value, str) else Interval(value, value)


def _of_input(given: Input) -> Free:
    if given.unit is None:
        return Free(given.name, None, None, given.choices, any_text=not given.choices)
    low, high = given.within or (None, None)
    return Free(given.name, low, high, None, likely=given.likely)


def _of_ask(ask: Ask) -> Free:
    if ask.unit is not None:
        return Free(ask.name, ask.low, ask.high, None, likely=ask.likely)
    if ask.kind == "choose":
        return Free(ask.name, None, None, ask.accept or ask.of)
    return Free(ask.name, None, None, (), any_text=True)
