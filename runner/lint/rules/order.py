"""Rules about the plain order: what the engine would refuse on every run, or on a run of some allowed job.

They read the walks over the engine's own order rules, so a fault found here is met at the press, not guessed at. They are
errors, and no comment silences them.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import UNKNOWN


@rule(Severity.ERROR, lasting=True)
def needs_unmet(analysis: Analysis) -> Iterator[Remark]:
    """A step needs a state that the steps before it do not give it.

    Why: the engine does not let the step begin, so the run stands still at the press; or the order itself is wrong and the
    state protects somebody. Of lists side by side one goes first and the other when that one has ended or must wait, in both
    orders: a step may wait for the other list, but not for what nobody brings. Every `when` is decided by jobs that the
    limits allow.
    Source: that preconditions hold on every way to a step is informed by DOE-STD-1029-92 (from memory); the rules of order
    are this program's own.

    Wrong:
        states:
          unwind_drive: {of: [stopped, running], at_end: stopped}
          unwind_guard: {of: [open, closed]}
        phases:
          - phase: Open
            park: after
            steps:
              - id: open-guard
                by: unwind
                needs: {unwind_drive: stopped}  # here
                do: Open the unwind guard.
                makes: {unwind_guard: open}
              - id: stop-drive
                by: unwind
                needs: {unwind_guard: open}
                do: Set the unwind speed to zero.
                makes: {unwind_drive: stopped}
    Right:
        states:
          unwind_drive: {of: [stopped, running], at_end: stopped}
          unwind_guard: {of: [open, closed], at_end: open}
        phases:
          - phase: Open
            park: after
            steps:
              - id: stop-drive
                by: unwind
                do: Set the unwind speed to zero.
                makes: {unwind_drive: stopped}
              - id: open-guard
                by: unwind
                needs: {unwind_drive: stopped}
                do: Open the unwind guard.
                makes: {unwind_guard: open}
    """
    told = set()
    for walk in analysis.walks:
        for stopped in walk.stopped:
            key = (stopped.step.place, stopped.step.id, stopped.state)
            if stopped.kind != "need" or key in told:
                continue
            told.add(key)
            tracked = analysis.procedure.states[stopped.state]
            yield Remark(
                analysis.within(stopped.step.place, "needs", tracked.name),
                f"`{stopped.step.id}` may not begin here: {stopped.words}",
                f"Let an earlier step make {tracked.name} {tracked.of[stopped.value]}, or put this step after the one that does.",
                stopped.way,
            )


@rule(Severity.ERROR, lasting=True)
def one_owner_left_taken(analysis: Analysis) -> Iterator[Remark]:
    """A list ends with something taken that a step in the other list needs.

    Why: what has one owner at a time, such as a crane, is free for the other person only when its owner has brought it back
    to its first value. The other list then waits for somebody who has nothing left to do.
    Source: a single person in control of the crane or of inching is informed by guidance on guarding printing presses
    (WorkSafe Victoria, from memory); the rule of ownership is this program's own.

    Wrong:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          crane: {of: [free, carrying], at_start: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            together:
              unwind:
                - id: lift-new-roll
                  do: Lift the new roll.
                  makes: {crane: carrying}
              rewind:
                - id: lift-core
                  needs: {crane: carrying}  # here
                  do: Lift the rewind core.
    Right:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            together:
              unwind:
                - id: lift-new-roll
                  needs: {crane: free}
                  do: Lift the new roll.
                  makes: {crane: carrying}
                - id: free-crane
                  do: Unhook the lifting beam.
                  makes: {crane: free}
              rewind:
                - id: lift-core
                  needs: {crane: free}
                  do: Lift the rewind core by hand.
    """
    told = set()
    for walk in analysis.walks:
        for stopped in walk.stopped:
            key = (stopped.step.place, stopped.step.id, stopped.state)
            if stopped.kind != "owner" or key in told:
                continue
            told.add(key)
            tracked = analysis.procedure.states[stopped.state]
            part = "needs" if stopped.state in dict(stopped.step.needs) else "makes"
            yield Remark(
                analysis.within(stopped.step.place, part, tracked.name),
                f"`{stopped.step.id}` waits for ever: {stopped.words} and does not bring it back",
                f"Let the list that takes {tracked.name} make it {tracked.of[0]} again before it ends.",
                stopped.way,
            )


@rule(Severity.ERROR, lasting=True)
def lists_wait_for_each_other(analysis: Analysis) -> Iterator[Remark]:
    """Lists side by side can come to where none of them can go on, as when each holds what the other waits for.

    Why: whether it comes to that depends on who is quicker, so it may go well for years. Every mixing of the lists of a phase is
    walked, with steps that overlap; where there are more than 20000 positions, nothing is said.
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
    for found in analysis.deadlocks:
        first = found.waits[0]
        steps = " and ".join(f"`{wait.step.id}`" for wait in found.waits)
        words = "wait for each other for ever" if len(found.waits) > 1 else f"waits for ever: {first.words}"
        state = min(first.states, default=None)
        part = "needs" if state in dict(first.step.needs) else "makes"
        keys = (part, analysis.procedure.states[state].name) if state is not None else ("id",)
        yield Remark(
            analysis.within(first.step.place, *keys),
            f"the lists of `{found.phase.name}` can come to where none goes on: {steps} {words}",
            "Let all lists take things in the same order, or let a step wait before it takes what another list needs.",
            found.way,
        )


@rule(Severity.ERROR, lasting=True)
def state_wrong_at_end(analysis: Analysis) -> Iterator[Remark]:
    """A state is not what `at_end` says when the last step is done.

    Why: the run cannot be finished, and the press is left otherwise than the next crew expects it.
    Source: stated exit conditions are informed by NUREG-0899 and ISA-106 (both from memory).

    Wrong:
        states:
          unwind_guard: {of: [open, closed], at_end: closed}  # here
        phases:
          - phase: Open
            park: after
            steps:
              - id: open-guard
                by: unwind
                do: Open the unwind guard.
                makes: {unwind_guard: open}
    Right:
        states:
          unwind_guard: {of: [open, closed], at_end: closed}
        phases:
          - phase: Open
            park: after
            steps:
              - id: open-guard
                by: unwind
                do: Open the unwind guard.
                makes: {unwind_guard: open}
              - id: close-guard
                by: unwind
                do: Close the unwind guard.
                makes: {unwind_guard: closed}
    """
    told = set()
    for walk in analysis.walks:
        for state, wanted in walk.missing:
            if state in told:
                continue
            told.add(state)
            tracked = analysis.procedure.states[state]
            found = walk.end.states[state]
            words = "nobody has said what it is" if found == UNKNOWN else f"it is {tracked.of[found]}"
            yield Remark(
                analysis.within(tracked.place, "at_end"),
                f"{tracked.label} must be {tracked.of[wanted]} at the end; {words}",
                f"Let a last step make {tracked.name} {tracked.of[wanted]}.",
                (*walk.ways[state], "the last step is done"),
            )


@rule(Severity.WARNING, lasting=True)
def one_owner_kept_at_end(analysis: Analysis) -> Iterator[Remark]:
    """The procedure ends and somebody still has what has one owner at a time.

    Why: a crane that still carries, or a lock that is still on, is left to people who do not know of it.
    Source: common practice, no source.

    Wrong:
        states:
          crane: {of: [free, carrying], at_start: free, one_owner: true}  # here
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                needs: {crane: free}
                do: Lift the roll.
                makes: {crane: carrying}
    Right:
        states:
          crane: {of: [free, carrying], at_start: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                needs: {crane: free}
                do: Lift the roll.
                makes: {crane: carrying}
              - id: unhook
                by: unwind
                do: Unhook the lifting beam.
                makes: {crane: free}
    """
    told = set()
    for walk in analysis.walks:
        wrong = {state for state, _ in walk.missing}
        for state, owner in enumerate(walk.end.owners):
            if not owner or state in told or state in wrong:
                continue
            told.add(state)
            tracked = analysis.procedure.states[state]
            yield Remark(
                tracked.place,
                f"{tracked.label} still belongs to `{owner}` at the end",
                f"Let a last step make {tracked.name} {tracked.of[0]}.",
                walk.ways[state],
            )
