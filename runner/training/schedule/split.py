"""Phases with one list: what two people could do of it side by side, if it were split into two lists.

Each person keeps the order of the list. A step waits for every earlier one that it rests on, for a state or a value; beside a
step that wants everybody's eyes (see `alone`) nothing is arranged. What a state with one owner is about stays in one pair of
hands, and so does a step with the one that its trouble goes back to. Branch and bound over who takes which step
when: the first plan is the one that comes of itself, and branches that cannot become shorter are left. The plan is then
played through `engine.flow` as two lists, and told only where that allows it.
"""

from collections.abc import Sequence
from typing import NamedTuple

from runner.engine import flow
from runner.engine.held import own_values
from runner.engine.position import Cursor, Position
from runner.procedure.model import Procedure, Step, StepList
from runner.training.schedule.timed import Seconds, Timed, timed

MOST_NODES = 150_000
"""Branches looked at; beyond that the best plan so far is told with the bound."""
PEOPLE = 2


class Work(NamedTuple):
    """What has to be done, by place in the list."""

    seconds: tuple[float, ...]
    after: tuple[tuple[int, ...], ...]
    """For each step the earlier ones that must have ended."""
    together: tuple[frozenset[int], ...]
    """Steps that one person must do."""


class Shared(NamedTuple):
    """A plan for two people."""

    person: tuple[int, ...]
    """Who does each step."""
    start: tuple[float, ...]
    end: float
    proved: bool
    """True where no plan is shorter."""
    bound: float
    """No plan is shorter than this."""


def work_of(procedure: Procedure, steps: Sequence[Step], seconds: Seconds, owners: Sequence[str] = ()) -> Work:
    """The steps of a list with what they wait for; `owners` has who owns what as the list begins, where somebody does."""
    after = tuple(
        tuple(other for other in range(at) if rests(procedure, step, steps[other])) for at, step in enumerate(steps)
    )
    return Work(tuple(seconds[step.id] for step in steps), after, owned(procedure, steps, owners))


def rests(procedure: Procedure, step: Step, earlier: Step) -> bool:
    """Whether a step must wait for an earlier one of its list."""
    needs, makes = {at for at, _ in step.needs}, {at for at, _ in step.makes}
    needed, made = {at for at, _ in earlier.needs}, {at for at, _ in earlier.makes}
    if (needs & made) or (makes & (made | needed)) or alone(step) or alone(earlier):
        return True
    return bool(own_values(procedure, earlier) & step.uses)


def alone(step: Step) -> bool:
    """Whether nothing is arranged beside a step: it has a hold, a caution, a wait, a second look, or a trouble that stops the
    run, such as a try whether the press starts. Common practice, no source."""
    return (
        step.hold is not None
        or bool(step.cautions)
        or step.second is not None
        or any(ask.kind == "wait" for ask in step.asks)
        or any(trouble.way_on == "stop" for trouble in step.troubles)
    )


def owned(procedure: Procedure, steps: Sequence[Step], owners: Sequence[str]) -> tuple[frozenset[int], ...]:
    """Steps from the one that takes a state with one owner to the one that brings it back; a step with the one that it may
    go back to."""
    places = {step.id: at for at, step in enumerate(steps)}
    found = [
        frozenset({at, places[trouble.back_to]})
        for at, step in enumerate(steps)
        for trouble in step.troubles
        if trouble.back_to in places
    ]
    for state, tracked in enumerate(procedure.states):
        if not tracked.one_owner:
            continue
        group: set[int] = set()
        held = bool(owners and owners[state])
        for at, step in enumerate(steps):
            made = dict(step.makes).get(state)
            if made is not None or (held and state in dict(step.needs)):
                group.add(at)
            held = held if made is None else made != 0
            if made == 0:
                found.append(frozenset(group))
                group = set()
        found.append(frozenset(group))
    return tuple(group for group in found if len(group) > 1)


