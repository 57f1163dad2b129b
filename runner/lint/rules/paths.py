"""Rules about web paths: the web can take the way that is drawn, for every job and wherever a bar is on its travel.

A finding stands at the roller's line and names the job; what could neither be broken nor be proven is said too.
"""

from collections.abc import Iterator

from runner.formula.expr import Call, Reference, Text, nodes
from runner.formula.quantity import show
from runner.formula.units import UNITS
from runner.lint.analysis import Analysis
from runner.lint.path_jobs import PLACES, PathJobs, Trouble
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Place, Severity
from runner.trade.web_path import WebPath
from runner.trade.web_path.travel import TravelRow, spread, travel_table

LARGEST_CHANGE = 0.05
"""Share by which the tension from one weight may differ over a travel without a word."""


@rule(Severity.ERROR, lasting=True)
def web_path_impossible(analysis: Analysis) -> Iterator[Remark]:
    """A web path cannot be run: rollers overlap, the web would run through one or through itself, or miss a roller.

    Why: the drawing is wrong or a job is allowed that does not fit. Lengths and pulls worked out from it are wrong too, and who threads
    by it loses the way. A job that happens only at the edge of what is allowed counts, and so does a bar at the end of its travel.
    Source: plane geometry of belts on pulleys (Machinery's Handbook, from memory); that a web is not run through itself is
    common practice, no source.

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        web_paths:
          unwind:
            rollers:
              - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
              - {roller: entry idler, at: [600 mm, 900 mm], diameter: 100 mm, pass: over}  # here
              - {roller: exit idler, at: [1600 mm, 600 mm], diameter: 100 mm, pass: under}
        phases:
          - {phase: Thread, park: after, steps: [{id: lead, by: unwind, do: Lead the web through., thread: unwind}]}
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        web_paths:
          unwind:
            rollers:
              - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
              - {roller: entry idler, at: [900 mm, 1300 mm], diameter: 100 mm, pass: over}
              - {roller: exit idler, at: [1600 mm, 600 mm], diameter: 100 mm, pass: under}
        phases:
          - {phase: Thread, park: after, steps: [{id: lead, by: unwind, do: Lead the web through., thread: unwind}]}
    """
    for path in paths_of(analysis):
        for trouble in path.troubles:
            hints = (path.border(trouble), path.other_side(trouble) if trouble.travelling is None else "")
            hint = "; ".join(words for words in hints if words)
            yield Remark(
                place_of(analysis, path, trouble),
                f"web path `{path.name}`: {message_of(path, trouble)}",
                f"{hint[0].upper()}{hint[1:]}." if hint else "Mend the place or size of a roller, or what is allowed.",
            )


@rule(Severity.NOTE)
def web_path_not_proven(analysis: Analysis) -> Iterator[Remark]:
    """No job was found that a web path cannot be run for, and it could not be proven that there is none.

    Why: the sample jobs are a few of very many. Between them there may be one for which rollers touch.
    Source: informed by interval analysis (Moore, Kearfott and Cloud, Introduction to Interval Analysis, from memory).

    Wrong:
        inputs:
          roll_od: {ask: Diameter of the full roll, unit: mm, within: [200, 1200]}
        web_paths:
          rewind:  # here
            rollers:
              - {roller: nip, at: [-1500 mm, 900 mm], diameter: 100 mm, pass: over}
              - {roller: lay-on roller, at: ["-52 [mm] - roll_od / 2", 900 mm], diameter: 100 mm, pass: under}
              - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
        phases:
          - {phase: Thread, park: after, steps: [{id: lead, by: unwind, do: Lead the web through., thread: rewind}]}
    Right:
        inputs:
          roll_od: {ask: Diameter of the full roll, unit: mm, within: [200, 1200]}
        web_paths:
          rewind:
            rollers:
              - {roller: nip, at: [-1500 mm, 900 mm], diameter: 100 mm, pass: over}
              - {roller: entry idler, at: [-900 mm, 1700 mm], diameter: 100 mm, pass: over}
              - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
        phases:
          - {phase: Thread, park: after, steps: [{id: lead, by: unwind, do: Lead the web through., thread: rewind}]}
    """
    for path in paths_of(analysis):
        if path.limited and path.not_proven and not path.troubles:
            tried = sum(1 for _ in path.jobs())
            yield Remark(
                analysis.top("web_paths", path.name),
                f"it is not proven that web path `{path.name}` can be run for every allowed job: {path.not_proven}; "
                f"it can for the {tried} job{'s' if tried != 1 else ''} tried",
                "Narrow `within` of its inputs, or move the rollers further apart.",
            )


