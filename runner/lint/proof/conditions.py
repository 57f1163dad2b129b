"""The conditions of steps, as the proof takes them: how long each keeps its truth along a way, and which truths go together.

A condition over the ticket alone cannot change in a run; one over what is read keeps its truth until that is read again
(a correction is left to the engine). Conditions that share a value, or are joined by others that do, may exclude each other;
whether they do is asked of all allowed jobs and readings, and in doubt they do not.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from runner.formula.expr import Expr, Not
from runner.formula.scope import names_needed
from runner.procedure.model import Procedure, Step, steps_of

Decided = frozenset[tuple[int, bool]]
"""(condition, truth) of the conditions that were met on a way, still stand and still matter."""


class Feasible(NamedTuple):
    """Whether some allowed job decides conditions so, and such a job as one would type it, where one was found."""

    possible: bool
    job: Mapping[str, str]


class Conditions:
    """The conditions of one procedure, each text once."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        texts: dict[str, Expr] = {}
        for step in steps_of(procedure):
            if step.when is not None:
                texts.setdefault(step.when.text, step.when.expr)
        self.texts = tuple(texts)
        self.exprs = tuple(texts.values())
        self._index = {text: at for at, text in enumerate(self.texts)}
        rests = [rests_on(procedure, names_needed(expr, procedure.scope)) for expr in self.exprs]
        given = {value.name for value in procedure.inputs}
        self.fixed = tuple(names <= given for names in rests)
        self.related = joined(rests)
        self._rests = tuple(rests)
        bearing = {self.of(step) for step in steps_of(procedure) if step.when is not None and bears_on_order(step)}
        self.passing = tuple(
            at not in bearing and len(self.related[at]) == 1 and self.fixed[at] for at in range(len(rests))
        )
        """Conditions that no other shares a value with, of steps that bear on no order: their truth matters at once only."""
        self._known: dict[Decided, Feasible] = {}
        self._truths: dict[int, frozenset[bool]] = {}

    def of(self, step: Step) -> int | None:
        """The condition of a step."""
        return None if step.when is None else self._index[step.when.text]

    def truths(self, condition: int, decided: Decided) -> tuple[bool, ...]:
        """The truths that a condition may have on a way: those that some allowed job has, together with what is decided."""
        for known, truth in decided:
            if known == condition:
                return (truth,)
        return tuple(
            truth
            for truth in (True, False)
            if self.feasible(self.bearing_on(condition, decided) | {(condition, truth)}).possible
        )

    def bearing_on(self, condition: int, decided: Decided) -> Decided:
        """What is decided of conditions that are joined with this one by values."""
        return frozenset(pair for pair in decided if pair[0] in self.related[condition])

    def left_behind(self, step: Step, decided: Decided) -> Decided:
        """What still stands of the decided conditions once a step was passed over."""
        own = self.of(step) if decided else None
        if own is None or not self.passing[own]:
            return decided
        return frozenset(pair for pair in decided if pair[0] != own)

    def left_by(self, step: Step, decided: Decided) -> Decided:
        """What still stands of the decided conditions once a step has begun, which may ask for values anew."""
        decided = self.left_behind(step, decided)
        if not decided or not step.asks:
            return decided
        asked = {ask.name for ask in step.asks}
        return frozenset(pair for pair in decided if not asked & self._rests[pair[0]])

    def feasible(self, decided: Decided) -> Feasible:
        """Whether some allowed job decides these conditions so."""
        if decided not in self._known:
            seen = len(decided) == 1 and next(iter(decided))[1] in self._seen(next(iter(decided))[0])
            self._known[decided] = Feasible(True, {}) if seen else self._search(decided)
        return self._known[decided]

    def _seen(self, condition: int) -> frozenset[bool]:
        """The truths that a condition has in a few allowed jobs; most conditions come out both ways there."""
        from runner.procedure.jobs.exists import truths_seen

        if condition not in self._truths:
            self._truths[condition] = truths_seen(self.procedure, self.exprs[condition])
        return self._truths[condition]

    def _search(self, decided: Decided) -> Feasible:
        from runner.procedure.jobs.exists import job_with

        wanted = [
            self.exprs[condition] if truth else Not(self.exprs[condition], self.exprs[condition].span)
            for condition, truth in sorted(decided)
        ]
        found = job_with(self.procedure, wanted)
        return Feasible(found.job is not None or not found.impossible, found.job or {})

    def in_doubt(self, decided: Iterable[tuple[int, bool]]) -> bool:
        """Whether no allowed job was found that decides fixed conditions so; none may be excluded either."""
        fixed = frozenset((condition, truth) for condition, truth in decided if self.fixed[condition])
        return bool(fixed) and not self._search(fixed).job

    def job_words(self, decided: Iterable[tuple[int, bool]]) -> str:
        """A job that decides fixed conditions so, as a trace names it; the conditions themselves where none was found."""
        fixed = frozenset((condition, truth) for condition, truth in decided if self.fixed[condition])
        if not fixed:
            return ""
        job = self._search(fixed).job
        if job:
            return ", ".join(f"{name} {text}" for name, text in job.items())
        words = " and ".join(f"{self.texts[at]} {'' if truth else 'not '}so" for at, truth in sorted(fixed))
        return f"{words} (none such was found, and none is excluded)"


def bears_on_order(step: Step) -> bool:
    """Whether a step is more than an act: whatever it needs, makes, asks or may meet can bear on what comes after it."""
    return bool(step.needs or step.makes or step.asks or step.troubles or step.optional or step.repeat or step.hold)


def joined(rests: Sequence[frozenset[str]]) -> tuple[frozenset[int], ...]:
    """For each condition all that share a value with it, or with one that does, and so on."""
    groups: list[tuple[frozenset[int], frozenset[str]]] = []
    for at, names in enumerate(rests):
        members, values = frozenset({at}), names
        apart = []
        for group in groups:
            if group[1] & names:
                members, values = members | group[0], values | group[1]
            else:
                apart.append(group)
        groups = [*apart, (members, values)]
    return tuple(next(members for members, _ in groups if at in members) for at in range(len(rests)))


def rests_on(procedure: Procedure, names: Iterable[str]) -> frozenset[str]:
    """The inputs and readings that values rest on, through calculations."""
    worked = {calculation.name: calculation for calculation in procedure.calculations}
    found: set[str] = set()
    waiting, seen = list(names), set(names)
    while waiting:
        name = waiting.pop()
        if name not in worked:
            found.add(name)
            continue
        new = worked[name].uses - seen
        seen |= new
        waiting += new
    return frozenset(found)
