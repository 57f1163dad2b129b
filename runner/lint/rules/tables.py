"""Rules about what calculations look into: the rows of tables, and the racks that pieces come from.

Only what the text shows by itself is said here; whether a job finds a row at all is looked for over all jobs (`jobs`).
"""

from collections.abc import Iterator
from itertools import pairwise

from runner.formula.expr import Call, Expr, Name, Reference, Text, nodes
from runner.formula.scope import TableRows
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Place, Severity
from runner.procedure.model import Split


@rule(Severity.ERROR)
def row_hidden(analysis: Analysis) -> Iterator[Remark]:
    """A row of a table is never found: a row before it begins with the same keys.

    Why: the first row is always taken. Whoever corrects or reads the second one believes in a number that no job gets.
    Source: common practice, no source.

    Wrong:
        inputs:
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
        tables:
          wanted:
            columns: {substrate: text, high: N/m}
            rows:
              - [kraft paper, 260]
              - [BOPP film, 120]
              - [kraft paper, 220]  # here
        calculations:
          most_tension:
            formula: lookup(wanted, substrate, high)
            unit: N/m
            limit: "<= 300 [N/m]"
            example: {given: {substrate: kraft paper}, gives: 260 N/m, within: 1 N/m}
    Right:
        inputs:
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
        tables:
          wanted:
            columns: {substrate: text, high: N/m}
            rows:
              - [kraft paper, 260]
              - [BOPP film, 120]
        calculations:
          most_tension:
            formula: lookup(wanted, substrate, high)
            unit: N/m
            limit: "<= 300 [N/m]"
            example: {given: {substrate: kraft paper}, gives: 260 N/m, within: 1 N/m}
    """
    told: set[tuple[str, int]] = set()
    for call in look_ups(analysis, "lookup"):
        name, keys = table_of(call), keys_of(call)
        table = analysis.procedure.scope.tables[name]
        first: dict[tuple[float | str, ...], int] = {}
        for index, row in enumerate(table.rows):
            before = first.setdefault(row[: len(keys)], index)
            if before == index or (name, index) in told:
                continue
            wanted = table.columns.index(column_of(call))
            if row[wanted] != table.rows[before][wanted] or row == table.rows[before]:
                told.add((name, index))
                by = " and ".join(table.columns[: len(keys)])
                yield Remark(
                    row_place(analysis, name, index),
                    f"row {index + 1} of `{name}` is never found: it has the same {by} as row {before + 1}",
                    "Take one of the two out, or look the table up by one more column.",
                )


@rule(Severity.NOTE)
def row_unused(analysis: Analysis) -> Iterator[Remark]:
    """A row of a table is for a choice that is never offered.

    Why: either the row is left over, or its text is spelled otherwise than the choice that it was meant for.
    Source: common practice, no source.

    Wrong:
        inputs:
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
        tables:
          wanted:
            columns: {substrate: text, high: N/m}
            rows:
              - [kraft paper, 260]
              - [BOPP film, 120]
              - [PE film, 100]  # here
        calculations:
          most_tension:
            formula: lookup(wanted, substrate, high)
            unit: N/m
            limit: "<= 300 [N/m]"
            example: {given: {substrate: kraft paper}, gives: 260 N/m, within: 1 N/m}
    Right:
        inputs:
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film, PE film]}
        tables:
          wanted:
            columns: {substrate: text, high: N/m}
            rows:
              - [kraft paper, 260]
              - [BOPP film, 120]
              - [PE film, 100]
        calculations:
          most_tension:
            formula: lookup(wanted, substrate, high)
            unit: N/m
            limit: "<= 300 [N/m]"
            example: {given: {substrate: kraft paper}, gives: 260 N/m, within: 1 N/m}
    """
    known = domains(analysis)
    calls, curves = list(look_ups(analysis, "lookup")), {name for name, _ in interpolated(analysis)}
    for name, table in analysis.procedure.scope.tables.items():
        here = [call for call in calls if table_of(call) == name]
        if not here or name in curves:
            continue
        for index, row in enumerate(table.rows):
            if not any(may_be_asked(keys_of(call), row, known) for call in here):
                yield Remark(
                    row_place(analysis, name, index),
                    f"no choice that is offered leads to row {index + 1} of `{name}`",
                    "Take it out, or spell it like the choice that it is for.",
                )


