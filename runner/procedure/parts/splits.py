"""Splits of a mass into pieces: what is split, from which rack, how evenly, and who may accept what misses the tolerance.

What a split `gives` is looked at once all calculations are in order: the mass must have been worked out from it.
"""

from runner.formula.dimension import MASS, Dimension, describe
from runner.formula.kinds import Quantity, words
from runner.formula.repairs import clash
from runner.formula.scope import Scope, names_needed
from runner.formula.units import Unit
from runner.procedure.desk import Desk
from runner.procedure.hung import chain
from runner.procedure.model import Calculation, Rack, Split
from runner.procedure.names import Names
from runner.procedure.nodes import Key, Map, Seq, key_place
from runner.procedure.parts.head import text

BOTH = 2
"""The number of ends for which pieces of unequal mass can be chosen."""


def read_split(
    calculations: Map, name: str, names: Names, racks: dict[str, Rack], roles: dict[str, str]
) -> Split | None:
    """One split; None after a finding."""
    node: Map = calculations[name]
    desk = names.desk
    mass, rack, release = text(node, "split"), text(node, "from"), text(node, "release")
    known = names.known.get(mass)
    if known is None or known.what != "calculation":
        desk.missing("unknown-name", "calculation", mass, names.of("calculation"), node, "split")
    elif isinstance(known.kind, Quantity) and known.kind.dimension != MASS:
        desk.at_value("unit-mismatch", f"a split is of a mass; `{mass}` is {words(known.kind)}", node, "split")
    if rack not in racks:
        desk.missing("unknown-rack", "rack", rack, racks, node, "from")
    if release and release not in roles:
        desk.missing("unknown-role", "role", release, roles, node, "release")
    ends = int(node.get("ends", "2"))
    within = read_mass(node, "within", "the tolerance", desk)
    uneven = read_mass(node, "uneven", "the difference of the ends", desk) if "uneven" in node else 0.0
    if within is None or uneven is None:
        return None
    if "uneven" in node and ends != BOTH:
        message = f"`uneven` is for {BOTH} ends; here are {ends}, which carry the same pieces each"
        desk.at_key("split-form", message, node, "uneven", "Leave it out.")
    place = key_place(calculations, name)
    return Split(name, mass, rack, ends, within, place, uneven=uneven, gives=text(node, "gives"), release=release)


def read_mass(node: Map, key: str, what: str, desk: Desk) -> float | None:
    """A mass that is not below nothing, in kg; None after a finding."""
    read = desk.quantity(node, key)
    if read is None or not same(read[1], MASS, what, node, key, desk):
        return None
    if read[0] < 0:
        desk.at_value("split-form", f"{what} is below nothing", node, key)
        return None
    return read[1].si(read[0])


def same(unit: Unit, needed: Unit | Dimension, what: str, node: Map | Seq, key: Key, desk: Desk) -> bool:
    """True where a unit has the dimension; else a finding that names both. A step on a scale is a difference."""
    wanted, written = (needed.dimension, needed.text) if isinstance(needed, Unit) else (needed, "")
    if unit.dimension._replace(point="") == wanted._replace(point=""):
        return True
    message = f"{what} is {describe(unit.dimension, unit.text)}, {describe(wanted, written)} is needed"
    desk.at_value("unit-mismatch", message, node, key, clash(unit.dimension, wanted))
    return False


def check_gives(calculations: tuple[Calculation | Split, ...], root: Map, names: Names, scope: Scope) -> None:
    """What pieces give is an input or a calculation, a number, and the mass was worked out from it."""
    by_name = {made.name: made for made in calculations if isinstance(made, Calculation)}
    uses = {name: names_needed(made.formula, scope) for name, made in by_name.items()}
    for split in calculations:
        if not isinstance(split, Split) or not split.gives:
            continue
        node, known = root["calculations"][split.name], names.known.get(split.gives)
        if known is None or known.what not in ("input", "calculation"):
            fit = names.of("input", "calculation")
            names.desk.missing("unknown-name", "input or calculation", split.gives, fit, node, "gives")
        elif known.unit is None and known.kind is not None:
            what = "the mass of pieces" if known.what == "calculation" else "no number"
            names.desk.at_value("split-form", f"`{split.gives}` is {what}", node, "gives", "Name what the mass is for.")
        elif split.mass in by_name and not chain(by_name, uses, split.gives, split.mass):
            message = f"`{split.mass}` is not worked out from `{split.gives}`"
            hint = "Name an input or calculation that the formula of the mass rests on."
            names.desk.at_value("split-form", message, node, "gives", hint)
