"""Rules about troubles and repeats: every way out has an end that somebody notices."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis, lists_of
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity


@rule(Severity.NOTE)
def trouble_loops(analysis: Analysis) -> Iterator[Remark]:
    """A trouble leads back over a step with a danger, and nobody but the person doing it notices how often.

    Why: with no hold, no second look and no exception that blocks the end, a dangerous step can be done again all shift. Each round
    hides that something is wrong with the press or the procedure.
    Source: loops with an exit and a count are informed by guidance on computer-based procedures (NUREG/CR-6634, from memory).

    Wrong:
        cautions:
          hanging-load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                cautions: [hanging-load]
                do: Lift the roll into the chucks.
                trouble:
                  - {sign: The roll swings, do: Lower it to the floor., back_to: lift}  # here
    Right:
        cautions:
          hanging-load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                cautions: [hanging-load]
                do: Lift the roll into the chucks.
                trouble:
                  - {sign: The roll swings, do: Lower it to the floor., back_to: lift, blocking: true}
    """
    for steps in lists_of(analysis.procedure):
        numbers = {step.id: number for number, step in enumerate(steps.steps)}
        for number, step in enumerate(steps.steps):
            for trouble in step.troubles:
                first = numbers.get(trouble.back_to)
                if trouble.way_on != "back_to" or trouble.blocking or first is None:
                    continue
                again = steps.steps[first : number + 1]
                danger = next((s for s in again if any(caution.signal == "danger" for caution in s.cautions)), None)
                if danger is not None and not any(step.hold or step.second for step in again):
                    yield Remark(
                        analysis.within(trouble.place, "back_to"),
                        f"'{trouble.sign}' may lead back over `{danger.id}`, which has a danger, as often as the person likes",
                        "Add `blocking: true`, or a hold or second look to a step that is done again.",
                    )


@rule(Severity.WARNING)
def repeat_without_way_on(analysis: Analysis) -> Iterator[Remark]:
    """A step is repeated a number of times, and nothing says what then.

    Why: after the last time it counts as out of limits, and a person who has no way on makes one up.
    Source: a stated end of repeated steps is informed by DOE-STD-1029-92.

    Wrong:
        phases:
          - phase: Level
            park: after
            steps:
              - id: level
                by: unwind
                do: Turn the levelling screw by one notch.
                read: {tilt: {ask: Tilt on the gauge, unit: mm, at_most: 50, else: stuck}}
                repeat: {until: "tilt < 0.5 [mm]", at_most: 5}  # here
                trouble: [{id: stuck, sign: The screw is stuck, do: Tell the fitter., then: stop}]
    Right:
        phases:
          - phase: Level
            park: after
            steps:
              - id: level
                by: unwind
                do: Turn the levelling screw by one notch.
                read: {tilt: {ask: Tilt on the gauge, unit: mm, at_most: 50, else: stuck}}
                repeat: {until: "tilt < 0.5 [mm]", at_most: 5, else: stuck}
                trouble: [{id: stuck, sign: The screw is stuck, do: Tell the fitter., then: stop}]
    """
    for step in analysis.steps:
        if step.repeat is not None and not step.repeat.otherwise:
            yield Remark(
                analysis.within(step.place, "repeat"),
                f"after {step.repeat.at_most} times `{step.id}` has no way on",
                "Add `else` with the id of a trouble of this step.",
            )
