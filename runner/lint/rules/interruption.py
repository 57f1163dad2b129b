"""Rules about being interrupted: where it is safe to stop, and how the press is made safe."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.parking import stretches

HALF_AN_HOUR = 1800.0
"""Seconds."""


@rule(Severity.WARNING)
def no_parking_place(analysis: Analysis) -> Iterator[Remark]:
    """No phase says where the work may safely be interrupted.

    Why: every run is interrupted some day, and a shift may end in the middle. Without a parking place the crew finds out with
    the roll on the crane that this was none.
    Source: planning work to end at a safe point is informed by HSE guidance on shift handover.

    Wrong:
        phases:
          - phase: Clean  # here
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    Right:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    """
    phases = analysis.procedure.phases
    if phases and not any(phase.park for phase in phases):
        yield Remark(
            phases[0].place,
            "no phase says where the work may be interrupted",
            "Add `park: after` where the press can be left alone once the phase is done, or `park: throughout`.",
        )


@rule(Severity.WARNING, lasting=True)
def no_way_to_make_safe(analysis: Analysis) -> Iterator[Remark]:
    """There is no list of acts that stop the press and make it safe.

    Why: stopping and making safe is free at every moment, past every hold. What is to be done then is thought of at the desk, not
    while something burns.
    Source: a stated way into a safe condition is informed by ANSI/ISA-88.00.01, holding and aborting (from memory).

    Wrong:
        # without make_safe
        phases:
          - phase: Clean  # here
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    Right:
        make_safe:
          - {do: Press the stop button of the unwind.}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    """
    without = [phase for phase in analysis.procedure.phases if not phase.make_safe]
    if without:
        told = (
            "no phase says" if len(without) == len(analysis.procedure.phases) else f"`{without[0].name}` does not say"
        )
        yield Remark(
            without[0].place,
            f"{told} how the press is stopped and made safe",
            "Add `make_safe`, a list of acts, to the procedure or to the phase.",
        )


@rule(Severity.NOTE)
def long_way_to_parking_place(analysis: Analysis) -> Iterator[Remark]:
    """Between two parking places lies more than half an hour of work.

    Why: whoever begins it late in a shift hands over a press that is half threaded or a roll on the crane.
    Source: work that ends within a shift is informed by HSE guidance on shift handover; half an hour is common practice, no source.

    Wrong:
        phases:
          - phase: Strip out  # here
            steps:
              - {id: strip, by: unwind, do: Take the old roll off., expect: 20 min}
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Put the new roll on., expect: 20 min}
    Right:
        phases:
          - phase: Strip out
            park: after
            steps:
              - {id: strip, by: unwind, do: Take the old roll off., expect: 20 min}
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Put the new roll on., expect: 20 min}
    """
    if not any(phase.park for phase in analysis.procedure.phases):
        return
    if analysis.site is not None and analysis.site.facts.park_within_s:
        return  # the site has a figure of its own, and a rule of its own speaks
    for stretch in stretches(analysis.procedure):
        if stretch.seconds > HALF_AN_HOUR:
            yield Remark(
                analysis.procedure.phases[stretch.first].place,
                f"from here {stretch.seconds / 60:.0f} min of work pass before the next place to be interrupted",
                "Look for a place in between where the press can be left alone, and mark its phase with `park: after`.",
            )
            return


@rule(Severity.NOTE)
def running_work_while_stopped(analysis: Analysis) -> Iterator[Remark]:
    """Work that could be done while the press runs stands between phases in which it is stopped.

    Why: every minute of it is a minute in which the press makes nothing. Moved before the stop or behind the first good metre, it
    costs none.
    Source: internal and external work are told apart in the literature on setup reduction (Shingo, from memory).

    Wrong:
        phases:
          - {phase: Strip out, press: stopped, park: after, steps: [{id: strip, by: unwind, do: Take the old roll off.}]}
          - {phase: Stage, press: running, park: after, steps: [{id: stage, by: unwind, do: Bring the new roll.}]}  # here
          - {phase: Load, press: stopped, park: after, steps: [{id: load, by: unwind, do: Put the new roll on.}]}
    Right:
        phases:
          - {phase: Stage, press: running, park: after, steps: [{id: stage, by: unwind, do: Bring the new roll.}]}
          - {phase: Strip out, press: stopped, park: after, steps: [{id: strip, by: unwind, do: Take the old roll off.}]}
          - {phase: Load, press: stopped, park: after, steps: [{id: load, by: unwind, do: Put the new roll on.}]}
    """
    phases = analysis.procedure.phases
    stopped = [number for number, phase in enumerate(phases) if phase.press == "stopped"]
    for number, phase in enumerate(phases):
        if phase.press == "running" and stopped and stopped[0] < number < stopped[-1]:
            yield Remark(
                analysis.within(phase.place, "press"),
                f"`{phase.name}` could be done while the press runs, and stands where it is stopped",
                "Move it before the first phase that stops the press, or behind the last.",
            )
