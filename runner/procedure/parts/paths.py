"""Web paths: rollers with their places, which may hang on the job's inputs and on nothing else."""

from runner.formula.dimension import LENGTH
from runner.formula.expr import Expr, Number, Span
from runner.formula.kinds import Path
from runner.formula.scope import PathRoller
from runner.procedure.desk import Desk, parted
from runner.procedure.finding import Place
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Key, Map, Seq, key_place, value_place
from runner.procedure.parts.head import text

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
        names.declare(Known(name, "web path", Path(called) if called else None, None, place))
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
    return PathRoller(text(node, "roller"), x, y, diameter, text(node, "pass"), text(node, "moves"))


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
