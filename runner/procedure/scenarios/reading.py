"""Scenario files read: text to `Scenario`, or the findings that say why there is none. Ids that come twice are findings."""

from typing import NamedTuple

from runner.procedure.desk import Desk, one_line
from runner.procedure.finding import Finding, Place, in_order
from runner.procedure.job import givens
from runner.procedure.language.scenario import CRITERION, RIGHT, SCENARIO, UNSAFE
from runner.procedure.nodes import Map, Seq, key_place, node_place, value_place
from runner.procedure.parts.head import flag, text
from runner.procedure.scenarios.model import Criterion, Deed, Fault, Question, Scenario, Shown
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import read

RIGHTS, UNSAFES, MET_BY = (record.groups[0].keys for record in (RIGHT, UNSAFE, CRITERION))


class ReadScenario(NamedTuple):
    """The scenario, or the findings that say why there is none."""

    scenario: Scenario | None
    findings: tuple[Finding, ...]


def read_scenario(written: str, path: str) -> ReadScenario:
    """The scenario that a text writes."""
    desk = Desk()
    source = read(written, path)
    desk.findings.extend(source.findings)
    root = source.root
    scenario = None
    if root is not None and not wrong_file(root, "scenario", desk):
        root = sound(root, SCENARIO, desk)
        if root is not None and not desk.failed:
            scenario = read_root(root, desk)
    return ReadScenario(None if desk.failed else scenario, in_order(desk.findings))


def read_root(root: Map, desk: Desk) -> Scenario:
    """The scenario of a sound top map."""
    faults, questions, criteria = (listed(root, key) for key in ("faults", "questions", "criteria"))
    for nodes, what in ((faults, "fault"), (questions, "question"), (criteria, "criterion")):
        once(nodes, what, desk)
    hints: Map | dict[str, Seq] = root.get("hints", {})
    return Scenario(
        text(root, "id"),
        text(root, "procedure"),
        text(root, "file"),
        text(root, "title"),
        text(root, "purpose"),
        text(root, "trainee"),
        text(root, "level", "simulate"),
        givens(root, "inputs"),
        givens(root, "crew"),
        read_shows(root),
        text(root, "start_at"),
        text(root, "stop_after"),
        tuple(read_fault(node) for node in faults),
        int(text(root, "draw", "1")),
        tuple((step, lines(told)) for step, told in hints.items()),
        tuple(read_question(node) for node in questions),
        tuple(
            Criterion(text(node, "id"), text(node, "words"), read_deed(node, MET_BY), node_place(node))
            for node in criteria
        ),
        (*places(root), *((f"hints/{step}", key_place(root["hints"], step)) for step in hints)),
    )


def read_fault(node: Map) -> Fault:
    """One fault."""
    at = node["at"]
    return Fault(
        text(node, "id"),
        text(node, "kind"),
        (one_line(at),) if isinstance(at, str) else lines(at),
        text(node, "words"),
        read_shows(node),
        text(node, "absent"),
        flag(node, "seeded"),
        tuple(read_deed(deed, RIGHTS) for deed in listed(node, "right")),
        tuple(read_deed(deed, UNSAFES) for deed in listed(node, "unsafe")),
        lines(node["hints"]) if "hints" in node else (),
        node_place(node),
        places(node),
    )


def read_question(node: Map) -> Question:
    """One question."""
    return Question(
        text(node, "id"), text(node, "at"), text(node, "ask"), lines(node["listen_for"]), value_place(node, "at")
    )


def read_deed(node: Map, keys: tuple[str, ...]) -> Deed:
    """The one of these keys that the map has."""
    key = next(key for key in keys if key in node)
    looked = node[key]
    if isinstance(looked, Map):
        return Deed(key, "", tuple((state, one_line(value)) for state, value in looked.items()), value_place(node, key))
    told = one_line(looked)
    return Deed(key, "" if told == "true" else told, (), value_place(node, key))


def read_shows(node: Map) -> tuple[Shown, ...]:
    """What asks show."""
    shows: Map | dict[str, Map] = node.get("shows", {})
    return tuple(read_shown(name, shown, key_place(node["shows"], name)) for name, shown in shows.items())


def read_shown(name: str, node: Map, place: Place) -> Shown:
    """What one ask shows."""
    value = node["value"]
    gauge = (float(node["gauge"][0]), float(node["gauge"][1])) if "gauge" in node else None
    values = (one_line(value),) if isinstance(value, str) else lines(value)
    return Shown(name, values, gauge, text(node, "words"), flag(node, "given"), place)


def lines(texts: Seq) -> tuple[str, ...]:
    """The texts of a list."""
    return tuple(one_line(told) for told in texts)


def listed(node: Map, key: str) -> tuple[Map, ...]:
    """The maps of a list that may be left out."""
    return tuple(node.get(key, ()))


def places(node: Map) -> tuple[tuple[str, Place], ...]:
    """Where the values of the keys of a map stand."""
    return tuple((key, value_place(node, key)) for key in node)


def once(nodes: tuple[Map, ...], what: str, desk: Desk) -> None:
    """A finding for an id that comes twice."""
    seen: set[str] = set()
    for node in nodes:
        name = text(node, "id")
        if name in seen:
            desk.at_value("twice-in-list", f"the {what} `{name}` is given twice", node, "id")
        seen.add(name)
