"""Rules about the place: what a site file says of people, lifting gear and stretches of work, held against a procedure.

They speak only where there is a site file, `site.yaml` beside the procedure or the one that `--site` names. In examples the
lines after `# in site.yaml:` stand in it.
"""

from collections.abc import Iterator

from runner.formula.expr import Number, Span
from runner.formula.quantity import show
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import Calculation, Limit, Step
from runner.procedure.parking import stretches
from runner.procedure.site_facts import GearRow


@rule(Severity.WARNING)
def longer_than_site_allows(analysis: Analysis) -> Iterator[Remark]:
    """Between two places where work may be interrupted passes more time than the site allows.

    Why: whoever is called away, or whose shift ends, leaves a press that is half threaded or a roll on the crane.
    Source: `park_within` of the site file; work that ends within a shift is informed by HSE guidance on shift handover.

    Wrong:
        # in site.yaml: park_within: 15 min
        phases:
          - phase: Strip out  # here
            steps:
              - {id: strip, by: unwind, do: Take the old roll off., expect: 10 min}
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Put the new roll on., expect: 10 min}
    Right:
        # in site.yaml: park_within: 15 min
        phases:
          - phase: Strip out
            park: after
            steps:
              - {id: strip, by: unwind, do: Take the old roll off., expect: 10 min}
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Put the new roll on., expect: 10 min}
    """
    most = analysis.site.facts.park_within_s if analysis.site is not None else 0.0
    for stretch in stretches(analysis.procedure) if most else ():
        if stretch.seconds > most:
            yield Remark(
                analysis.procedure.phases[stretch.first].place,
                f"from here {stretch.seconds / 60:.0f} min of work pass before the next place to be interrupted; the site allows "
                f"{most / 60:g} min",
                "Look for a place in between where the press can be left alone, and mark its phase with `park: after`.",
            )


@rule(Severity.WARNING)
def gear_not_in_site(analysis: Analysis) -> Iterator[Remark]:
    """A step lifts with gear that the site file does not list.

    Why: nobody wrote down what it carries and when it was inspected, so a live run refuses the lift.
    Source: rated load marked and inspected at set intervals: 29 CFR 1910.179 and 1910.184 (informed by, from memory).

    Wrong:
        # in site.yaml: gear: {crane: {rating: 1000 kg, inspected: 2026-09-14, until: 2027-09-14}}
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [25, 800]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: lift
                by: unwind
                lifts: {roll_mass: [crain]}  # here
                do: Lift the roll.
    Right:
        # in site.yaml: gear: {crane: {rating: 1000 kg, inspected: 2026-09-14, until: 2027-09-14}}
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [25, 800]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: lift
                by: unwind
                lifts: {roll_mass: [crane]}
                do: Lift the roll.
    """
    rows = _gear(analysis)
    for step in analysis.steps if rows is not None else ():
        for load, names in step.lifts:
            for name in names:
                if name not in (rows or {}):
                    from runner.procedure.desk import near

                    hint = near(name, tuple(rows or ())) or "List it there with its rating and inspection."
                    place = analysis.within(step.place, "lifts", load)
                    yield Remark(place, f"`{step.id}` lifts with `{name}`, which the site file does not list", hint)


@rule(Severity.WARNING)
def load_beyond_gear(analysis: Analysis) -> Iterator[Remark]:
    """A job that the procedure allows lifts more than the site's gear carries.

    Why: a live run refuses such a job at its beginning or, where the load is only known later, at the hook, with the press
    standing. A limit in the procedure says it to whoever plans the job.
    Source: no load above the rated one: 29 CFR 1910.179(n)(1) (informed by, from memory).

    Wrong:
        # in site.yaml: gear: {crane: {label: Crane, rating: 600 kg, inspected: 2026-09-14, until: 2027-09-14}}
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [25, 800]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: lift
                by: unwind
                lifts: {roll_mass: [crane]}  # here
                do: Lift the roll.
    Right:
        # in site.yaml: gear: {crane: {label: Crane, rating: 800 kg, inspected: 2026-09-14, until: 2027-09-14}}
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [25, 800]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: lift
                by: unwind
                lifts: {roll_mass: [crane]}
                do: Lift the roll.
    """
    rows = _gear(analysis) or {}
    known: dict[tuple[str, float, str], str] = {}  # the same load is often lifted in several steps
    for step in analysis.steps:
        for load, names in step.lifts:
            for row in (rows[name] for name in names if name in rows):
                key = (load, row[2], step.when.text if step.when is not None else "")
                found = known[key] = known[key] if key in known else _beyond(analysis, step, load, row)
                if found:
                    yield Remark(
                        analysis.within(step.place, "lifts", load),
                        f"{row[1]} carries {row[3]} by the site file; {found}",
                        "Add a limit to the load, narrow `within`, or plan such jobs with other gear.",
                    )


@rule(Severity.WARNING)
def role_nobody_has(analysis: Analysis) -> Iterator[Remark]:
    """Nobody in the site file may take a role that does steps, looks second or releases, and other names are refused.

    Why: no live run can begin, or it stops at the first hold that nobody may release.
    Source: common practice, no source.

    Wrong:
        # in site.yaml: unknown: refused
        people: {winder: Winder operator}  # here
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, do: Wipe the roller.}]}
    Right:
        # in site.yaml: unknown: refused
        people: {unwind: "Operator, unwind side"}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, do: Wipe the roller.}]}
    """
    site = analysis.site
    if site is None or site.unknown != "refused":
        return
    had = {role for person in site.people for role in person.roles}
    wanted = {step.by for step in analysis.steps}
    wanted |= {step.hold.release for step in analysis.steps if step.hold is not None}
    wanted |= {step.second.by for step in analysis.steps if step.second is not None}
    for role, label in analysis.procedure.people:
        if role in wanted and role not in had:
            yield Remark(
                analysis.top("people", role),
                f"nobody in the site file is {label} (`{role}`)",
                f"Give somebody there the role `{role}`, or name the role as the site does.",
            )


def _gear(analysis: Analysis) -> dict[str, GearRow] | None:
    """The site's lifting gear by name; None where it lists none."""
    gear = analysis.site.facts.gear if analysis.site is not None else None
    return None if gear is None else {row[0]: row for row in gear}


def _beyond(analysis: Analysis, step: Step, load: str, row: GearRow) -> str:
    """What an allowed job lifts with gear that carries less, in words; empty where none was found."""
    procedure = analysis.procedure
    given = next((one for one in procedure.inputs if one.name == load), None)
    if given is not None and given.unit is not None:
        high = given.within.high if given.within is not None else 0.0
        return f"`{load}` may be {show(high, given.unit)}" if high > row[2] * (1 + 1e-12) else ""
    worked = next((one for one in procedure.calculations if one.name == load), None)
    if not isinstance(worked, Calculation):
        return ""
    from runner.lint.jobs import job_words
    from runner.procedure.jobs.space import Space
    from runner.procedure.jobs.worst import judge

    limit = Limit("<=", Number(row[2], "kg", Span(0, 0)), row[3], step.place)
    limited = worked._replace(limits=(*worked.limits, limit))
    changed = tuple(limited if one.name == load else one for one in procedure.calculations)
    given_when = () if step.when is None else (step.when.expr,)
    space = Space(procedure._replace(calculations=changed), [load], given=given_when)
    verdict = judge(space, limited, limit)
    if verdict.broken is None:
        return ""
    return f"`{load}` is {verdict.broken.shown} for {job_words(verdict.job)}"
