"""What is left of a faulty text when its faulty parts are taken out, so that the rest can be looked at too.

Only parts that may be missing are taken out; where one that must be there is faulty, what holds it goes.
"""

from runner.procedure.language.fits import fits, kept
from runner.procedure.language.shape import Either, ListOf, MapOf, OneOf, Record, Scalar, Shape, key_of, variant
from runner.procedure.nodes import Map, Node, Seq


def pruned(node: Node, shape: Shape) -> Node | None:
    """The largest part of a node that fits the shape, or None where nothing of it does."""
    if fits(shape)(node):
        return node
    match shape:
        case Scalar() | OneOf():
            return None
        case Either():
            return pruned(node, variant(shape, node))
        case ListOf():
            return pruned_list(node, shape)
        case MapOf():
            return pruned_map(node, shape)
        case Record():
            return pruned_record(node, shape)


def pruned_list(node: Node, shape: ListOf) -> Seq | None:
    """The entries that can be saved; none of a list of plain values, where every place counts."""
    if not isinstance(node, Seq) or isinstance(shape.of, Scalar | OneOf):
        return None
    saved = Seq()
    saved.at, saved.origin, saved.places = node.at, node.origin, []
    for entry, place in zip(node, node.places, strict=True):
        part = pruned(entry, shape.of)
        if part is not None:
            saved.append(part)
            saved.places.append(place)
    return saved if fits(shape)(saved) else None


def pruned_map(node: Node, shape: MapOf) -> Map | None:
    """The entries with a proper key that can be saved."""
    if not isinstance(node, Map):
        return None
    saved = empty_like(node)
    for key, value in node.items():
        part = pruned(value, shape.value)
        if part is not None and fits(shape.key)(key):
            saved[key] = part
            saved.places[key] = node.places[key]
    return saved if fits(shape)(saved) else None


def pruned_record(node: Node, shape: Record) -> Map | None:
    """The keys that the record has; where keys exclude one another, the first of them."""
    if not isinstance(node, Map):
        return None
    saved = empty_like(node)
    last = ""
    for name, value in node.items():
        key = key_of(shape, name)
        part = None if key is None else pruned(value, key.shape)
        if part is not None:
            saved[name] = part
            saved.places[name] = node.places[name]
        elif value == "" and key is None:
            saved.pop(last, None)  # a comma in braces has cut the text before into two
        last = name
    for group in shape.groups:
        if not kept(group, saved):
            for name in [name for name in group.keys if name in saved][1:]:
                del saved[name]
    return saved if fits(shape)(saved) else None


def empty_like(node: Map) -> Map:
    """An empty map at the same place."""
    saved = Map()
    saved.at, saved.origin, saved.places = node.at, node.origin, {}
    return saved
