"""Whether a procedure of single lists is surely without fault, and surely goes on after making safe, seen by following each
state apart.

For every place the values that each state may have there are collected over all ways together. Where even so every need is
met and every state ends as it must, no way meets a fault, and nothing has to be explored. Where not, a fault is possible, and
the exploration says whether it is one. Moves are those of `moves`; two lists side by side are not looked at here.
"""

from runner.lint.proof.conditions import Conditions
from runner.procedure.model import Facts, Procedure, Step, StepList

Held = tuple[int, ...]
"""For each state the values that it may have: bit 0 unknown, bit v + 1 value v. After the states, for each whether somebody
may have it: bit 0 nobody, bit 1 somebody."""

UNKNOWN_ONLY, FREE, TAKEN = 1, 1, 2


def clear(procedure: Procedure, conditions: Conditions) -> tuple[Held, ...] | None:
    """What states may be where each phase begins, where no way can meet a fault and every step begins on some way; None
    where that is not seen so easily."""
    if any(len(phase.lists) > 1 for phase in procedure.phases):
        return None
    if not all(conditions.feasible(frozenset({(at, True)})).possible for at in range(len(conditions.texts))):
        return None
    sweep = Sweep(procedure, conditions)
    held = tuple(1 << state.at_start + 1 for state in procedure.states) + (FREE,) * len(procedure.states)
    entries = []
    for phase in procedure.phases:
        entries.append(held)
        for steps in phase.lists:
            after = sweep.through(steps, held)
            if after is None:
                return None
            held = after
    return tuple(entries) if sweep.ends_well(held) else None


def goes_on(procedure: Procedure, conditions: Conditions, at: int, entry: Held) -> bool:
    """Whether a phase of one list surely comes to its end after making safe at any moment of it, by going back to its first step.

    For a need, a state that nobody knows is the worst that it can be: all that the phase makes or making safe changes is
    taken to be unknown, unless making safe brings it to what it is anyhow.
    """
    phase = procedure.phases[at]
    held = list(entry)
    changed = {fact for act in phase.make_safe or procedure.make_safe for fact in act.makes}
    for state in {state for steps in phase.lists for step in steps.steps for state, _ in step.makes}:
        held[state] = UNKNOWN_ONLY
    for state, value in changed:
        held[state] = held[state] if held[state] == 1 << value + 1 else UNKNOWN_ONLY
    sweep = Sweep(procedure, conditions)
    return all(sweep.through(steps, tuple(held)) is not None for steps in phase.lists)


class Sweep:
    """One procedure's lists, gone through with all that states may be."""

    def __init__(self, procedure: Procedure, conditions: Conditions) -> None:
        self.procedure, self.conditions = procedure, conditions
        self.count = len(procedure.states)
        self.one_owner = tuple(state.one_owner for state in procedure.states)

    def through(self, steps: StepList, held: Held) -> Held | None:
        """What states may be after a list; None where a need may be unmet in it."""
        entries: list[Held | None] = [held] + [None] * len(steps.steps)
        again = True
        while again:
            again = False
            for at, step in enumerate(steps.steps):
                before = entries[at]
                assert before is not None  # plain order comes to every place
                if any(before[state] != 1 << value + 1 for state, value in step.needs):
                    return None
                for to, after in self.onward(steps, at, step, before):
                    joined = join(entries[to], after)
                    if joined != entries[to]:
                        entries[to] = joined
                        again = again or to <= at
        return entries[-1]

    def onward(self, steps: StepList, at: int, step: Step, before: Held) -> list[tuple[int, Held]]:
        """The places that a step leads to, and what states may be there."""
        if not step.makes and not step.troubles:
            return [(at + 1, before)]  # begun, done, repeated, left out or passed over: nothing changes
        begun = self.with_begun(before, step.makes)
        found = [(at + 1, self.with_done(begun, step.makes))]
        if step.optional or self.may_not_apply(step):
            found.append((at + 1, before))
        if step.repeat is not None:
            found.append((at, begun))
        for trouble in step.troubles:
            match trouble.way_on:
                case "go_on":
                    found.append((at + 1, begun))
                case "back_to":
                    found.append(
                        (next(to for to, other in enumerate(steps.steps) if other.id == trouble.back_to), begun)
                    )
                case _:
                    found.append((at, begun))
        return found

    def may_not_apply(self, step: Step) -> bool:
        """Whether a step's condition may be false."""
        condition = self.conditions.of(step)
        return condition is not None and self.conditions.feasible(frozenset({(condition, False)})).possible

    def with_begun(self, held: Held, makes: Facts) -> Held:
        """What a step makes is unknown once it has begun, and taken where it has one owner."""
        found = list(held)
        for state, _ in makes:
            found[state] = UNKNOWN_ONLY
            if self.one_owner[state]:
                found[self.count + state] = TAKEN
        return tuple(found)

    def with_done(self, held: Held, makes: Facts) -> Held:
        """What a step makes has its value once it is done; the first value of a state with one owner sets it free."""
        found = list(held)
        for state, value in makes:
            found[state] = 1 << value + 1
            if self.one_owner[state]:
                found[self.count + state] = TAKEN if value else FREE
        return tuple(found)

    def ends_well(self, held: Held) -> bool:
        """Whether every state surely is what it must be at the end, and nobody has what has one owner."""
        wanted = (state.at_end for state in self.procedure.states)
        right = all(value is None or held[at] == 1 << value + 1 for at, value in enumerate(wanted))
        return right and all(owned == FREE for owned in held[self.count :])


def join(one: Held | None, other: Held) -> Held:
    """What states may be where ways from two places meet."""
    if one is None or one == other:
        return other
    return tuple([mine | theirs for mine, theirs in zip(one, other, strict=True)])
