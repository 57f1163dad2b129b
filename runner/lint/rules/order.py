"""Rules about plain order: what the engine would refuse on every run, or on a run of some allowed job.

They read the proof over the engine's own order rules, every mixing of lists side by side among it, so a fault found here is
met at the press, not guessed at. They are errors, and no comment silences them.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity


@rule(Severity.ERROR, lasting=True)
def needs_unmet(analysis: Analysis) -> Iterator[Remark]:
    """A step needs a state that the steps before it do not give it.

    Why: the engine does not let the step begin, so the run stands still at the press; or the order itself is wrong and the
    state protects somebody. Lists side by side go on in every mixing: a step may wait for the other list, but not for what
    nobody brings. Every `when` is decided by jobs and readings that the limits allow, and stays so until it is read again.
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
    for fault in analysis.plain_faults:
        if fault.kind == "need" and fault.step is not None:
            tracked = analysis.procedure.states[fault.state]
            wanted = tracked.of[fault.value]
            yield Remark(
                analysis.within(fault.step.place, "needs", tracked.name),
                f"`{fault.step.id}` may not begin here: {fault.words}",
                f"Let an earlier step make {tracked.name} {wanted}, or put this step after the one that does.",
                analysis.way_to(fault),
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
    for fault in analysis.plain_faults:
        if fault.kind == "owner" and fault.step is not None:
            tracked = analysis.procedure.states[fault.state]
            part = "needs" if fault.state in dict(fault.step.needs) else "makes"
            yield Remark(
                analysis.within(fault.step.place, part, tracked.name),
                f"`{fault.step.id}` waits for ever: {fault.words} and does not bring it back",
                f"Let the list that takes {tracked.name} make it {tracked.of[0]} again before it ends.",
                analysis.way_to(fault),
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
    for fault in analysis.plain_faults:
        if fault.kind == "end":
            tracked = analysis.procedure.states[fault.state]
            yield Remark(
                analysis.within(tracked.place, "at_end"),
                f"{tracked.label} must be {tracked.of[fault.value]} at the end; {fault.words}",
                f"Let a last step make {tracked.name} {tracked.of[fault.value]}.",
                analysis.way_to(fault),
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
    wrong = {fault.state for fault in analysis.plain_faults if fault.kind == "end"}
    for fault in analysis.plain_faults:
        if fault.kind == "kept" and fault.state not in wrong:
            tracked = analysis.procedure.states[fault.state]
            yield Remark(
                tracked.place,
                f"{tracked.label} still belongs to `{fault.words}` at the end",
                f"Let a last step make {tracked.name} {tracked.of[0]}.",
                analysis.way_to(fault),
            )
