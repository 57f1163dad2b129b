"""Rules about lists side by side: that they cannot come to wait for each other, and that none works against the other."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import Step, StepList

if TYPE_CHECKING:
    from runner.lint.proof.faults import Fault


@rule(Severity.ERROR, lasting=True)
def lists_wait_for_each_other(analysis: Analysis) -> Iterator[Remark]:
    """Lists side by side can come to where none of them can go on, as when each holds what the other waits for.

    Why: whether it comes to that depends on who is quicker, so it may go well for years. Every mixing of the lists of a phase is
    proved, with steps that overlap; where that is too much to be proved, `proof-not-finished` says so.
    Source: circular wait is informed by Coffman, Elphick and Shoshani, System Deadlocks, 1971 (from memory); the rules of order are
    this program's own.

    Wrong:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          crane: {of: [free, carrying], at_start: free, one_owner: true}
          trolley: {of: [free, loaded], at_start: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            together:
              unwind:
                - {id: lift-roll, do: Lift the new roll., needs: {crane: free}, makes: {crane: carrying}}
                - {id: load-roll, do: Put the roll on the trolley., needs: {trolley: free}, makes: {trolley: loaded}}  # here
                - {id: free-both, do: Unhook and unload., makes: {crane: free, trolley: free}}
              rewind:
                - {id: load-core, do: Put the core on the trolley., needs: {trolley: free}, makes: {trolley: loaded}}
                - {id: lift-core, do: Lift the core off., needs: {crane: free}, makes: {crane: carrying}}
                - {id: free-all, do: Unhook and unload., makes: {crane: free, trolley: free}}
    Right:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          crane: {of: [free, carrying], at_start: free, one_owner: true}
          trolley: {of: [free, loaded], at_start: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            together:
              unwind:
                - {id: lift-roll, do: Lift the new roll., needs: {crane: free}, makes: {crane: carrying}}
                - {id: load-roll, do: Put the roll on the trolley., needs: {trolley: free}, makes: {trolley: loaded}}
                - {id: free-both, do: Unhook and unload., makes: {crane: free, trolley: free}}
              rewind:
                - {id: lift-core, do: Lift the core off., needs: {crane: free}, makes: {crane: carrying}}
                - {id: load-core, do: Put the core on the trolley., needs: {trolley: free}, makes: {trolley: loaded}}
                - {id: free-all, do: Unhook and unload., makes: {crane: free, trolley: free}}
    """
    for fault in analysis.plain_faults:
        if fault.kind == "deadlock":
            yield deadlock_remark(analysis, fault)


def deadlock_remark(analysis: Analysis, fault: "Fault") -> Remark:
    """The lists that can go on no more, at what the first of them waits for."""
    first = fault.waits[0]
    steps = " and ".join(f"`{wait.step.id}`" for wait in fault.waits)
    phase = next(p for p in analysis.procedure.phases for one in p.lists if first.step in one.steps)
    state = min((block.state for block in first.blocks), default=None)
    part = "needs" if state in dict(first.step.needs) else "makes"
    keys = (part, analysis.procedure.states[state].name) if state is not None else ("id",)
    return Remark(
        analysis.within(first.step.place, *keys),
        f"the lists of `{phase.name}` can come to where none goes on: {steps} wait for each other for ever",
        "Let all lists take things in the same order, or let a step wait before it takes what another list needs.",
        analysis.way_to(fault),
    )


@rule(Severity.NOTE)
def changes_what_the_other_list_relies_on(analysis: Analysis) -> Iterator[Remark]:
    """A step changes a state that several steps of the other list, one after the other, need as it is.

    Why: between two of them nothing keeps the state. The engine lets no step begin on a wrong state, so nobody is led into it; but one
    person opens or starts something in the middle of the other's work, and the other stands waiting beside it.
    Source: control of work that is done side by side is informed by HSE guidance on guarding printing presses (from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          drive: {of: [stopped, creeping], at_start: stopped}
        phases:
          - phase: Thread
            park: after
            together:
              unwind:
                - {id: thread, do: Thread the idlers., needs: {drive: stopped}}
                - {id: tape, do: Tape the web to the old end., needs: {drive: stopped}}
              rewind:
                - {id: creep, do: Let the drive creep., makes: {drive: creeping}}  # here
                - {id: halt, do: Stop the drive., makes: {drive: stopped}}
    Right:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          drive: {of: [stopped, creeping], at_start: stopped}
          unwind_side: {of: [open, threaded], at_start: open}
        phases:
          - phase: Thread
            park: after
            together:
              unwind:
                - {id: thread, do: Thread the idlers., needs: {drive: stopped}}
                - {id: tape, do: Tape the web to the old end., needs: {drive: stopped}, makes: {unwind_side: threaded}}
              rewind:
                - {id: creep, do: Let the drive creep., needs: {unwind_side: threaded}, makes: {drive: creeping}}
                - {id: halt, do: Stop the drive., makes: {drive: stopped}}
    """
    for phase in analysis.procedure.phases:
        for mine in phase.lists:
            for other in phase.lists:
                if mine is not other:
                    yield from _changes(analysis, mine, other)


def _changes(analysis: Analysis, mine: StepList, other: StepList) -> Iterator[Remark]:
    """Steps of one list that change what a stretch of the other relies on, and do not wait until that is over."""
    for state, value in stretches(other):
        after = {made for step in other.steps[last_need(other, state, value) :] for made in step.makes}
        for step in mine.steps:
            changed = dict(step.makes).get(state, value)
            if changed == value or any(fact in after for fact in earlier_needs(mine, step)):
                continue
            tracked = analysis.procedure.states[state]
            yield Remark(
                analysis.within(step.place, "makes", tracked.name),
                f"`{step.id}` makes {tracked.label} {tracked.of[changed]} while steps of the other list rely on {tracked.of[value]}",
                "Let it need a state that the last of those steps makes.",
            )


def stretches(steps: StepList) -> tuple[tuple[int, int], ...]:
    """The needs that two steps of a list have one after the other, with no step between that makes the state."""
    found: dict[tuple[int, int], None] = {}
    open_needs: set[tuple[int, int]] = set()
    for step in steps.steps:
        for need in step.needs:
            if need in open_needs:
                found[need] = None
        made = {state for state, _ in step.makes}
        open_needs = {need for need in (*open_needs, *step.needs) if need[0] not in made}
    return tuple(found)


def last_need(steps: StepList, state: int, value: int) -> int:
    """The place of the last step that needs a state so."""
    return max(at for at, step in enumerate(steps.steps) if (state, value) in step.needs)


def earlier_needs(steps: StepList, last: Step) -> set[tuple[int, int]]:
    """What a step and those before it in its list need."""
    before = steps.steps[: steps.steps.index(last) + 1]
    return {need for step in before for need in step.needs}
