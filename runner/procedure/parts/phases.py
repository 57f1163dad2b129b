"""Phases and their lists of steps, numbered as people say them: phase, dot, place; `5a.3` where lists stand side by side."""

from string import ascii_lowercase

from runner.procedure.include import Folder
from runner.procedure.model import Phase, SafeAct, StepList
from runner.procedure.nodes import Map, key_place, node_place
from runner.procedure.parts.head import text
from runner.procedure.parts.steps import Placed, Press, Where, read_make_safe, read_step


def read_phases(
    root: Map, folder: Folder, press: Press, make_safe: tuple[SafeAct, ...]
) -> tuple[tuple[Phase, ...], list[Placed]]:
    """The phases, and every step with its place in the work."""
    placed: list[Placed] = []
    phases = []
    for index, node in enumerate(root["phases"]):
        lists = []
        for number, (person, steps) in enumerate(lists_of(node, folder, press)):
            label = f"{index + 1}{ascii_lowercase[number % 26]}" if "together" in node else f"{index + 1}"
            first = len(placed)
            for place, step in enumerate(steps):
                where = Where(index, number, person, place, f"{label}.{place + 1}")
                placed.append(Placed(read_step(step, where, press), step, where))
            lists.append(StepList(person, tuple(entry.step for entry in placed[first:])))
        acts = read_make_safe(node, press.states, press.desk) if "make_safe" in node else make_safe
        press_word, park = text(node, "press", "stopped"), text(node, "park")
        phases.append(Phase(text(node, "phase"), press_word, park, tuple(lists), acts, node_place(node)))
    return tuple(phases), placed


def lists_of(node: Map, folder: Folder, press: Press) -> list[tuple[str, list[Map]]]:
    """(role, steps) of each list of a phase; the role is empty where there is one list."""
    if "steps" in node:
        return [("", folder.steps(node["steps"]))]
    together: Map = node["together"]
    for role in together:
        if role not in press.roles and not press.desk.partial:
            message = f"there is no role `{role}`"
            press.desk.add("unknown-role", message, key_place(together, role))
    return [(role, folder.steps(steps)) for role, steps in together.items()]