def may_be_asked(keys: tuple[Expr, ...], row: tuple[float | str, ...], known: dict[str, tuple[str, ...]]) -> bool:
    """Whether some choice leads to a row."""
    texts = (texts_of(key, known) for key in keys)
    return all(may is None or cell in may for may, cell in zip(texts, row, strict=False))


@rule(Severity.ERROR)
def interpolation_ambiguous(analysis: Analysis) -> Iterator[Remark]:
    """A table that is interpolated has two rows for the same first value.

    Why: at that value the result jumps from one row to the other, and which one counts nobody has said.
    Source: common practice, no source.

    Wrong:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [200, 500]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows:
              - [200, 525]
              - [300, 700]
              - [300, 790]  # here
              - [500, 960]
        calculations:
          wanted_tension:
            formula: interpolate(board, caliper, pull)
            unit: N/m
            limit: "<= 1000 [N/m]"
            example: {given: {caliper: 200 um}, gives: 525 N/m, within: 1 N/m}
    Right:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [200, 500]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows:
              - [200, 525]
              - [300, 700]
              - [500, 960]
        calculations:
          wanted_tension:
            formula: interpolate(board, caliper, pull)
            unit: N/m
            limit: "<= 1000 [N/m]"
            example: {given: {caliper: 200 um}, gives: 525 N/m, within: 1 N/m}
    """
    for name, table in interpolated(analysis):
        first: dict[float | str, int] = {}
        for index, row in enumerate(table.rows):
            before = first.setdefault(row[0], index)
            if before != index:
                yield Remark(
                    row_place(analysis, name, index),
                    f"rows {before + 1} and {index + 1} of `{name}` have the same {table.columns[0]}",
                    "Take one of the two out.",
                )


@rule(Severity.WARNING)
def interpolation_unsorted(analysis: Analysis) -> Iterator[Remark]:
    """The rows of a table that is interpolated neither rise nor fall from one to the next.

    Why: they are put in order before use. A row that stands out of order is most often a number typed wrongly.
    Source: common practice, no source.

    Wrong:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [200, 500]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows:
              - [200, 525]
              - [3000, 700]
              - [500, 960]  # here
        calculations:
          wanted_tension:
            formula: interpolate(board, caliper, pull)
            unit: N/m
            limit: "<= 1000 [N/m]"
            example: {given: {caliper: 200 um}, gives: 525 N/m, within: 1 N/m}
    Right:
        inputs:
          caliper: {ask: Thickness of the board, unit: um, within: [200, 500]}
        tables:
          board:
            columns: {caliper: um, pull: N/m}
            rows:
              - [200, 525]
              - [300, 700]
              - [500, 960]
        calculations:
          wanted_tension:
            formula: interpolate(board, caliper, pull)
            unit: N/m
            limit: "<= 1000 [N/m]"
            example: {given: {caliper: 200 um}, gives: 525 N/m, within: 1 N/m}
    """
    for name, table in interpolated(analysis):
        values = [float(row[0]) for row in table.rows]
        steps = [
            (index, after - before) for index, (before, after) in enumerate(pairwise(values), 1) if after != before
        ]
        turned = next((index for index, step in steps if (step > 0) != (steps[0][1] > 0)), None)
        if turned is not None:
            way = "rise" if steps[0][1] > 0 else "fall"
            yield Remark(
                row_place(analysis, name, turned),
                f"the rows of `{name}` {way} up to here, and row {turned + 1} does not",
                f"Put the rows in the order of {table.columns[0]}, and look at this one's number once more.",
            )


