"""Web paths: rollers with their places, which may hang on the job's inputs and on nothing else.

Direction and travel of a roller that moves are fixed: they belong to the machine and not to the job.
"""

from math import radians

from runner.formula.dimension import LENGTH, describe
from runner.formula.expr import Expr, Number, Span
from runner.formula.kinds import Path
from runner.formula.scope import PathRoller
from runner.procedure.desk import Desk, parted
from runner.procedure.finding import Place
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Key, Map, Seq, key_place, value_place
from runner.procedure.parts.head import text
from runner.trade.web_path import HORIZONTAL, VERTICAL

WHAT = "the place or size of a roller"
INPUTS_ONLY = ("input",)


def read_paths(root: Map, names: Names, places: list[tuple[str, Place]]) -> dict[str, tuple[PathRoller, ...]]:
    """Web paths by name; each becomes a name, and the places of its rollers are kept."""
    nodes: Map | dict[str, Map] = root.get("web_paths", {})
    paths: dict[str, tuple[PathRoller, ...]] = {}
    desk = names.desk
    for name, node in nodes.items():
        entries: Seq = node["rollers"]
        called = () if twice(entries, desk) else tuple(text(entry, "roller") for entry in entries)
        place = key_place(root["web_paths"], name)
        places.append((name, place))
        rollers = [read_roller(entry, desk) for entry in entries]
        sound = tuple(roller for roller in rollers if roller is not None)
        travelling = frozenset(roller.name for roller in sound if roller.travel is not None)
        # a travel that is at fault is complained of once, not again in every formula that needs it
        travelling |= frozenset(text(entry, "roller") for entry in entries if "travel" in entry)
        names.declare(Known(name, "web path", Path(called, travelling) if called else None, None, place))
        desk.rollers[name] = tuple(f"{text(entry, 'roller')}: {text(entry, 'pass')}" for entry in entries)
        if len(sound) == len(rollers):
            paths[name] = sound
        for entry, roller in zip(entries, sound, strict=False):
            places.append((f"{name}/{roller.name}", value_place(entry, "roller")))
    return paths


def twice(entries: Seq, desk: Desk) -> bool:
    """True, with findings, where two rollers have the same name."""
    seen: set[str] = set()
    found = False
    for entry in entries:
        name = text(entry, "roller")
        if name in seen:
            desk.at_value("twice-in-list", f"the path has two rollers called `{name}`", entry, "roller")
            found = True
        seen.add(name)
    return found


def read_roller(node: Map, desk: Desk) -> PathRoller | None:
    """One roller; None after a finding."""
    x = length(node["at"], 0, desk)
    y = length(node["at"], 1, desk)
    diameter = length(node, "diameter", desk)
    if x is None or y is None or diameter is None:
        return None
    moves = direction(text(node, "moves"))
    return PathRoller(text(node, "roller"), x, y, diameter, text(node, "pass"), moves, read_travel(node, desk))


def direction(written: str) -> float | None:
    """The angle of a `moves`, rad from the horizontal; None where there is none. Its form has been checked."""
    match written:
        case "":
            return None
        case "vertical":
            return VERTICAL
        case "horizontal":
            return HORIZONTAL
        case _:
            unit = written[-3:]
            angle = float(written.removesuffix(unit))
            return radians(angle) if unit == "deg" else angle


def read_travel(node: Map, desk: Desk) -> tuple[float, float] | None:
    """Both ends of a travel in m; None where there is none, or after a finding."""
    if "travel" not in node:
        return None
    written: Seq = node["travel"]
    if not text(node, "moves"):
        desk.at_key(
            "travel-without-moves",
            f"`{text(node, 'roller')}` has a travel, and nothing says in which direction it moves",
            node,
            "travel",
            "Add `moves`: vertical, horizontal or an angle.",
        )
        return None
    ends: list[float] = []
    for index in range(2):
        found = desk.quantity(written, index)
        if found is None:
            return None
        value, unit = found
        if unit.dimension != LENGTH:
            desk.at_value("unit-mismatch", f"an end of a travel is a length, {unit.text} is {describe(unit.dimension)}",
                          written, index, "Write it like `200 mm`.")  # fmt: skip
            return None
        ends.append(unit.si(value))
    low, high = ends
    if not low <= 0.0 <= high or low == high:
        desk.at_value(
            "travel-beside-roller",
            f"the travel of `{text(node, 'roller')}` goes from {written[0].strip()} to {written[1].strip()}, and the place "
            "where it is drawn, 0 mm, does not lie between",
            node,
            "travel",
            "Measure both ends from the place under `at`, the lower or left one first.",
        )
        return None
    return low, high


def is_one_word(written: str) -> bool:
    """Whether what stands after a number may be its unit: no blank, no bracket, and a letter or % in front."""
    return (written[0].isalpha() or written[0] == "%") and not any(sign in written for sign in " []()+-,'\"")


def length(node: Map | Seq, key: Key, desk: Desk) -> Expr | None:
    """A quantity like `100 mm`, or a formula over inputs, that gives a length."""
    written: str = node[key]  # type: ignore[index]  # a key for a map, an index for a list
    parts = parted(written.strip())
    if parts is None or parts[2] == 0 or not is_one_word(parts[1]):  # `100 [mm] + gap` only begins with a number
        return desk.formula(node, key, LENGTH, WHAT, INPUTS_ONLY)
    lead = written.find(parts[1], len(written) - len(written.lstrip()) + parts[2])
    unit = desk.unit_of(parts[1], node, key, lead)
    if unit is None:
        return None
    expr = Number(parts[0], unit.text, Span(0, len(written.strip())))
    desk.wait(expr, node, key, LENGTH, WHAT)
    return expr
