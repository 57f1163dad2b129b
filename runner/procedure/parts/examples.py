"""Worked examples of calculations: read once all names are known; lint works them out again."""

from runner.formula.kinds import Quantity, TextKind
from runner.formula.quantity import Misread, read_quantity
from runner.formula.scope import Scope, names_needed
from runner.procedure.desk import near, one_line
from runner.procedure.model import Calculation, Example, Split
from runner.procedure.names import Names
from runner.procedure.nodes import Map, key_place
from runner.procedure.parts.splits import same


def with_examples(
    calculations: tuple[Calculation | Split, ...], root: Map, names: Names, scope: Scope
) -> tuple[Calculation | Split, ...]:
    """The calculations with their examples put in."""
    nodes: Map | dict[str, Map] = root.get("calculations", {})
    by_name = {made.name: made for made in calculations}
    found: list[Calculation | Split] = []
    for made in calculations:
        node = nodes[made.name]
        if isinstance(made, Calculation) and "example" in node:
            made = made._replace(example=read_example(made, node, names, by_name, scope))
        found.append(made)
    return tuple(found)


def read_example(
    made: Calculation, node: Map, names: Names, calculations: dict[str, Calculation | Split], scope: Scope
) -> Example | None:
    """One example; None after a finding."""
    example: Map = node["example"]
    desk = names.desk
    given_node: Map = example["given"]
    given = [read_given(given_node, name, names) for name in given_node]
    lacking = sorted(lacking_names(made.name, set(given_node), calculations, scope))
    lacking = [name for name in lacking if name in names.known and name != made.name]
    if lacking:
        listed = " and ".join(f"`{name}`" for name in lacking)
        desk.at_key("example-form", f"the example does not give {listed}, which the formula rests on", example, "given")
    gives, within = desk.quantity(example, "gives"), desk.quantity(example, "within")
    if gives is None or within is None:
        return None
    wanted = made.unit.dimension
    if not same(gives[1], wanted, "the result", example, "gives", desk):
        return None
    if not same(within[1], wanted, "the tolerance", example, "within", desk):
        return None
    values = tuple(pair for pair in given if pair is not None)
    return Example(values, gives[1].si(gives[0]), within[0] * within[1].factor, key_place(node, "example"))


def read_given(node: Map, name: str, names: Names) -> tuple[str, float | str] | None:
    """One given value: a quantity or a choice; None after a finding."""
    known, desk = names.known.get(name), names.desk
    written = one_line(node[name])
    if known is None or known.what in ("table", "web path"):
        if not desk.partial:
            desk.at_key("unknown-name", f"there is no value `{name}`", node, name, near(name, tuple(names.known)))
        return None
    match known.kind:
        case Quantity() if known.unit is not None:
            read = read_quantity(written, known.unit)
            if isinstance(read, Misread):
                desk.at_value("example-form", read.message, node, name)
                return None
            return name, read.si
        case Quantity():
            quantity = desk.quantity(node, name)
            return None if quantity is None else (name, quantity[1].si(quantity[0]))
        case TextKind(choices=choices) if choices and written not in choices:
            desk.missing("unknown-value", f"choice of `{name}` called", written, choices, node, name)
            return None
        case TextKind():
            return name, written
        case _:
            return None


def lacking_names(name: str, given: set[str], calculations: dict[str, Calculation | Split], scope: Scope) -> set[str]:
    """Names that the calculation rests on and that are neither given nor worked out from what is given."""
    lacking: set[str] = set()
    seen: set[str] = set()
    waiting = [name]
    while waiting:
        current = waiting.pop()
        if current in seen:
            continue
        seen.add(current)
        made = calculations.get(current)
        if current in given and current != name:
            continue
        if made is None:
            lacking.add(current)
        elif isinstance(made, Split):
            waiting.append(made.mass)
        else:
            waiting.extend(names_needed(made.formula, scope))
            if made.rough is not None and current == name:
                waiting.extend(names_needed(made.rough.formula, scope))
    return lacking
