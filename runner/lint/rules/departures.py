"""Rules about what happens when one thing goes otherwise than plain order: a trouble, an optional step left out.

Each takes one departure at a time; several at once are for a proof over all paths. What is also wrong in plain order is not
told again here.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.walk import Walk
from runner.procedure.finding import Severity


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
    for walk, words, way in _only_by_departing(analysis):
        if walk.departure is not None and walk.departure.trouble is None:
            step = walk.departure.step
            yield Remark(
                analysis.within(step.place, "optional"),
                f"without the optional step `{step.id}` {words}",
                "Make it a step that must be done, or let another step give the state.",
                way,
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
    for walk, words, way in _only_by_departing(analysis):
        if walk.departure is not None and walk.departure.trouble is not None:
            trouble = walk.departure.trouble
            part = "back_to" if trouble.way_on == "back_to" else "then"
            yield Remark(
                analysis.within(trouble.place, part),
                f"after '{trouble.sign}' {words}",
                "Go back to a step that makes the state anew, or add one that has it looked at.",
                way,
            )


def _only_by_departing(analysis: Analysis) -> Iterator[tuple[Walk, str, tuple[str, ...]]]:
    """What goes wrong in each departing walk first, and in no plain walk: the walk, words and the way there."""
    plain = {(stopped.step.id, stopped.state) for walk in analysis.walks for stopped in walk.stopped}
    wrong = {fact for walk in analysis.walks for fact in walk.missing}
    for walk in analysis.departures:
        stopped = next((s for s in walk.stopped if (s.step.id, s.state) not in plain), None)
        missing = next((fact for fact in walk.missing if fact not in wrong), None)
        if stopped is not None:
            yield walk, f"`{stopped.step.id}` may not begin: {stopped.words}", stopped.way
        elif missing is not None:
            tracked = analysis.procedure.states[missing[0]]
            words = f"{tracked.label} is not {tracked.of[missing[1]]} at the end"
            yield walk, words, (*walk.ways[missing[0]], "the last step is done")
