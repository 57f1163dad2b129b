"""Rules over all jobs that a procedure allows: every formula has a result, and a limit that a job breaks names that job.

A job that is named was typed, read back and worked out as in a run. What is proved is proved by bounds that are never too
narrow; where neither is had, a note says so.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from runner.formula.quantity import show
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Place, Severity
from runner.procedure.model import Split

if TYPE_CHECKING:
    from runner.lint.jobs import Looked

NARROW = "Narrow `within` of an input, or write what such a job is to get, as in if(gap > 0 [mm], length / gap, 0)."


@rule(Severity.ERROR, lasting=True)
def division_by_zero_possible(analysis: Analysis) -> Iterator[Remark]:
    """A formula divides by zero for a job that the procedure allows.

    Why: the value is missing at the press, and every step that uses it stops there, with the press standing.
    Source: common practice, no source; the bounds are interval arithmetic after IEEE 1788 (informed by, from memory).

    Wrong:
        inputs:
          repeat: {ask: Repeat length, unit: mm, within: [0, 900]}
        calculations:
          prints: {formula: "6000 [m] / repeat", unit: "1"}  # here
    Right:
        inputs:
          repeat: {ask: Repeat length, unit: mm, within: [200, 900]}
        calculations:
          prints: {formula: "6000 [m] / repeat", unit: "1"}
    """
    yield from _without_result(analysis, "division", "divides by zero", NARROW)


@rule(Severity.ERROR, lasting=True)
def table_left_by_job(analysis: Analysis) -> Iterator[Remark]:
    """A look-up has no row, or leaves the ends of its table, for a job that the procedure allows.

    Why: a table says nothing about what it does not hold, and the operator of that job stands there without the value.
    Source: common practice, no source.

    Wrong:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [100, 800]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows: [[200, 525], [500, 1000]]
        calculations:
          pull: {formula: "interpolate(board, caliper, pull)", unit: N/m}  # here
    Right:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [200, 500]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows: [[200, 525], [500, 1000]]
        calculations:
          pull: {formula: "interpolate(board, caliper, pull)", unit: N/m}
    """
    yield from _without_result(analysis, "table", "finds nothing in its table", "Add rows, or narrow `within`.")


@rule(Severity.ERROR, lasting=True)
def result_missing_for_job(analysis: Analysis) -> Iterator[Remark]:
    """A formula has no result for a job that the procedure allows: a root of less than nothing, a core larger than its roll.

    Why: the value is missing at the press, and every step that uses it stops there, with the press standing.
    Source: common practice, no source.

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [100, 1200]}
          core_od: {ask: Outer diameter of its core, unit: mm, within: [76, 180]}
          caliper: {ask: Thickness of the web, unit: um, within: [12, 400]}
        calculations:
          metres: {formula: "roll_length(roll_od, core_od, caliper)", unit: m}  # here
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
          core_od: {ask: Outer diameter of its core, unit: mm, within: [76, 180]}
          caliper: {ask: Thickness of the web, unit: um, within: [12, 400]}
        calculations:
          metres: {formula: "roll_length(roll_od, core_od, caliper)", unit: m}
    """
    yield from _without_result(analysis, "other", "has no result", NARROW)


@rule(Severity.NOTE)
def result_not_proven(analysis: Analysis) -> Iterator[Remark]:
    """It was not proved that a formula has a result for every allowed job, and no job was found for which it has none.

    Why: the bounds are wider than the truth where a value stands in a formula several times. Written otherwise, it may be
    proved; as it stands, nobody knows.
    Source: common practice, no source.

    Wrong:
        inputs:
          near: {ask: First gap, unit: mm, within: [0, 100]}
          far: {ask: Second gap, unit: mm, within: [0, 100]}
        calculations:
          share: {formula: "near / (near + 2 * far - 3 * far + far + 1e-9 * (near - near) + 1e-12 [mm])", unit: "1"}  # here
    Right:
        inputs:
          near: {ask: First gap, unit: mm, within: [1, 100]}
        calculations:
          share: {formula: "1 [mm] / near", unit: "1"}
    """
    for looked in analysis.looked_at:
        subject, result = looked
        if result.unclear is not None:
            yield Remark(
                _place(analysis, looked),
                f"it is not proved that {subject.words} has a result for every allowed job: {result.unclear.message}",
                "No job was found for which it has none. Narrow `within` of an input, or write each value once.",
            )


@rule(Severity.WARNING)
def negative_mass_possible(analysis: Analysis) -> Iterator[Remark]:
    """A mass comes out below zero for a job that the procedure allows, and no limit refuses it.

    Why: a bar that is too heavy by itself cannot be helped with pieces. Nobody hangs less than nothing, and a mass below zero
    that is shown as a number, or added to a load, misleads.
    Source: statics of a free bar (check of the sign); common practice, no source.

    Wrong:
        inputs:
          pull: {ask: Pull on the bar, unit: N, within: [50, 600]}
        calculations:
          bar_mass: {formula: "pull / g_n - 8 [kg]", unit: kg}  # here
    Right:
        inputs:
          pull: {ask: Pull on the bar, unit: N, within: [50, 600]}
        calculations:
          bar_mass: {formula: "pull / g_n - 8 [kg]", unit: kg, limit: ">= 0 [kg]"}
    """
    from runner.lint.jobs import job_words

    units = {worked.name: worked.unit for worked in analysis.calculations}
    for subject, result in analysis.looked_at:
        if result.negative is not None:
            yield Remark(
                subject.place,
                f"{subject.words} is {show(result.negative, units[subject.own])} for an allowed job: "
                f"{job_words(result.job)}",
                'Add `limit: ">= 0 [kg]"`, so that such a job is refused in words.',
            )


@rule(Severity.NOTE)
def limit_broken_by_job(analysis: Analysis) -> Iterator[Remark]:
    """A job that the procedure allows breaks the limit of a calculation.

    Why: the run refuses such a job, which is what a limit is for. Who writes the procedure should know which job it is, before
    somebody stands at the press with it.
    Source: common practice, no source.

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1400]}
        calculations:
          reach: {formula: roll_od / 2, unit: mm, limit: "<= 650 [mm]"}  # here
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1300]}
        calculations:
          reach: {formula: roll_od / 2, unit: mm, limit: "<= 650 [mm]"}
    """
    from runner.lint.jobs import job_words

    for worked, limit, verdict in analysis.judged:
        if verdict.broken is not None and not verdict.never:
            yield Remark(
                worked.place,
                f"`{worked.name}` is {verdict.broken.shown} for an allowed job, and its limit is {limit.op} "
                f"{limit.text.removeprefix(limit.op).strip()}: {job_words(verdict.job)}",
                "Such a job is refused at the press. Narrow `within` where it should be refused at the desk.",
            )


@rule(Severity.ERROR, lasting=True)
def limit_never_met(analysis: Analysis) -> Iterator[Remark]:
    """No job that the procedure allows keeps the limit of a calculation.

    Why: every run stops at the first step that uses the value. The limit, the formula or a unit is wrong.
    Source: common practice, no source.

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach: {formula: roll_od / 2, unit: mm, limit: "<= 60 [mm]"}  # here
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach: {formula: roll_od / 2, unit: mm, limit: "<= 600 [mm]"}
    """
    for worked, limit, verdict in analysis.judged:
        if verdict.never and verdict.broken is not None:
            yield Remark(
                worked.place,
                f"no allowed job keeps the limit {limit.text} of `{worked.name}`; it may be {verdict.broken.shown}",
                "Mend the limit, the formula or a unit.",
            )


@rule(Severity.WARNING)
def pieces_short_for_job(analysis: Analysis) -> Iterator[Remark]:
    """No choice of pieces comes near enough to the mass of a job that the procedure allows, and nobody may accept the nearest.

    Why: the steps that hang the pieces stay refused, with the press standing and no way on but to give up the run.
    Source: common practice, no source.

    Wrong:
        inputs:
          pull: {ask: Pull on the bar, unit: N, within: [100, 400]}
        pieces:
          rack: {unit: kg, stock: {"5": 4, "2": 4, "1": 4}}
        calculations:
          bar_mass: {formula: pull / g_n, unit: kg, limit: ">= 0 [kg]"}
          bar_pieces: {split: bar_mass, from: rack, ends: 2, within: 1 kg}  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        inputs:
          pull: {ask: Pull on the bar, unit: N, within: [100, 400]}
        pieces:
          rack: {unit: kg, stock: {"5": 4, "2": 4, "1": 4}}
        calculations:
          bar_mass: {formula: pull / g_n, unit: kg, limit: ">= 0 [kg]"}
          bar_pieces: {split: bar_mass, from: rack, ends: 2, within: 1 kg, release: lead}
        phases:
          - phase: Hang
            park: after
            steps:
              - {id: hang, by: unwind, do: "Hang {bar_pieces}."}
    """
    from runner.lint.jobs import job_words
    from runner.procedure.jobs.pieces import missed

    for split in analysis.procedure.calculations:
        if isinstance(split, Split) and not split.release:
            found = missed(analysis.procedure, split)
            if found is not None:
                rack = next(rack for rack in analysis.procedure.racks if rack.name == split.rack)
                whose = f", with `{rack.name}` {rack.counted}" if rack.counted else ""
                yield Remark(
                    split.place,
                    f"`{split.name}`, for an allowed job{whose}: {found[0].shown} ({job_words(found[1])})",
                    "Add `release` with the role that may accept the nearest choice, pieces to the rack, or a limit to the mass.",
                )


def _without_result(analysis: Analysis, cause_wanted: str, words: str, hint: str) -> Iterator[Remark]:
    """Formulas of which an allowed job has no result, for one kind of cause."""
    from runner.lint.jobs import cause, job_words

    for looked in analysis.looked_at:
        subject, result = looked
        if result.fault is not None and cause(subject.expr, result.fault) == cause_wanted:
            why = "" if cause_wanted == "division" else f" ({result.fault.message})"
            why = f", as near as numbers go{why}" if result.near else why
            yield Remark(
                _place(analysis, looked),
                f"{subject.words} {words} for an allowed job{why}: {job_words(result.job)}",
                hint,
            )


def _place(analysis: Analysis, looked: "Looked") -> Place:
    """Where the part of a formula without a result stands."""
    subject, result = looked
    where = result.fault or result.unclear
    if subject.text and where is not None and len(subject.keys) == 1:
        return analysis.nearby.in_text(subject.place, subject.keys[-1], subject.text, where.start)
    return analysis.within(subject.place, *subject.keys) if subject.keys else subject.place
