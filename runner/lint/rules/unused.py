"""Rules about what is named and never used: an operator is asked for nothing, or an author has lost a thread."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import Split


@rule(Severity.NOTE)
def input_unused(analysis: Analysis) -> Iterator[Remark]:
    """A value is asked from the job ticket and nothing uses it.

    Why: every entry takes time and can be wrong. One that nothing reads also looks as if it were looked after.
    Source: common practice, no source.

    Wrong:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}  # here
    Right:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
        phases:
          - phase: Set
            park: after
            steps:
              - {id: set, by: unwind, do: "Set the guides to {web_width}."}
    """
    for given in analysis.procedure.inputs:
        if given.name not in analysis.names_read:
            yield Remark(
                given.place,
                f"nothing uses the input `{given.name}`",
                "Take it out, or show it in the step that needs it.",
            )


@rule(Severity.NOTE)
def calculation_unused(analysis: Analysis) -> Iterator[Remark]:
    """A calculation has no limit and nothing uses it.

    Why: nobody sees its result in a step, and it stops nothing.
    Source: common practice, no source.

    Wrong:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
        calculations:
          half_width:  # here
            formula: web_width / 2
            unit: mm
            example: {given: {web_width: 1000 mm}, gives: 500 mm, within: 1 mm}
    Right:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
        calculations:
          half_width:
            formula: web_width / 2
            unit: mm
            example: {given: {web_width: 1000 mm}, gives: 500 mm, within: 1 mm}
        phases:
          - phase: Set
            park: after
            steps:
              - {id: set, by: unwind, do: "Set the sensor {half_width} from the middle."}
    """
    for worked in analysis.procedure.calculations:
        limited = isinstance(worked, Split) or bool(worked.limits)
        if not limited and worked.name not in analysis.names_read:
            yield Remark(worked.place, f"nothing uses the calculation `{worked.name}`, and it has no limit")


@rule(Severity.WARNING)
def pieces_unused(analysis: Analysis) -> Iterator[Remark]:
    """Pieces are chosen from a rack and no step shows them.

    Why: the choice is worked out and nobody is told what to hang.
    Source: common practice, no source.

    Wrong:
        inputs:
          bar_mass: {ask: Mass to hang, unit: kg, within: [0, 30]}
        pieces:
          rack: {unit: kg, stock: {"1": 8, "2": 8, "5": 6}}
        calculations:
          wanted: {formula: bar_mass, unit: kg, example: {given: {bar_mass: 10 kg}, gives: 10 kg, within: 0 kg}}
          bar_pieces: {split: wanted, from: rack, ends: 2, within: 1 kg}  # here
    Right:
        inputs:
          bar_mass: {ask: Mass to hang, unit: kg, within: [0, 30]}
        pieces:
          rack: {unit: kg, stock: {"1": 8, "2": 8, "5": 6}}
        calculations:
          wanted: {formula: bar_mass, unit: kg, example: {given: {bar_mass: 10 kg}, gives: 10 kg, within: 0 kg}}
          bar_pieces: {split: wanted, from: rack, ends: 2, within: 1 kg}
        phases:
          - phase: Hang
            park: after
            steps:
              - {id: hang, by: unwind, do: "Hang {bar_pieces} on the bar."}
    """
    for worked in analysis.procedure.calculations:
        if isinstance(worked, Split) and worked.name not in analysis.names_read:
            yield Remark(
                worked.place, f"no step shows the pieces `{worked.name}`", "Name it in the step that hangs them."
            )


@rule(Severity.NOTE)
def rack_unused(analysis: Analysis) -> Iterator[Remark]:
    """Pieces at hand are listed and nothing is chosen from them.

    Why: the stock has to be kept right by somebody; one that nothing reads goes wrong unseen.
    Source: common practice, no source.

    Wrong:
        pieces:
          rack: {unit: kg, stock: {"1": 8, "2": 8}}  # here
    Right:
        inputs:
          bar_mass: {ask: Mass to hang, unit: kg, within: [0, 30]}
        pieces:
          rack: {unit: kg, stock: {"1": 8, "2": 8, "5": 6}}
        calculations:
          wanted: {formula: bar_mass, unit: kg, example: {given: {bar_mass: 10 kg}, gives: 10 kg, within: 0 kg}}
          bar_pieces: {split: wanted, from: rack, ends: 2, within: 1 kg}
        phases:
          - phase: Hang
            park: after
            steps:
              - {id: hang, by: unwind, do: "Hang {bar_pieces} on the bar."}
    """
    used = {worked.rack for worked in analysis.procedure.calculations if isinstance(worked, Split)}
    for rack in analysis.procedure.racks:
        if rack.name not in used:
            yield Remark(rack.place, f"no calculation chooses pieces from `{rack.name}`")


@rule(Severity.NOTE)
def table_unused(analysis: Analysis) -> Iterator[Remark]:
    """A table is written and no formula looks anything up in it.

    Why: a table that nothing reads is not kept right.
    Source: common practice, no source.

    Wrong:
        tables:
          wanted_tension:  # here
            columns: {substrate: text, low: N/m}
            rows: [[kraft paper, 90], [BOPP film, 60]]
    Right:
        inputs:
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
        tables:
          wanted_tension:
            columns: {substrate: text, low: N/m}
            rows: [[kraft paper, 90], [BOPP film, 60]]
        calculations:
          least:
            formula: lookup(wanted_tension, substrate, low)
            unit: N/m
            example: {given: {substrate: kraft paper}, gives: 90 N/m, within: 0 N/m}
        phases:
          - phase: Set
            park: after
            steps:
              - {id: set, by: unwind, do: "Set the brake to at least {least}."}
    """
    for name in analysis.procedure.scope.tables:
        if name not in analysis.names_read:
            yield Remark(analysis.top("tables", name), f"no formula looks anything up in `{name}`")


@rule(Severity.NOTE)
def web_path_unused(analysis: Analysis) -> Iterator[Remark]:
    """A web path is written, no formula uses it and no step threads it.

    Why: a drawing that nothing reads is not kept right.
    Source: common practice, no source.

    Wrong:
        web_paths:
          unwind:  # here
            rollers:
              - {roller: entry idler, at: [0 mm, 0 mm], diameter: 100 mm, pass: under}
              - {roller: exit idler, at: [900 mm, 0 mm], diameter: 100 mm, pass: under}
    Right:
        web_paths:
          unwind:
            rollers:
              - {roller: entry idler, at: [0 mm, 0 mm], diameter: 100 mm, pass: under}
              - {roller: exit idler, at: [900 mm, 0 mm], diameter: 100 mm, pass: under}
        phases:
          - phase: Thread
            park: after
            steps:
              - {id: lead, by: unwind, do: Lead the web through the unwind., thread: unwind}
    """
    for name in analysis.procedure.scope.paths:
        if name not in analysis.names_read:
            yield Remark(analysis.top("web_paths", name), f"nothing uses the web path `{name}`")
