"""Rules about the arithmetic: every calculation is worked out once by hand, and the program agrees.

Examples are recomputed by the code that works a run's values out, so what is checked here is what an operator is shown.
"""

from collections.abc import Iterator

from runner.formula.quantity import show
from runner.lint.analysis import Analysis
from runner.lint.examples import agrees
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.working import uses


@rule(Severity.ERROR, lasting=True)
def example_wrong(analysis: Analysis) -> Iterator[Remark]:
    """The worked example of a calculation gives another result than the formula, or than its rough check.

    Why: the formula or the example is wrong. Until somebody knows which, nobody may hang a mass or lift a roll by it.
    Source: tested formulas are informed by 21 CFR 11.10(a) and DOE-STD-1029-92 (both from memory).

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach:
            formula: roll_od / 2
            unit: mm
            example: {given: {roll_od: 1000 mm}, gives: 400 mm, within: 1 mm}  # here
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: clear, by: unwind, do: "Clear {reach} around the chucks."}
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach:
            formula: roll_od / 2
            unit: mm
            example: {given: {roll_od: 1000 mm}, gives: 500 mm, within: 1 mm}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: clear, by: unwind, do: "Clear {reach} around the chucks."}
    """
    for worked, example, result in analysis.examples:
        if result is None or result.verdict == "failed":
            missing = ", ".join(sorted(uses(worked) - dict(example.given).keys()))
            why = f"it does not give {missing}" if result is None else result.shown
            yield Remark(
                analysis.within(example.place, "given"),
                f"the example of `{worked.name}` cannot be worked out: {why}",
                "Give a job for which the formula has a result.",
            )
        elif not agrees(example, result):
            yield Remark(
                analysis.within(example.place, "gives"),
                f"the formula of `{worked.name}` gives {result.shown}, the example says {show(example.gives, worked.unit)}",
                "Work the example out by hand once more; then mend whichever is wrong.",
                (f"{worked.name} = {result.working}", f"= {result.shown}"),
            )
        elif result.doubted:
            yield Remark(
                analysis.within(example.place, "gives"),
                f"in the example of `{worked.name}`, {result.rough}; the formula gives {result.shown.partition(';')[0]}",
                "Work the example out by hand once more; then mend the formula or its rough check.",
            )


@rule(Severity.WARNING)
def limit_broken_by_example(analysis: Analysis) -> Iterator[Remark]:
    """The worked example of a calculation is outside the calculation's own limit.

    Why: an example is a job that the author finds ordinary, and the run would refuse it.
    Source: common practice, no source.

    Wrong:
        inputs:
          grammage: {ask: Mass of the roll, unit: kg, within: [10, 2000]}
        calculations:
          roll_mass:
            formula: grammage
            unit: kg
            limit: "<= 800 [kg]"
            example: {given: {grammage: 900 kg}, gives: 900 kg, within: 1 kg}  # here
    Right:
        inputs:
          grammage: {ask: Mass of the roll, unit: kg, within: [10, 2000]}
        calculations:
          roll_mass:
            formula: grammage
            unit: kg
            limit: "<= 800 [kg]"
            example: {given: {grammage: 700 kg}, gives: 700 kg, within: 1 kg}
    """
    for worked, example, result in analysis.examples:
        if result is not None and result.verdict == "out" and not result.doubted:
            yield Remark(
                analysis.within(example.place, "gives"),
                f"the example of `{worked.name}` gives {result.shown}, and its limit is {result.limits}",
                "Take an example that a run would accept, or mend the limit.",
            )


@rule(Severity.NOTE)
def example_missing(analysis: Analysis) -> Iterator[Remark]:
    """A calculation has no worked example.

    Why: nobody sees that a formula is wrong by reading it. One job, worked out by hand or from a handbook, shows it at once, and
    keeps showing it after every change.
    Source: informed by DOE-STD-1029-92 (independent check of calculations, from memory).

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach: {formula: roll_od / 2, unit: mm, limit: "<= 650 [mm]"}  # here
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach:
            formula: roll_od / 2
            unit: mm
            limit: "<= 650 [mm]"
            example: {given: {roll_od: 1000 mm}, gives: 500 mm, within: 1 mm}
    """
    for worked in analysis.calculations:
        if worked.example is None:
            yield Remark(
                worked.place,
                f"`{worked.name}` has no worked example",
                "Add `example`, with a job that you have worked out by hand.",
            )
