"""Faults of shape in the words of somebody who writes procedures.

jsonschema says which part of the schema a part of the text breaks; the shapes say what was meant, and the nodes where
it stands. Loaded only when something is wrong.
"""

from itertools import islice
from typing import Any

from runner.procedure.clean import clean
from runner.procedure.desk import MOST, near, number, one_line
from runner.procedure.finding import Place
from runner.procedure.language.shape import ListOf, MapOf, OneOf, Record, Scalar, Shape, key_of, variant, words
from runner.procedure.nodes import Key, Map, Node, Seq, in_braces, key_place, node_place, value_place
from runner.procedure.schema import schema_of

Fault = tuple[str, str, Place, str]
"""Rule, message, place, hint."""

MEANT = "Did you mean "
"""How the hint about a mistyped name begins."""


class At:
    """A place in the tree: the node, its shape, what holds it, under which key, and what that is called."""

    __slots__ = ("called", "key", "node", "parent", "shape")

    def __init__(
        self, node: Node, shape: Shape, parent: Map | Seq | None = None, key: Key = "", called: str = "the file"
    ) -> None:
        self.node, self.shape, self.parent, self.key, self.called = node, variant(shape, node), parent, key, called

    @property
    def place(self) -> Place:
        """Where the node stands."""
        if self.parent is not None:
            return value_place(self.parent, self.key)
        return node_place(self.node) if isinstance(self.node, Map | Seq) else Place("", 1, 1)

    @property
    def owner_place(self) -> Place:
        """Where a map that lacks something is pointed at: its key, or its first character in a list."""
        if self.parent is not None and isinstance(self.parent, Map):
            return key_place(self.parent, self.key)
        return self.place


def faults(root: Map, record: Record) -> list[Fault]:
    """Every fault of shape, once each."""
    from jsonschema import Draft7Validator

    found: list[Fault] = []
    for error in islice(Draft7Validator(schema_of(record)).iter_errors(plain(root, record)), MOST):
        found += worded(error, reach(root, record, list(error.absolute_path)))
    return list(dict.fromkeys(found))


def plain(node: Node, shape: Shape) -> Any:
    """The node as data that jsonschema reads: numbers where the shape asks for them and the text is one."""
    shape = variant(shape, node)
    if isinstance(node, Map):
        return {key: plain(value, shape_under(shape, key)) for key, value in node.items()}
    if isinstance(node, Seq):
        inner = shape.of if isinstance(shape, ListOf) else shape
        return [plain(entry, inner) for entry in node]
    if isinstance(shape, ListOf) and shape.alone:
        shape = shape.of
    return typed(node, shape) if isinstance(shape, Scalar) else node.strip()


def shape_under(shape: Shape, key: str) -> Shape:
    """The shape of what stands under a key; where there is none, any text, which nothing is checked against."""
    match shape:
        case MapOf(value=value):
            return value
        case Record():
            known = key_of(shape, key)
            return known.shape if known is not None else OneOf(())
        case _:
            return OneOf(())


def typed(text: str, shape: Scalar) -> str | float | int | bool:
    """A text as the shape wants it; as it is where it cannot be read so."""
    from runner.procedure.language.fits import fits

    text = text.strip()
    exact = fits(shape._replace(least=None))(text)
    if not exact:
        return text
    match shape.json:
        case "number":
            value = number(text)
            return text if value is None else value
        case "integer":
            return int(text)
        case "boolean":
            return text == "true"
        case _:
            return text


def reach(root: Map, record: Record, path: list[Key]) -> At:
    """The place that a path leads to."""
    at = At(root, record)
    for key in path:
        node = at.node
        assert isinstance(node, Map | Seq)  # the path was walked in the same tree
        inner = (
            shape_under(at.shape, str(key))
            if isinstance(node, Map)
            else at.shape.of
            if isinstance(at.shape, ListOf)
            else at.shape
        )
        called = f"`{shown(key)}`" if isinstance(key, str) else f"entry {key + 1} of {at.called}"
        at = At(node[key], inner, node, key, called)  # type: ignore[index]  # a key for a map, an index for a list
    return at


def worded(error: Any, at: At) -> list[Fault]:
    """The faults that one error of jsonschema stands for."""
    schema_path = list(error.absolute_schema_path)
    if "propertyNames" in schema_path:
        return [bad_name(at, str(error.instance))]
    match error.validator:
        case "additionalProperties":
            return unknown_keys(at)
        case "required" if isinstance(at.shape, Record):
            return missing_keys(at, at.shape)
        case "oneOf" | "not" | "anyOf" if isinstance(at.shape, Record) and isinstance(at.node, Map):
            return broken_groups(at, at.shape)
        case "minItems" | "minProperties" if not at.node:
            message = f"{at.called} is empty; it is {words(at.shape)}"
            return [("wrong-length", message, at.place, "Fill it, or leave the key out where it may be left out.")]
        case "minItems" | "maxItems" | "minProperties":
            return [("wrong-length", f"{at.called} is {words(at.shape)}", at.place, "")]
        case _:
            return [wrong_value(at)]


def bad_name(at: At, name: str) -> Fault:
    """A key that the author chose and that is no name."""
    shape = at.shape
    assert isinstance(shape, MapOf)  # only maps have such keys
    assert isinstance(at.node, Map)
    hint = empty_after_comma(at.node, name)
    if hint:
        return ("needs-quotes", f"`{shown(name)}` became a key by itself", key_place(at.node, name), hint)
    return ("bad-name", f"`{shown(name)}` is not {shape.key.what}", key_place(at.node, name), "")


