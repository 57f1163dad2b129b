"""Rules about the tracked states themselves: what is declared and does nothing."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import UNKNOWN


@rule(Severity.WARNING)
def state_never_made(analysis: Analysis) -> Iterator[Remark]:
    """Steps need a state that no step makes.

    Why: what it is at the start is what it stays, so the need never holds anybody up. It looks like a protection and is none.
    Source: common practice, no source.

    Wrong:
        states:
          unwind_guard: {of: [open, closed], at_start: open}  # here
        phases:
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Put the core on the chuck., needs: {unwind_guard: open}}
    Right:
        states:
          unwind_guard: {of: [open, closed]}
        phases:
          - phase: Load
            park: after
            steps:
              - {id: open-guard, by: unwind, do: Open the unwind guard., makes: {unwind_guard: open}}
              - {id: load, by: unwind, do: Put the core on the chuck., needs: {unwind_guard: open}}
    """
    made = {state for step in analysis.steps for state, _ in step.makes}
    needed = {state for step in analysis.steps for state, _ in step.needs}
    for index, tracked in enumerate(analysis.procedure.states):
        if index in needed and index not in made and tracked.at_start != UNKNOWN:
            yield Remark(
                tracked.place,
                f"no step makes {tracked.name}, so a need for it is always met or never",
                "Let the steps that change it say so with `makes`, or ask for it in a step.",
            )


@rule(Severity.NOTE)
def state_unused(analysis: Analysis) -> Iterator[Remark]:
    """A state is tracked and nothing depends on it.

    Why: no step needs it and it may be anything at the end, so tracking it protects nobody.
    Source: common practice, no source.

    Wrong:
        states:
          lamp: {of: [dark, lit]}  # here
        phases:
          - phase: Look
            park: after
            steps:
              - {id: light, by: unwind, do: Switch the work lamp on., makes: {lamp: lit}}
    Right:
        states:
          lamp: {of: [dark, lit], at_end: dark}
        phases:
          - phase: Look
            park: after
            steps:
              - {id: light, by: unwind, do: Switch the work lamp on., makes: {lamp: lit}}
              - {id: look, by: unwind, do: Look at the underside of the web., needs: {lamp: lit}}
              - {id: dark, by: unwind, do: Switch the work lamp off., makes: {lamp: dark}}
    """
    needed = {state for step in analysis.steps for state, _ in step.needs}
    for index, tracked in enumerate(analysis.procedure.states):
        if index not in needed and tracked.at_end is None:
            yield Remark(tracked.place, f"no step needs {tracked.name} and it may end as anything")


@rule(Severity.NOTE)
def value_never_made(analysis: Analysis) -> Iterator[Remark]:
    """A state has a value that it never takes.

    Why: a value that no step makes is a leftover, or a step has forgotten to say what it makes. People may still see it
    when they look, so this may be meant.
    Source: common practice, no source.

    Wrong:
        states:
          unwind_drive: {of: [stopped, creeping, running], at_end: running}  # here
        phases:
          - phase: Run
            park: after
            steps:
              - {id: stop, by: unwind, do: Stop the unwind., makes: {unwind_drive: stopped}}
              - {id: load, by: unwind, do: Put the core on., needs: {unwind_drive: stopped}}
              - {id: run, by: unwind, do: Start the unwind., makes: {unwind_drive: running}}
    Right:
        states:
          unwind_drive: {of: [stopped, running], at_end: running}
        phases:
          - phase: Run
            park: after
            steps:
              - {id: stop, by: unwind, do: Stop the unwind., makes: {unwind_drive: stopped}}
              - {id: load, by: unwind, do: Put the core on., needs: {unwind_drive: stopped}}
              - {id: run, by: unwind, do: Start the unwind., makes: {unwind_drive: running}}
    """
    procedure = analysis.procedure
    acts = [act.makes for act in (*procedure.make_safe, *(a for phase in procedure.phases for a in phase.make_safe))]
    taken = {fact for makes in (*acts, *(step.makes for step in analysis.steps)) for fact in makes}
    made_at_all = {state for step in analysis.steps for state, _ in step.makes}
    for index, tracked in enumerate(procedure.states):
        if index not in made_at_all:
            continue
        for value, name in enumerate(tracked.of):
            if value != tracked.at_start and (index, value) not in taken:
                place = analysis.within(tracked.place, "of", value)
                yield Remark(place, f"no step makes {tracked.name} {name}")
