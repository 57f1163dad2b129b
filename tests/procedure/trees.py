"""Faulty trees made from good ones: one node is left out, renamed, put in or exchanged."""

import random
from typing import Any

from runner.procedure.nodes import Map, Node, Seq

ODD = (
    "",
    " ",
    "x",
    "X y",
    "0",
    "1",
    "-1",
    "2",
    "010",
    "1.5",
    "1e3",
    "true",
    "yes",
    "90 s",
    "2026-01-01",
    "1\n",
    "~",
    "<side>",
)


def containers(node: Node) -> list[Map | Seq]:
    """All maps and lists of a tree."""
    found: list[Map | Seq] = []
    waiting: list[Any] = [node]
    while waiting:
        here = waiting.pop()
        if isinstance(here, Map):
            found.append(here)
            waiting += here.values()
        elif isinstance(here, Seq):
            found.append(here)
            waiting += here
    return found


def empty(kind: type[Map] | type[Seq], like: Map | Seq) -> Map | Seq:
    """An empty map or list at the place of another node."""
    node = kind()
    node.at, node.origin = like.at, like.origin
    node.places = {} if isinstance(node, Map) else []
    return node


def put(node: Map, key: str, value: Any) -> None:
    """A key with a place."""
    node[key] = value
    node.places[key] = (*node.at, *node.at)


def mutate(root: Map, chance: random.Random) -> None:
    """One change somewhere in the tree."""
    node = chance.choice(containers(root))
    if isinstance(node, Map):
        mutate_map(node, chance)
    elif node:
        index = chance.randrange(len(node))
        if chance.random() < 0.3:
            del node[index]
            del node.places[index]
        else:
            node[index] = other_value(node, chance)


def mutate_map(node: Map, chance: random.Random) -> None:
    """A key less, more, or with another name or value."""
    key = chance.choice(list(node) or ["x"])
    what = chance.randrange(4)
    if what == 0 and key in node:
        del node[key]
        del node.places[key]
    elif what == 1:
        put(
            node, chance.choice(["neds", "Web Width", "steps", "use", "else", "unit", "choose", "then", key + "x"]), "x"
        )
    elif what == 2 and key in node:
        put(node, key + chance.choice(["s", "-", " "]), node.pop(key))
        del node.places[key]
    else:
        put(node, key, other_value(node, chance))


def other_value(node: Map | Seq, chance: random.Random) -> Any:
    """A text, an empty map or an empty list."""
    pick = chance.random()
    if pick < 0.7:
        return chance.choice(ODD)
    return empty(Map if pick < 0.85 else Seq, node)