class Search:
    """Branch and bound over one list."""

    def __init__(self, work: Work) -> None:
        self.work = work
        count = len(work.seconds)
        self.tail = [0.0] * count
        """Seconds of the longest chain from a step on, with it."""
        for at in reversed(range(count)):
            later = (self.tail[other] for other in range(at + 1, count) if at in work.after[other])
            self.tail[at] = work.seconds[at] + max(later, default=0.0)
        self.bound = max(max(self.tail, default=0.0), sum(work.seconds) / PEOPLE)
        self.nodes = 0
        self.best = sum(work.seconds)
        self.found: tuple[tuple[int, ...], tuple[float, ...]] = ((0,) * count, running_sum(work.seconds))
        self.seen: set[tuple[int, tuple[float, ...], tuple[int, ...]]] = set()

    def run(self) -> Shared:
        """The best plan that was found."""
        count = len(self.work.seconds)
        if count:
            self.branch(0, [-1] * count, [0.0] * count, [0.0] * PEOPLE)
        proved = self.nodes < MOST_NODES or self.best <= self.bound + 1e-9
        person, start = self.found
        return Shared(person, start, self.best, proved, self.best if proved else self.bound)

    def branch(self, at: int, person: list[int], start: list[float], free: list[float]) -> None:
        """Steps before `at` have a person and a time; since each keeps the order of the list, the next is given to either."""
        self.nodes += 1
        if self.nodes >= MOST_NODES:
            return
        seconds, count = self.work.seconds, len(self.work.seconds)
        if at == count:
            end = max(free)
            if end < self.best - 1e-9:
                self.best, self.found = end, (tuple(person), tuple(start))
            return
        ready = max((start[other] + seconds[other] for other in self.work.after[at]), default=0.0)
        tried: set[tuple[float, float]] = set()
        for who in sorted(range(PEOPLE), key=lambda one: max(free[one], ready)):
            if not self.may(at, who, person):
                continue
            begin = max(free[who], ready)
            if (begin, free[who]) in tried and not self.work.together:
                continue  # the other one is as free: the plan is the same with the two exchanged
            tried.add((begin, free[who]))
            if max(begin + self.tail[at], self.least(at, start, free, begin, who)) >= self.best - 1e-9:
                continue
            before, free[who], person[at], start[at] = free[who], begin + seconds[at], who, begin
            if not self.known(at + 1, person, start, free):
                self.branch(at + 1, person, start, free)
            free[who], person[at] = before, -1

    def may(self, at: int, who: int, person: list[int]) -> bool:
        """Whether what the step is about is in nobody else's hands."""
        return all(person[other] in (-1, who) for group in self.work.together if at in group for other in group)

    def least(self, at: int, start: list[float], free: list[float], begin: float, who: int) -> float:
        """No end is sooner than what is left shared evenly, nor than the longest chain after what has a time."""
        seconds = self.work.seconds
        others = sum(free) - free[who] + begin + sum(seconds[at:])
        chains = 0.0
        for later in range(at + 1, len(seconds)):
            ready = max((start[o] + seconds[o] for o in self.work.after[later] if o < at), default=0.0)
            chains = max(chains, ready + self.tail[later])
        return max(others / PEOPLE, chains)

    def known(self, at: int, person: list[int], start: list[float], free: list[float]) -> bool:
        """Whether the same was reached before: what later steps wait for, how free the two are, whose hands hold what."""
        seconds = self.work.seconds
        ends = tuple(
            max((start[o] + seconds[o] for o in self.work.after[later] if o < at), default=0.0)
            for later in range(at, len(seconds))
        )
        held = tuple(max((person[o] for o in group if o < at), default=-1) for group in self.work.together)
        low, high = sorted(free)
        if held and free[0] > free[1]:
            held = (*held, 1)  # whose hands are full counts: the two are not the same with names exchanged
        key = (at, (low, high, *(max(end, low) for end in ends)), held)
        if key in self.seen:
            return True
        self.seen.add(key)
        return False


def running_sum(seconds: Sequence[float]) -> tuple[float, ...]:
    """When each begins, one after the other."""
    found, at = [], 0.0
    for one in seconds:
        found.append(at)
        at += one
    return tuple(found)


def shared(work: Work) -> Shared:
    """The best that two people could do."""
    return Search(work).run()


def plan_of(
    procedure: Procedure, position: Position, steps: Sequence[Step], found: Shared, seconds: Seconds
) -> tuple[Timed, ...]:
    """The plan, where the engine allows it as two lists; empty where it does not."""
    plan = tuple(timed(step, found.person[at], found.start[at], seconds[step.id]) for at, step in enumerate(steps))
    return plan if allowed(procedure, position, steps, plan) else ()


def allowed(procedure: Procedure, position: Position, steps: Sequence[Step], plan: Sequence[Timed]) -> bool:
    """Whether `engine.flow` lets each step begin when the plan says so, with the list of the phase that is on split into the
    two of the plan."""
    mine = [[at for at in range(len(steps)) if plan[at].person == who] for who in range(PEOPLE)]
    names = [owners_among([steps[at] for at in own], position) for own in mine]
    if any(len(own) > 1 for own in names):
        return False  # a step wants what is in two people's hands
    lists = tuple(
        StepList(next(iter(names[who]), f"person {who + 1}"), tuple(steps[at] for at in own))
        for who, own in enumerate(mine)
    )
    phases = list(procedure.phases)
    phases[position.phase] = phases[position.phase]._replace(lists=lists)
    split = procedure._replace(phases=tuple(phases))
    now = position._replace(cursors=(Cursor(0),) * PEOPLE)
    moves = [(round(one.start, 6), True, at) for at, one in enumerate(plan)]
    moves += [(round(one.end, 6), False, at) for at, one in enumerate(plan)]
    for _, begins, at in sorted(moves):  # what ends at a time ends before anything begins then
        lane = plan[at].person
        if not begins:
            now = flow.done(split, now, lane)
        elif flow.blocks(split, now, lane):
            return False
        else:
            now = flow.begun(split, now, lane)
    return True


def owners_among(steps: Sequence[Step], position: Position) -> frozenset[str]:
    """Who owns, as the list begins, something that these steps need or make."""
    touched = {state for step in steps for state, _ in (*step.needs, *step.makes)}
    return frozenset(position.owners[state] for state in touched) - {""}
