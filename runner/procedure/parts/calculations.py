"""Calculations: formulas with unit, limits, rounding, rough check and worked example, and splits of a mass into pieces.

They may stand in any order in the text; here each comes after all that it uses, and circles are findings.
"""

import re

from runner.formula.dimension import NUMBER, Dimension
from runner.formula.kinds import Quantity, quantity_in
from runner.formula.scope import Scope, names_needed
from runner.formula.units import Unit
from runner.procedure.desk import Desk, parted
from runner.procedure.finding import Place
from runner.procedure.model import Calculation, Limit, Rack, RoughCheck, Rounding, Split
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Map, key_place, value_place
from runner.procedure.parts.head import text
from runner.procedure.parts.splits import read_split, same
from runner.procedure.where_from import exprs_of

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
            names.declare(Known(name, "calculation", quantity_in(unit) if unit else None, unit, place))


def read_calculations(
    root: Map, names: Names, racks: dict[str, Rack], roles: dict[str, str]
) -> list[Calculation | Split]:
    """The calculations, as the author lists them; faulty ones are left out after their findings."""
    nodes: Map | dict[str, Map] = root.get("calculations", {})
    found: list[Calculation | Split] = []
    for name in nodes:
        node: Map = root["calculations"][name]
        made = (
            read_split(root["calculations"], name, names, racks, roles)
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
    desk = names.desk
    formula = desk.formula(node, "formula", unit, "the formula") if unit else desk.unchecked_formula(node, "formula")
    if unit is None or formula is None:
        return None
    limits = read_limits(node, unit, desk) if "limit" in node else ()
    rounding = read_rounding(node, unit, desk) if "round" in node else None
    rough = read_rough(node["rough"], key_place(node, "rough"), unit, desk) if "rough" in node else None
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
        rough=rough,
    )


def read_rough(node: Map, place: Place, unit: Unit, desk: Desk) -> RoughCheck | None:
    """The author's rough check; None after a finding."""
    formula, within = desk.formula(node, "formula", unit, "the rough check"), desk.quantity(node, "within")
    if unit.dimension.point:
        message = f"a rough check agrees within a share, and {unit.text} counts from no true zero"
        desk.add("rough-form", message, place, "Leave it out.")
        return None
    if formula is None or within is None:
        return None
    share = within[1].si(within[0])
    if within[1].dimension != NUMBER or not 0 < share < 1:
        hint = "Write `within: 20 %`."
        message = f"`{text(node, 'within')}` is no share: more than 0 % and less than 100 % of the larger of the two"
        desk.at_value("rough-form", message, node, "within", hint)
        return None
    return RoughCheck(formula, text(node, "formula"), share, place)


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
    bound = desk.formula_of(bound_text.strip(), node, "limit", unit, "the limit", lead, IN_LIMITS)
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
    if step_unit is None or not same(step_unit, unit, "the step", node, "round", desk):
        return None
    if parts[0] <= 0:
        desk.at_value("round-form", "the step is greater than nothing", node, "round")
        return None
    return Rounding(direction, parts[0] * step_unit.factor, written)


def used_by(calculation: Calculation | Split, scope: Scope) -> frozenset[str]:
    """The names that a calculation, its limits and its rough check use."""
    if isinstance(calculation, Split):
        return frozenset({calculation.mass})
    return frozenset().union(*(names_needed(expr, scope) for expr in exprs_of(calculation)))


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
