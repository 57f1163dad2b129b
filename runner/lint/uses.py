"""Which names a procedure reads, and from which formulas: for rules about what is named and never used."""

from collections.abc import Iterator

from runner.formula.expr import Expr, names_in, references_in
from runner.procedure.model import Calculation, Procedure, Split, Step, steps_of
from runner.procedure.template import Slot, Template


def names_read(procedure: Procedure) -> frozenset[str]:
    """Every value, table and web path that something in the procedure reads."""
    found: set[str] = set()
    for expr in expressions(procedure):
        found |= names_in(expr)
        found |= {reference.id for reference in references_in(expr)}
    for calculation in procedure.calculations:
        if isinstance(calculation, Split):
            found.add(calculation.mass)
    for step in steps_of(procedure):
        found |= names_read_by(step)
    for name, rollers in procedure.scope.paths.items():
        if name in found:
            for roller in rollers:
                found |= names_in(roller.x) | names_in(roller.y) | names_in(roller.diameter)
    return frozenset(found)


def names_read_by(step: Step) -> frozenset[str]:
    """The names that a step's text, its troubles' texts and its asks read, apart from formulas."""
    found = slots_of(step.do)
    for trouble in step.troubles:
        found |= slots_of(trouble.do)
    for ask in step.asks:
        found |= {name for name in (ask.match, ask.path) if name}
    return frozenset(found)


def slots_of(template: Template) -> set[str]:
    """The names that stand in slots."""
    return {part.name for part in template.parts if isinstance(part, Slot)}


def expressions(procedure: Procedure) -> Iterator[Expr]:
    """Every formula of the calculations and steps; those of web paths only count once the path is used."""
    for calculation in procedure.calculations:
        if isinstance(calculation, Calculation):
            yield calculation.formula
            for limit in calculation.limits:
                yield limit.bound
            if calculation.rough is not None:
                yield calculation.rough.formula
    for step in steps_of(procedure):
        yield from expressions_of(step)


def expressions_of(step: Step) -> Iterator[Expr]:
    """Every formula of a step."""
    if step.when is not None:
        yield step.when.expr
    if step.repeat is not None:
        yield step.repeat.until
    for ask in step.asks:
        for bound in (ask.low, ask.high):
            if bound is not None:
                yield bound
