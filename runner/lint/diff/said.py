"""Values of a procedure in words, as `was` and `now` show them."""

from runner.formula.expr import Expr, Number, names_in
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.model import Band, Phase, Repeat, Step


def formula(expr: Expr | None, unit: Unit | None = None) -> str:
    """A formula as one would write it; a number in the unit that it is asked for in."""
    from runner.formula.evaluate import si_of
    from runner.formula.explain import explain

    if expr is None:
        return ""
    if isinstance(expr, Number):
        return show(si_of(expr), unit) if unit is not None else f"{expr.value:g} {expr.unit}".strip()
    return explain(expr, {name: name for name in names_in(expr)})


def number(value: float | None, unit: Unit | None) -> str:
    """A number in a unit; empty for none."""
    if value is None:
        return ""
    return f"{value:g}" if unit is None else show(value, unit)


def band(given: Band | tuple[float, float] | None, unit: Unit | None) -> str:
    """A range; empty for none."""
    return "" if given is None else f"{number(given[0], unit)} to {number(given[1], unit)}"


def yes(flag: bool) -> str:
    """A flag."""
    return "yes" if flag else "no"


def several(names: "list[str] | tuple[str, ...]") -> str:
    """A list in words."""
    return ", ".join(names)


def repeat(given: Repeat | None) -> str:
    """A repeat."""
    return "" if given is None else f"until {given.text}, {given.at_most} times at most"


def guards(step: Step) -> list[str]:
    """What a step keeps people from: all that goes when it goes."""
    found = [f"a hold for {step.hold.release}"] if step.hold else []
    found += [f"a second look by {step.second.by}"] if step.second else []
    found += [f"the caution {caution.id}" for caution in step.cautions]
    found += [f"the answer {ask.name}" for ask in step.asks]
    found += ["its needs"] if step.needs else []
    found += ["the lifting gear that it names"] if step.lifts else []
    return found


def phase(given: Phase, person: str = "") -> str:
    """A phase, and whose list."""
    return f"phase {given.name}" + (f", list of {person}" if person else "")