@rule(Severity.WARNING)
def rack_shared(analysis: Analysis) -> Iterator[Remark]:
    """Two splits take their pieces from the same rack.

    Why: each is worked out as if the whole rack were there for it. The same pieces may be wanted on both bars, and whoever comes second
    stands before an empty rack and takes what there is.
    Source: common practice, no source.

    Wrong:
        inputs:
          unwind_mass: {ask: Mass on the unwind bar, unit: kg, within: [0, 40]}
          rewind_mass: {ask: Mass on the rewind bar, unit: kg, within: [0, 40]}
        pieces:
          rack: {unit: kg, stock: {"1": 8, "5": 16}}
        calculations:
          unwind_wanted: {formula: unwind_mass, unit: kg, example: {given: {unwind_mass: 5 kg}, gives: 5 kg, within: 0.1 kg}}
          rewind_wanted: {formula: rewind_mass, unit: kg, example: {given: {rewind_mass: 5 kg}, gives: 5 kg, within: 0.1 kg}}
          unwind_pieces: {split: unwind_wanted, from: rack, within: 2 kg}
          rewind_pieces: {split: rewind_wanted, from: rack, within: 2 kg}  # here
        phases:
          - phase: Hang
            park: after
            steps:
              - {id: hang, by: unwind, do: "Hang {unwind_pieces} and {rewind_pieces}."}
    Right:
        inputs:
          unwind_mass: {ask: Mass on the unwind bar, unit: kg, within: [0, 40]}
          rewind_mass: {ask: Mass on the rewind bar, unit: kg, within: [0, 40]}
        pieces:
          unwind_rack: {unit: kg, stock: {"1": 8, "5": 8}}
          rewind_rack: {unit: kg, stock: {"1": 8, "5": 8}}
        calculations:
          unwind_wanted: {formula: unwind_mass, unit: kg, example: {given: {unwind_mass: 5 kg}, gives: 5 kg, within: 0.1 kg}}
          rewind_wanted: {formula: rewind_mass, unit: kg, example: {given: {rewind_mass: 5 kg}, gives: 5 kg, within: 0.1 kg}}
          unwind_pieces: {split: unwind_wanted, from: unwind_rack, within: 2 kg}
          rewind_pieces: {split: rewind_wanted, from: rewind_rack, within: 2 kg}
        phases:
          - phase: Hang
            park: after
            steps:
              - {id: hang, by: unwind, do: "Hang {unwind_pieces} and {rewind_pieces}."}
    """
    first: dict[str, str] = {}
    for split in sorted(
        (made for made in analysis.procedure.calculations if isinstance(made, Split)), key=lambda made: made.place
    ):
        other = first.setdefault(split.rack, split.name)
        if other != split.name:
            yield Remark(
                analysis.within(split.place, "from"),
                f"`{other}` and `{split.name}` both take their pieces from `{split.rack}`, and a piece hangs on one bar only",
                "Give each a rack of its own, with the pieces that are kept for it.",
            )


def look_ups(analysis: Analysis, function: str) -> Iterator[Call]:
    """Every call of `lookup` or of `interpolate` in the procedure."""
    for expr in analysis.expressions:
        for node in nodes(expr):
            if isinstance(node, Call) and node.function == function:
                yield node


def table_of(call: Call) -> str:
    """The name of the table that a call looks into."""
    first = call.arguments[0]
    return first.id if isinstance(first, Reference) else ""


def keys_of(call: Call) -> tuple[Expr, ...]:
    """What a call looks its table up by."""
    return call.arguments[1:-1]


def column_of(call: Call) -> str:
    """The column that a call wants."""
    last = call.arguments[-1]
    return last.id if isinstance(last, Reference) else ""


def domains(analysis: Analysis) -> dict[str, tuple[str, ...]]:
    """The texts that each choice may be, by its name: choices of the job ticket, and answers that are accepted."""
    found = {given.name: given.choices for given in analysis.procedure.inputs if given.choices}
    for step in analysis.steps:
        found.update({ask.name: ask.accept or ask.of for ask in step.asks if ask.kind == "choose" and ask.of})
    return found


def texts_of(key: Expr, known: dict[str, tuple[str, ...]]) -> tuple[str, ...] | None:
    """The texts that a key may be; None where nothing says so, or it is a number."""
    match key:
        case Text():
            return (key.value,)
        case Name():
            return known.get(key.id)
        case _:
            return None


def interpolated(analysis: Analysis) -> Iterator[tuple[str, TableRows]]:
    """The tables that some formula interpolates, by name."""
    names = {table_of(call) for call in look_ups(analysis, "interpolate")}
    for name, table in analysis.procedure.scope.tables.items():
        if name in names:
            yield name, table


def row_place(analysis: Analysis, table: str, index: int) -> Place:
    """Where a row of a table stands."""
    return analysis.within(dict(analysis.procedure.places)[table], "rows", index)