@rule(Severity.NOTE)
def tension_changes_over_travel(analysis: Analysis) -> Iterator[Remark]:
    """A weight hung on a bar gives another tension at one end of the bar's travel than at the other.

    Why: the pull of the web on the bar changes with the angle of the spans, and the weight does not. What was worked out for the place
    where the bar is drawn then holds there only. A formula with `bar_factor_at` shows that the ends have been looked at.
    Source: statics, tension = force / (2 sin(wrap / 2)); the share of 5 % is common practice, no source.

    Wrong:
        inputs:
          tension: {ask: Web tension, unit: N, within: [60, 400]}
        web_paths:
          unwind:
            rollers:
              - {roller: entry idler, at: [0 mm, 900 mm], diameter: 100 mm, pass: over}
              - {roller: bar, at: [500 mm, 600 mm], diameter: 120 mm, pass: under, moves: vertical, travel: [-200 mm, 200 mm]}  # here
              - {roller: exit idler, at: [1000 mm, 900 mm], diameter: 100 mm, pass: over}
        calculations:
          bar_pull: {formula: "tension * bar_factor(unwind, 'bar')", unit: N, example: {given: {tension: 100 N}, gives: 133.4 N, within: 0.1 N}}
        phases:
          - {phase: Set, park: after, steps: [{id: hang, by: unwind, do: "Load the bar with {bar_pull}."}]}
    Right:
        inputs:
          tension: {ask: Web tension, unit: N, within: [60, 400]}
        web_paths:
          unwind:
            rollers:
              - {roller: entry idler, at: [0 mm, 900 mm], diameter: 100 mm, pass: over}
              - {roller: bar, at: [160 mm, 300 mm], diameter: 120 mm, pass: under, moves: vertical, travel: [-200 mm, 200 mm]}
              - {roller: exit idler, at: [320 mm, 900 mm], diameter: 100 mm, pass: over}
        calculations:
          bar_pull: {formula: "tension * bar_factor(unwind, 'bar')", unit: N, example: {given: {tension: 100 N}, gives: 199.1 N, within: 1 N}}
        phases:
          - {phase: Set, park: after, steps: [{id: hang, by: unwind, do: "Load the bar with {bar_pull}."}]}
    """
    read, looked_at = bars_read(analysis, "bar_factor"), bars_read(analysis, "bar_factor_at")
    for path in paths_of(analysis):
        for number, roller in enumerate(path.rollers):
            if (path.name, roller.name) not in read - looked_at or roller.travel is None:
                continue
            worst = max(changes(path, number), default=None)
            if worst is not None and worst[0] > LARGEST_CHANGE:
                change, least, most, job = worst
                for_job = f" (for {job})" if job else ""
                yield Remark(
                    analysis.within(roller_place(analysis, path, number), "travel"),
                    f"one weight on `{roller.name}` gives {100.0 * change:.0f} % more tension with the bar at "
                    f"{length(least.place)} of its travel than at {length(most.place)}{for_job}: `bar_factor` is "
                    f"{least.factor:.3f} and {most.factor:.3f} there",
                    f"Ask for `bar_factor_at({path.name}, '{roller.name}', 0)` and `1` too, or make the travel shorter.",
                )


def paths_of(analysis: Analysis) -> Iterator[PathJobs]:
    """The web paths, with their jobs."""
    for name in analysis.procedure.scope.paths:
        yield PathJobs(analysis.procedure, name)


def roller_place(analysis: Analysis, path: PathJobs, number: int) -> Place:
    """Where a roller stands in the text."""
    places = dict(analysis.procedure.places)
    return places.get(f"{path.name}/{path.rollers[number].name}") or analysis.top("web_paths", path.name)


def place_of(analysis: Analysis, path: PathJobs, trouble: Trouble) -> Place:
    """Where a trouble is told: at the roller, at the travel where that is what leads to it."""
    if trouble.travelling is None:
        return roller_place(analysis, path, trouble.roller)
    return analysis.within(roller_place(analysis, path, trouble.travelling), "travel")


def message_of(path: PathJobs, trouble: Trouble) -> str:
    """What is wrong, where a bar is then, and for which job."""
    job = path.words(trouble.job)
    on_travel = ""
    if trouble.travelling is not None:
        on_travel = f"with {path.rollers[trouble.travelling].name} at {length(trouble.place)} of its travel, "
    return f"{on_travel}{trouble.message}" + (f" (for {job})" if job else "")


def length(place: float) -> str:
    """A place on a travel."""
    return show(place, UNITS["mm"])


def bars_read(analysis: Analysis, function: str) -> frozenset[tuple[str, str]]:
    """(path, roller) of every call of a function in the procedure's formulas."""
    found = set()
    for expr in analysis.expressions:
        for node in nodes(expr):
            if isinstance(node, Call) and node.function == function:
                match node.arguments:
                    case (Reference(id=path), Text(value=roller), *_):
                        found.add((path, roller))
    return frozenset(found)


def changes(path: PathJobs, number: int) -> Iterator[tuple[float, TravelRow, TravelRow, str]]:
    """For jobs that run: by which share the tension differs at most over a travel, where it is most and least."""
    travel = path.rollers[number].travel
    assert travel is not None
    for job in path.jobs():
        solved = path.solved(job)
        if isinstance(solved, WebPath) and 0 < number < len(path.rollers) - 1:
            rows = travel_table(solved, number, spread(*travel, PLACES))
            sound = [row for row in rows if isinstance(row, TravelRow) and row.factor > 1e-9]
            if sound:
                least, most = min(sound, key=lambda row: row.factor), max(sound, key=lambda row: row.factor)
                yield most.factor / least.factor - 1.0, least, most, path.words(job)
