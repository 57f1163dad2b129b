"""Calculations: formulas with unit, limits, rounding and worked example, and splits of a mass into pieces.

They may stand in any order in the text; here each comes after all that it uses, and circles are findings.
"""

import re

from runner.formula.dimension import Dimension, clash, describe
from runner.formula.expr import Expr
from runner.formula.kinds import Quantity
from runner.formula.scope import Scope, names_needed
from runner.formula.units import Unit
from runner.procedure.desk import Desk, parted
from runner.procedure.model import Calculation, Limit, Rack, Rounding, Split
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Key, Map, Seq, key_place, value_place
from runner.procedure.parts.head import text

SIDES = re.compile(r"\band\s+(?=[<>])")
OPERATORS = ("<=", ">=", "<", ">")
DIRECTIONS = ("nearest", "up", "down")
IN_LIMITS = ("input", "calculation")


def declare_calculations(root: Map, names: Names) -> None:
    """Make every calculation a name, before any formula is looked at. A split is a mass."""
    nodes: Map | dict[str, Map] = root.get("calculations", {})
    for name, node in nodes.items():
        place = key_place(root["calculations"], name)
        if "split" in node:
            names.declare(Known(name, "calculation", Quantity(Dimension(mass=1)), None, place))
        else:
            unit = names.desk.unit(node, "unit")
            names.declare(Known(name, "calculation", Quantity(unit.dimension) if unit else None, unit, place))


def read_calculations(root: Map, names: Names, racks: dict[str, Rack]) -> list[Calculation | Split]:
    """The calculations, as the author lists them; faulty ones are left out after their findings."""
    nodes: Map | dict[str, Map] = root.get("calculations", {})
    found: list[Calculation | Split] = []
    for name in nodes:
        node: Map = root["calculations"][name]
        made = (
            read_split(root["calculations"], name, names, racks)
            if "split" in node
            else read_formula(root["calculations"], name, names)
        )
        if made is not None:
            found.append(made)
    return found


def read_formula(calculations: Map, name: str, names: Names) -> Calculation | None:
    """One formula with what belongs to it; its worked example is read later, when all names are known."""
    node: Map = calculations[name]
    known = names.known.get(name)
    unit = known.unit if known is not None and known.place == key_place(calculations, name) else None
    wanted = unit.dimension if unit else None
    desk = names.desk
    formula = desk.formula(node, "formula", wanted, "the formula") if unit else desk.unchecked_formula(node, "formula")
    if unit is None or formula is None:
        return None
    limits = read_limits(node, unit, desk) if "limit" in node else ()
    rounding = read_rounding(node, unit, desk) if "round" in node else None
    return Calculation(
        name,
        formula,
        text(node, "formula"),
        unit,
        limits,
        rounding,
        None,
        text(node, "why"),
        key_place(calculations, name),
    )


def read_limits(node: Map, unit: Unit, desk: Desk) -> tuple[Limit, ...]:
    """One or two sides: `>= 0 [kg] and <= 40 [kg]`."""
    written: str = node["limit"]
    starts = [0, *(found.end() for found in SIDES.finditer(written))]
    ends = [*(found.start() for found in SIDES.finditer(written)), len(written)]
    limits = [read_side(node, written[start:end], start, unit, desk) for start, end in zip(starts, ends, strict=True)]
    directions = [limit.op[0] for limit in limits if limit is not None]
    if len(directions) != len(set(directions)):
        desk.at_value("limit-form", "a limit has one lower and one upper side at most", node, "limit")
    return tuple(limit for limit in limits if limit is not None)


def read_side(node: Map, written: str, start: int, unit: Unit, desk: Desk) -> Limit | None:
    """One side; None after a finding."""
    lead = start + len(written) - len(written.lstrip())
    side = written.strip()
    op = next((operator for operator in OPERATORS if side.startswith(operator)), "")
    if not op:
        desk.at_offset(
            "limit-form", "a limit begins with <=, <, >= or >", node, "limit", lead, 'Write "<= 800 [kg]" in quotes.'
        )
        return None
    bound_text = side[len(op) :]
    lead += len(op) + len(bound_text) - len(bound_text.lstrip())
    bound = desk.formula_of(bound_text.strip(), node, "limit", unit.dimension, "the limit", lead, IN_LIMITS)
    return None if bound is None else Limit(op, bound, side, value_place(node, "limit"))


