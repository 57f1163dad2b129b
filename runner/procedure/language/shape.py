"""What may stand where: the few shapes that every word of the procedure language is made of.

A shape says what a node must look like, never what it means. From the tables made of these the quick check, the
JSON schema, the messages and the reference are derived, so a word is described once.
"""

from typing import NamedTuple


class Scalar(NamedTuple):
    """One text of a certain form. Its example in the reference stands with the key that uses it."""

    name: str
    """Its heading in the reference."""
    what: str
    """What it is, as a message says it: 'a whole number, 2 or more'."""
    pattern: str = ""
    """The whole text matches it; empty: any text that is not blank."""
    json: str = "loose"
    """What it is to a reader that guesses types: string, number, integer, boolean or loose (any of them)."""
    least: int | None = None


class OneOf(NamedTuple):
    """One of a few words."""

    words: tuple[str, ...]


class ListOf(NamedTuple):
    """A list of at least so many, and at most so many, of the same shape."""

    of: "Shape"
    least: int = 1
    most: int | None = None
    alone: bool = False
    """True where a single entry may stand without the list."""


class MapOf(NamedTuple):
    """A map whose keys the author chooses."""

    key: Scalar
    value: "Shape"
    least: int = 1
    what: str = ""
    """What a key is, as the reference says it: 'name of the input'."""


class Key(NamedTuple):
    """One key of a record."""

    name: str
    shape: "Shape"
    required: bool
    doc: str
    """One or two sentences for the author."""
    example: str
    """The key with a value, as it stands in a procedure."""


class Group(NamedTuple):
    """Keys that go together: exactly one, at most one or at least one of them is given."""

    rule: str
    """exactly one, at most one or at least one."""
    keys: tuple[str, ...]


class Record(NamedTuple):
    """A map whose keys the language fixes."""

    name: str
    """What it is: 'a step', 'a hold'."""
    keys: tuple[Key, ...]
    doc: str
    groups: tuple[Group, ...] = ()


class Either(NamedTuple):
    """Two records told apart by one key."""

    telltale: str
    """A key that only `has` has."""
    has: Record
    without: Record


Shape = Scalar | OneOf | ListOf | MapOf | Record | Either

TEXT = Scalar("text", "a text")
NAME = Scalar("name", "a name of small letters, digits and _ that begins with a letter", "[a-z][a-z0-9_]{0,59}")
ID = Scalar("id", "an id of small letters, digits, - and _ that begins with a letter", "[a-z][a-z0-9_-]{0,79}")
NUMBER = Scalar(
    "number",
    "a number like 12, 0.5 or 1e-3, with a decimal point and without unit",
    r"-?(?:0|[1-9][0-9]{0,17})(?:\.[0-9]{1,18})?(?:[eE][-+]?[0-9]{1,2})?",
    "number",
)
FLAG = Scalar("flag", "`true` or `false`", "true|false", "boolean")
DURATION = Scalar(
    "duration",
    "a duration like `90 s`, `6 min` or `1 h`",
    r"(?:0|[1-9][0-9]{0,6})(?:\.[0-9]{1,6})? ?(?:s|min|h)",
    "string",
)
DATE = Scalar("date", "a date like `2026-11-20`", "[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])", "string")
FORMULA = Scalar("formula", "a formula")
TEMPLATE = Scalar("template", "a text that may hold slots like `{roll_mass:.0f}`")
UNIT = Scalar("unit", "a unit like `mm`, `N/m` or `1`")
QUANTITY = Scalar("quantity", "a quantity like `0.5 kg`: a number, a blank and a unit")
VALUE = Scalar("value", "a number or a text")
DIGEST = Scalar("digest", "64 hexadecimal digits", "[0-9a-f]{64}", "string")
MASS_KEY = Scalar(
    "mass", "a mass as a number in the rack's unit, like `2.5`", r"(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?"
)
PATH = Scalar("path", "the path of a fragment, like `rewind-side.fragment.yaml`")


def whole(least: int) -> Scalar:
    """A whole number that is not below `least`."""
    return Scalar("whole number", f"a whole number, {least} or more", "0|[1-9][0-9]{0,8}", "integer", least)


VERSION_1 = Scalar("version", "`1`, the version of this language", "1", "integer", 1)

SCALARS = (TEXT, NAME, ID, NUMBER, whole(1), FLAG, DURATION, DATE, FORMULA, TEMPLATE, UNIT, QUANTITY, VALUE, PATH)
"""What the reference explains, one heading each."""


def key_of(record: Record, name: str) -> Key | None:
    """The key of that name, if the record has it."""
    return next((key for key in record.keys if key.name == name), None)


def variant(shape: Shape, node: object) -> Shape:
    """The record that a node is meant to be, where the shape leaves two; otherwise the shape itself."""
    if isinstance(shape, Either):
        return shape.has if isinstance(node, dict) and shape.telltale in node else shape.without
    return shape


def words(shape: Shape) -> str:
    """What a node of the shape is, in words for a message."""
    match shape:
        case Scalar():
            return shape.what
        case OneOf():
            return "one of " + ", ".join(f"`{word}`" for word in shape.words)
        case ListOf(of=of, alone=True):
            return f"{words(of)}, or a list of them"
        case ListOf(of=of, least=least, most=most):
            if least == most:
                return f"a list of {least}, each {words(of)}"
            return f"a list, each entry {words(of)}" if least < 2 else f"a list of {least} or more, each {words(of)}"
        case MapOf(value=value):
            return f"a map, each value {words(value)}"
        case Record():
            return f"{shape.name} with the keys " + ", ".join(f"`{key.name}`" for key in shape.keys if key.required)
        case Either():
            return words(shape.without)
