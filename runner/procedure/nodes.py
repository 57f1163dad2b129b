"""Nodes of an author's text: raw scalars in maps and lists that remember where everything stands.

A scalar is the text that the author wrote, after YAML's quoting and folding; what it means is decided by the shape
that it meets, never by YAML's guess. Lines and columns are kept from 0 here; a `Place` counts from 1.
"""

from typing import Any

from runner.procedure.finding import Place
from runner.procedure.origin import Origin
from runner.procedure.spots import spot_of


class Map(dict[str, Any]):
    """A map of the text. `places` has (line, column) of the key and of the value, four numbers, for each key."""

    __slots__ = ("at", "origin", "places")
    at: tuple[int, int]
    origin: Origin
    places: dict[str, tuple[int, int, int, int]]


class Seq(list[Any]):
    """A list of the text. `places` has (line, column) for each entry."""

    __slots__ = ("at", "origin", "places")
    at: tuple[int, int]
    origin: Origin
    places: list[tuple[int, int]]


Node = str | Map | Seq
Key = str | int


def node_place(node: Map | Seq) -> Place:
    """Where a map or a list begins."""
    return Place(node.origin.path, node.at[0] + 1, node.at[1] + 1)


def key_place(node: Map | Seq, key: Key) -> Place:
    """Where a key of a map stands; for a list where the entry stands."""
    if isinstance(node, Map):
        spot = node.places.get(str(key))
        return node_place(node) if spot is None else Place(node.origin.path, spot[0] + 1, spot[1] + 1)
    return value_place(node, key)


def value_place(node: Map | Seq, key: Key) -> Place:
    """Where the value of a key, or the entry of a list, stands."""
    line, column = value_spot(node, key)
    return Place(node.origin.path, line + 1, column + 1)


def value_spot(node: Map | Seq, key: Key) -> tuple[int, int]:
    """Line and column from 0 of the value of a key or of an entry; of the node itself where it has no such key."""
    if isinstance(node, Map):
        spot = node.places.get(str(key))
        return node.at if spot is None else (spot[2], spot[3])
    index = int(key)
    return node.places[index] if 0 <= index < len(node.places) else node.at


def in_braces(node: Map | Seq) -> bool:
    """True where the map or list is written in flow style, with braces or brackets."""
    lines = node.origin.text.split("\n", node.at[0] + 1)
    line = lines[node.at[0]] if node.at[0] < len(lines) else ""
    return line[node.at[1] : node.at[1] + 1] in ("{", "[")


def offset_place(node: Map | Seq, key: Key, offset: int) -> Place:
    """Where character `offset` of the scalar under `key` stands in the file, whatever quoting and folding it has."""
    scalar = node[key]  # type: ignore[index]  # a key for a map, an index for a list: the caller knows which
    line, column = spot_of(node.origin, value_spot(node, key), str(scalar), offset)
    return Place(node.origin.path, line + 1, column + 1)