def read_rounding(node: Map, unit: Unit, desk: Desk) -> Rounding | None:
    """`nearest 0.5 kg`; None after a finding."""
    written = text(node, "round")
    direction, _, step = written.partition(" ")
    parts = parted(step)
    if direction not in DIRECTIONS or parts is None:
        desk.at_value(
            "round-form",
            f"`{written}` is no rounding",
            node,
            "round",
            "Write `nearest 0.5 kg`, `up 1 mm` or `down 1 kg`.",
        )
        return None
    step_unit = desk.unit_of(parts[1], node, "round", node["round"].rfind(parts[1]))
    if step_unit is None or not same(step_unit, unit.dimension, "the step", node, "round", desk):
        return None
    if parts[0] <= 0:
        desk.at_value("round-form", "the step is greater than nothing", node, "round")
        return None
    return Rounding(direction, parts[0] * step_unit.factor, written)


def same(unit: Unit, wanted: Dimension, what: str, node: Map | Seq, key: Key, desk: Desk) -> bool:
    """True where a unit has the dimension; else a finding that names both. A step on a scale is a difference."""
    if unit.dimension._replace(point="") == wanted._replace(point=""):
        return True
    message = f"{what} is {describe(unit.dimension)}, {describe(wanted)} is needed"
    desk.at_value("unit-mismatch", message, node, key, clash(unit.dimension, wanted))
    return False


def read_split(calculations: Map, name: str, names: Names, racks: dict[str, Rack]) -> Split | None:
    """One split; None after a finding."""
    node: Map = calculations[name]
    desk = names.desk
    mass, rack = text(node, "split"), text(node, "from")
    known = names.known.get(mass)
    if known is None or known.what != "calculation":
        desk.missing("unknown-name", "calculation", mass, names.of("calculation"), node, "split")
    elif isinstance(known.kind, Quantity) and known.kind.dimension != Dimension(mass=1):
        desk.at_value(
            "unit-mismatch", f"a split is of a mass; `{mass}` is {describe(known.kind.dimension)}", node, "split"
        )
    if rack not in racks:
        desk.missing("unknown-rack", "rack", rack, racks, node, "from")
    within = desk.quantity(node, "within")
    if within is None or not same(within[1], Dimension(mass=1), "the tolerance", node, "within", desk):
        return None
    return Split(name, mass, rack, int(node.get("ends", "2")), within[1].si(within[0]), key_place(calculations, name))


def used_by(calculation: Calculation | Split, scope: Scope) -> frozenset[str]:
    """The names that a calculation and its limits use."""
    if isinstance(calculation, Split):
        return frozenset({calculation.mass})
    return frozenset().union(*(names_needed(expr, scope) for expr in exprs_of(calculation)))


def exprs_of(calculation: Calculation) -> tuple[Expr, ...]:
    """The formula and the bounds of its limits."""
    return (calculation.formula, *(limit.bound for limit in calculation.limits))


def in_order_of_use(
    calculations: list[Calculation | Split], scope: Scope, desk: Desk
) -> tuple[Calculation | Split, ...]:
    """Each after all that it uses; the members of a circle are left out after a finding."""
    by_name = {made.name: made._replace(uses=used_by(made, scope)) for made in calculations}
    uses = {name: [other for other in sorted(made.uses) if other in by_name] for name, made in by_name.items()}
    ordered: list[Calculation | Split] = []
    done: set[str] = set()
    for name in by_name:
        walk_uses(name, uses, by_name, done, ordered, desk)
    return tuple(ordered)


def walk_uses(
    first: str,
    uses: dict[str, list[str]],
    by_name: dict[str, Calculation | Split],
    done: set[str],
    ordered: list[Calculation | Split],
    desk: Desk,
) -> None:
    """Put `first` and all that it uses in order, depth first without recursion; a way back to itself is a finding."""
    way: dict[str, None] = {}  # in order, and quick to look into
    waiting = [(first, False)]
    while waiting:
        name, left = waiting.pop()
        if left:
            way.popitem()
            if name not in done:
                done.add(name)
                ordered.append(by_name[name])
        elif name in way:
            members = list(way)
            circle = [*members[members.index(name) :], name]
            at = by_name[min(circle, key=lambda member: by_name[member].place)].place
            desk.add("circle", "calculations go in a circle: " + " -> ".join(shortened(circle)), at)
            return done.update(way)
        elif name not in done:
            way[name] = None
            waiting.append((name, True))
            waiting.extend((other, False) for other in reversed(uses[name]))
    return None


def shortened(circle: list[str]) -> list[str]:
    """A way that a person can read."""
    return circle if len(circle) <= 12 else [*circle[:6], "...", *circle[-3:]]