def unknown_keys(at: At) -> list[Fault]:
    """Keys that the record does not have."""
    record, node = at.shape, at.node
    assert isinstance(node, Map)  # only maps have keys
    if not isinstance(record, Record):
        return []
    known = tuple(key.name for key in record.keys)
    found: list[Fault] = []
    for name in node:
        if name in known:
            continue
        if len(found) >= MOST:
            break
        cut = empty_after_comma(node, name)
        if cut:
            found.append(("needs-quotes", f"`{shown(name)}` became a key by itself", key_place(node, name), cut))
            continue
        hint = near(name, tuple(key for key in known if key not in node) or known) if len(name) < 60 else ""
        meant = f"; {hint.removeprefix(MEANT)}" if hint.startswith(MEANT) else ""
        hint = "" if meant else "It has " + ", ".join(f"`{key}`" for key in known) + "."
        found.append(("unknown-key", f"`{shown(name)}` is no key of {record.name}{meant}", key_place(node, name), hint))
    return found


def empty_after_comma(node: Map, name: str) -> str:
    """What to do where a comma or bracket in braces has cut a text into a value and an empty key; else nothing."""
    if node[name] != "" or not in_braces(node):
        return ""
    return "The text before it holds a comma. Put the whole text in quotes."


def missing_keys(at: At, record: Record) -> list[Fault]:
    """Keys that the record must have."""
    node = at.node
    assert isinstance(node, Map)  # only maps have keys
    missing = [key for key in record.keys if key.required and key.name not in node]
    return [
        ("missing-key", f"{record.name} needs `{key.name}`", at.owner_place, f"As in `{first_line(key.example)}`")
        for key in missing
    ]


def first_line(example: str) -> str:
    """An example short enough for a hint."""
    line, _, more = example.partition("\n")
    return f"{line} ..." if more else line


def broken_groups(at: At, record: Record) -> list[Fault]:
    """Keys that exclude one another, or of which one must be there."""
    from runner.procedure.language.fits import kept

    node = at.node
    assert isinstance(node, Map)  # only maps have keys
    found: list[Fault] = []
    for group in record.groups:
        if kept(group, node):
            continue
        given = [key for key in group.keys if key in node]
        keys = [f"`{key}`" for key in group.keys]
        listed = keys[0] if len(keys) == 1 else ", ".join(keys[:-1]) + " and " + keys[-1]
        place = key_place(node, given[1]) if len(given) > 1 else at.owner_place
        found.append(("keys-together", f"{record.name} has {group.rule} of {listed}", place, ""))
    return found


def wrong_value(at: At) -> Fault:
    """A value that is not what its key wants."""
    node, shape = at.node, at.shape
    if isinstance(node, str) and not node.strip():
        return ("left-empty", f"{at.called} is left empty", at.place, f"It is {words(shape)}, or the key is left out.")
    if isinstance(shape, Scalar | OneOf) and isinstance(node, Map | Seq):
        if isinstance(node, Map) and in_braces(node) and not any(node.values()):
            message = f"{at.called} is {words(shape)}, but begins with a brace"
            return ("needs-quotes", message, at.place, "Put the whole value in quotes.")
        kind = "a map" if isinstance(node, Map) else "a list"
        return ("wrong-shape", f"{at.called} is {words(shape)}, not {kind}", at.place, "")
    if isinstance(node, Map | Seq) or not isinstance(shape, Scalar | OneOf):
        return ("wrong-shape", f"{at.called} is {words(shape)}", at.place, "")
    if isinstance(shape, Scalar) and shape.name == "count":
        return ("wrong-value", f"a count is {shape.what}; `{shown(node)}` is not", at.place, value_hint(node, shape))
    return ("wrong-value", f"{at.called} is {words(shape)}; `{shown(node)}` is not", at.place, value_hint(node, shape))


def value_hint(text: str, shape: Scalar | OneOf) -> str:
    """What to write instead, where that can be guessed."""
    text = one_line(text)
    if isinstance(shape, OneOf):
        hint = near(text, shape.words)
        return hint if hint.startswith("Did") else ""
    if shape.json == "boolean" and text.lower() in ("yes", "on", "true"):
        return "Write `true`."
    if shape.json == "boolean" and text.lower() in ("no", "off", "false"):
        return "Write `false`."
    if shape.json == "number" and "," in text:
        return "Numbers have a decimal point."
    if shape.json == "integer" and text.startswith("-"):
        return ""
    if shape.json in ("number", "integer") and text.lstrip("+-").lstrip("0").replace(".", "", 1).isdigit():
        return "Leading zeros and signs are left out."
    if shape.json == "number" and text.split()[:1] and number(text.split()[0]) is not None:
        return "Leave the unit out: it is given by `unit`."
    lower = text.lower().replace(" ", "_")
    return f"Write `{lower}`." if shape.pattern and lower != text and matches(shape, lower) else ""


def matches(shape: Scalar, text: str) -> bool:
    """Whether a text fits a scalar."""
    from runner.procedure.language.fits import fits

    return fits(shape)(text)


def shown(text: str) -> str:
    """An author's text, short and harmless in a message."""
    text = clean(one_line(text))
    return text if len(text) <= 60 else text[:57] + "..."
