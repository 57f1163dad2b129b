"""Does a node fit a shape: yes or no, and fast. Whoever wants to know why not asks `runner.procedure.wording`.

Every shape becomes a function once. The JSON schema is made from the same shapes, and a test holds both to the
same verdicts.
"""

import re
from collections.abc import Callable

from runner.procedure.language.shape import Either, Group, Key, ListOf, MapOf, OneOf, Record, Scalar, Shape
from runner.procedure.nodes import Map, Node, Seq

Fits = Callable[[Node], bool]

MADE: dict[int, tuple[Shape, Fits]] = {}
"""By the identity of the shape, which is kept so that no other takes its number."""


def fits(shape: Shape) -> Fits:
    """The function that says whether a node has this shape."""
    made = MADE.get(id(shape))
    if made is None:
        made = MADE[id(shape)] = (shape, make(shape))
    return made[1]


def make(shape: Shape) -> Fits:
    """The function, made anew."""
    match shape:
        case Scalar():
            return scalar_fits(shape)
        case OneOf(words=words):
            known = frozenset(words)
            return lambda node: node.__class__ is str and node.strip() in known
        case ListOf():
            return list_fits(shape)
        case MapOf():
            return map_fits(shape)
        case Record():
            return record_fits(shape)
        case Either(telltale=telltale, has=has, without=without):
            first, second = fits(has), fits(without)
            return lambda node: first(node) if node.__class__ is Map and telltale in node else second(node)


def scalar_fits(shape: Scalar) -> Fits:
    """Any text that is not blank, or one that the whole pattern matches."""
    if not shape.pattern:
        return lambda node: node.__class__ is str and not (not node or node.isspace())
    matches = re.compile(shape.pattern).fullmatch
    least = shape.least
    if least is None:
        return lambda node: node.__class__ is str and matches(node.strip()) is not None
    return lambda node: node.__class__ is str and matches(node.strip()) is not None and int(node) >= least


def list_fits(shape: ListOf) -> Fits:
    """A list within its length, every entry of the shape; or a single entry where that may stand alone."""
    one, least, most, alone = fits(shape.of), shape.least, shape.most, shape.alone

    def check(node: Node) -> bool:
        if node.__class__ is not Seq:
            return alone and one(node)
        return len(node) >= least and (most is None or len(node) <= most) and all(map(one, node))

    return check


def map_fits(shape: MapOf) -> Fits:
    """A map with enough keys of their form, every value of the shape."""
    key_matches, one, least = re.compile(shape.key.pattern).fullmatch, fits(shape.value), shape.least

    def check(node: Node) -> bool:
        if not isinstance(node, Map) or len(node) < least:
            return False
        return all(map(key_matches, node)) and all(map(one, node.values()))

    return check


def record_fits(shape: Record) -> Fits:
    """A map with known keys alone, all that are required, and groups kept."""
    checks = {key.name: check_of(key) for key in shape.keys}
    required = frozenset(key.name for key in shape.keys if key.required)
    find = checks.get

    def check(node: Node) -> bool:
        if not isinstance(node, Map):
            return False
        for name, value in node.items():
            one = find(name)
            if one is None or not one(value):
                return False
        return required <= node.keys() and all(kept(group, node) for group in shape.groups)

    return check


def check_of(key: Key) -> Fits:
    """The check of a key's value."""
    return fits(key.shape)


def kept(group: Group, node: Map) -> bool:
    """Whether the record has as many of the group's keys as it may."""
    count = sum(key in node for key in group.keys)
    match group.rule:
        case "exactly one":
            return count == 1
        case "at most one":
            return count <= 1
        case _:
            return count >= 1
