"""Rules about what happens when something goes otherwise than plain order: a trouble, a step left out or done once more.

They read the proof over every way; each fault is told at the first departure of its nearest way, the one with fewest of them.
What is also wrong in plain order is not told again here.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity

if TYPE_CHECKING:
    from runner.lint.proof.faults import Fault


@rule(Severity.WARNING)
def left_out_step_needed(analysis: Analysis) -> Iterator[Remark]:
    """A step is optional, and without it a later step may not begin or a state is wrong at the end.

    Why: the person may leave the step out, and finds out many steps later that the run stands still.
    Source: common practice, no source.

    Wrong:
        states:
          web: {of: [cut, joined]}
        phases:
          - phase: Join
            park: after
            steps:
              - id: join
                by: unwind
                optional: reason  # here
                do: Join the new web.
                makes: {web: joined}
              - id: pull
                by: unwind
                needs: {web: joined}
                do: Pull the web through.
    Right:
        states:
          web: {of: [cut, joined]}
        phases:
          - phase: Join
            park: after
            steps:
              - id: join
                by: unwind
                do: Join the new web.
                makes: {web: joined}
              - id: pull
                by: unwind
                needs: {web: joined}
                do: Pull the web through.
    """
    for fault, departure in analysis.departing_faults:
        if departure.kind == "is left out":
            yield Remark(
                analysis.within(departure.step.place, "optional"),
                f"without the optional step `{departure.step.id}` {what_is_wrong(analysis, fault)}",
                "Make it a step that must be done, or let another step give the state.",
                analysis.way_to(fault),
            )


@rule(Severity.WARNING)
def trouble_leads_to_unmet_need(analysis: Analysis) -> Iterator[Remark]:
    """After a trouble the way on comes to a step that may not begin, or ends with a state wrong.

    Why: what a step makes stays unknown when it ends in a trouble, and unknown meets no need. Going on then stands still until
    somebody looks and says what the state is, in the middle of a trouble.
    Source: that preconditions hold on arrival by a branch is informed by DOE-STD-1029-92 (from memory).

    Wrong:
        states:
          chucks: {of: [open, tight], at_end: tight}
        phases:
          - phase: Mount
            park: after
            steps:
              - id: open-chucks
                by: unwind
                do: Open both chucks.
                makes: {chucks: open}
              - id: tighten
                by: unwind
                needs: {chucks: open}
                do: Inflate both chucks.
                makes: {chucks: tight}
                trouble:
                  - {sign: A chuck leaks, do: Bleed both chucks., back_to: tighten}  # here
    Right:
        states:
          chucks: {of: [open, tight], at_end: tight}
        phases:
          - phase: Mount
            park: after
            steps:
              - id: open-chucks
                by: unwind
                do: Open both chucks.
                makes: {chucks: open}
              - id: tighten
                by: unwind
                needs: {chucks: open}
                do: Inflate both chucks.
                makes: {chucks: tight}
                trouble:
                  - {sign: A chuck leaks, do: Bleed both chucks., back_to: open-chucks}
    """
    for fault, departure in analysis.departing_faults:
        if departure.trouble is not None:
            trouble = departure.trouble
            part = "back_to" if trouble.way_on == "back_to" else "then"
            yield Remark(
                analysis.within(trouble.place, part),
                f"after '{trouble.sign}' {what_is_wrong(analysis, fault)}",
                "Go back to a step that makes the state anew, or add one that has it looked at.",
                analysis.way_to(fault),
            )


def what_is_wrong(analysis: Analysis, fault: "Fault") -> str:
    """What only a departure leads to, in words that follow on what departs."""
    if fault.kind == "deadlock":
        return (
            f"the lists can wait for each other for ever: {' and '.join(f'`{wait.step.id}`' for wait in fault.waits)}"
        )
    if fault.step is not None:
        return f"`{fault.step.id}` may not begin: {fault.words}"
    tracked = analysis.procedure.states[fault.state]
    if fault.kind == "kept":
        return f"{tracked.label} still belongs to `{fault.words}` at the end"
    return f"{tracked.label} is not {tracked.of[fault.value]} at the end"
