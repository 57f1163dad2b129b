"""Web paths over all jobs: jobs to try them with, what goes wrong where, and whether it is proven that nothing does.

A problem is that of a real job, found by solving the path for it. That no job tried has a problem proves nothing; bounds
over the whole box do, where they can be had. Rollers hang on the job's inputs alone, so inputs alone are varied.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from runner.formula.bounds import possible
from runner.formula.enclose import can_be_cut, halves
from runner.formula.evaluate import Value, path_of
from runner.formula.expr import Call, Expr, Name, Reference, Span, Text, names_in
from runner.formula.interval import Interval, Texts, Unbounded
from runner.formula.quantity import show
from runner.formula.scope import PathRoller
from runner.procedure.jobs.fractions import fractions
from runner.procedure.model import Calculation, Input, Procedure
from runner.procedure.working import work_out
from runner.trade.web_path import Problem, WebPath
from runner.trade.web_path.travel import spread, with_roller_at

PLACES = 5
"""Places of a travel that are tried, both ends among them."""
MOST_PARTS = 80
"""Parts of the box that are looked at before a proof is given up."""
NEARER = 30
"""Halvings of the way between a job that runs and one that does not."""
NOWHERE = Span(0, 0)
SHARE = "share of the travel"
"""A name that no author can write, for the place of a roller on its travel."""

Job = dict[str, Value]


class Trouble(NamedTuple):
    """Something that the web cannot do for a job."""

    roller: int
    message: str
    job: Job
    travelling: int | None = None
    """The roller that is elsewhere on its travel, where that is the cause."""
    place: float = 0.0


class PathJobs:
    """One web path of a procedure with the jobs that its rollers hang on."""

    def __init__(self, procedure: Procedure, name: str) -> None:
        self.procedure, self.name = procedure, name
        self.rollers: tuple[PathRoller, ...] = procedure.scope.paths[name]
        needed = set[str]()
        for roller in self.rollers:
            needed |= names_in(roller.x) | names_in(roller.y) | names_in(roller.diameter)
        self.inputs = tuple(given for given in procedure.inputs if given.name in needed)

    @cached_property
    def limited(self) -> bool:
        """Whether every input has limits or choices, so that all jobs are known."""
        return all(given.choices or band(given) is not None for given in self.inputs)

    def jobs(self) -> Iterator[Job]:
        """Jobs that the ticket's own limits allow: corners, edges, points between; none where an input has no limits."""
        if self.limited:
            for fraction in fractions(len(self.inputs)) if self.inputs else (lambda _: 0.5,):
                yield {given.name: value_at(given, fraction(place)) for place, given in enumerate(self.inputs)}

    def solved(self, job: Job) -> WebPath | Problem:
        """The path for a job."""
        return path_of(self.rollers, job, self.procedure.scope)

    def allowed(self, job: Job) -> bool:
        """Whether no calculation that rests on these inputs alone breaks its limit: such a job is refused anyway."""
        values = dict(job)
        for worked in self.procedure.calculations:
            if isinstance(worked, Calculation) and worked.uses <= values.keys():
                found = work_out(self.procedure, worked, values, {}, told=False)
                if found.verdict == "out":
                    return False
                if found.verdict == "in":
                    values[worked.name] = found.value
        return True

    @cached_property
    def troubles(self) -> tuple[Trouble, ...]:
        """The first trouble of each roller, over all jobs tried; then those on a travel of what runs where it is drawn. No
        job is tried where it is proven that there is no trouble."""
        if self.limited and not self.not_proven:
            return ()
        found: dict[int, Trouble] = {}
        runs: list[tuple[Job, WebPath]] = []
        for job in self.jobs():
            path = self.solved(job)
            if isinstance(path, WebPath):
                runs.append((job, path))
            elif path.roller not in found and self.allowed(job):
                found[path.roller] = Trouble(path.roller, path.message, job)
        on_travel: dict[int, Trouble] = {}
        for job, path in runs:
            for trouble in travel_troubles(path, job):
                travelling = trouble.travelling
                if travelling is not None and travelling not in on_travel and self.allowed(job):
                    on_travel[travelling] = trouble
        return (*found.values(), *on_travel.values())

    def border(self, trouble: Trouble) -> str:
        """Up to where a job runs, in words, where the path hangs on one number; else nothing."""
        if len(self.inputs) != 1 or trouble.travelling is not None or self.inputs[0].unit is None:
            return ""
        given = self.inputs[0]
        good = next((job for job in self.jobs() if isinstance(self.solved(job), WebPath)), None)
        if good is None:
            return ""
        runs, fails = float(good[given.name]), float(trouble.job[given.name])
        way = "up to" if runs < fails else "from"
        for _ in range(NEARER):
            middle = (runs + fails) / 2.0
            if isinstance(self.solved({given.name: middle}), WebPath):
                runs = middle
            else:
                fails = middle
        unit = self.inputs[0].unit
        return f"the path can be run {way} about {given.name} {unit.magnitude(runs):.4g} {unit.text}"

    def words(self, job: Mapping[str, Value]) -> str:
        """The job as a person reads it; empty where the path hangs on none."""
        return ", ".join(f"{given.name} {shown(given, job[given.name])}" for given in self.inputs)

    def other_side(self, trouble: Trouble) -> str:
        """The one roller that would mend the path if it were passed on its other side, in words; else nothing."""
        for place, roller in enumerate(self.rollers):
            side = "under" if roller.side == "over" else "over"
            changed = (*self.rollers[:place], roller._replace(side=side), *self.rollers[place + 1 :])
            if isinstance(path_of(changed, trouble.job, self.procedure.scope), WebPath):
                return f"`{roller.name}` could be passed {side}"
        return ""

    @cached_property
    def not_proven(self) -> str:
        """Why it is not proven that the path runs for every allowed job and all over each travel; empty where it is."""
        box: dict[str, Interval | Texts] = {}
        for given in self.inputs:
            limits = band(given)
            box[given.name] = Texts(frozenset(given.choices)) if limits is None else Interval(*limits)
        reference = Reference(self.name, "path", NOWHERE)
        expressions: list[tuple[Expr, dict[str, Interval | Texts]]] = [
            (Call("path_length", (reference,), NOWHERE), box)
        ]
        for roller in self.rollers:
            if roller.travel is not None:
                call = Call("path_length_at", (reference, Text(roller.name, NOWHERE), Name(SHARE, NOWHERE)), NOWHERE)
                expressions.append((call, {**box, SHARE: Interval(0.0, 1.0)}))
        return next(filter(None, (self._why_not(expr, part) for expr, part in expressions)), "")

    def _why_not(self, expr: Expr, box: dict[str, Interval | Texts]) -> str:
        """Why the bounds of a formula cannot be had over a box, after cutting it; empty where they can."""
        whole, names = box, list(box)
        waiting = [dict(box)]
        for _ in range(MOST_PARTS):
            if not waiting:
                return ""
            part = waiting.pop()
            found = possible(expr, part, self.procedure.scope)
            if isinstance(found, Unbounded):
                if not can_be_cut(part, names):
                    return found.message
                waiting += [dict(half) for half in halves(part, names, whole)]  # type: ignore[arg-type]  # of one kind
            last = found
        return (
            last.message if waiting and isinstance(last, Unbounded) else "the jobs are too different" if waiting else ""
        )


def travel_troubles(path: WebPath, job: Job) -> Iterator[Trouble]:
    """What goes wrong where a roller is elsewhere on its travel, the first place of each roller."""
    for number, roller in enumerate(path.rollers):
        for place in spread(*roller.travel, PLACES) if roller.travel is not None else ():
            moved = with_roller_at(path, number, place)
            if isinstance(moved, Problem):
                yield Trouble(moved.roller, moved.message, job, number, place)
                break


def band(given: Input) -> tuple[float, float] | None:
    """What a number of the ticket may be; None for a text, and where nothing limits it."""
    limits = given.within or given.likely
    return (limits.low, limits.high) if limits is not None and given.unit is not None else None


def value_at(given: Input, fraction: float) -> Value:
    """The value so far along what an input may be."""
    limits = band(given)
    if limits is None:
        return given.choices[min(int(fraction * len(given.choices)), len(given.choices) - 1)]
    return limits[0] + fraction * (limits[1] - limits[0])


def shown(given: Input, value: Value) -> str:
    """A value of the ticket as a person reads it."""
    return show(value, given.unit) if given.unit is not None and isinstance(value, float) else str(value)
