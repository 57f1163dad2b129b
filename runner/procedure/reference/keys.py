"""Every key of the language as Markdown, record after record, from the tables."""

from runner.procedure.language.files import PROCEDURE
from runner.procedure.language.shape import (
    SCALARS,
    Either,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    Scalar,
    Shape,
)


def records_in(*tops: Record) -> list[Record]:
    """All records under these, each once, in the order in which keys bring them."""
    found: list[Record] = []
    for top in tops:
        collect(top, found)
    return found


def collect(shape: Shape, found: list[Record]) -> None:
    """Put the records of a shape into the list."""
    match shape:
        case Record():
            if shape not in found:
                found.append(shape)
                for key in shape.keys:
                    collect(key.shape, found)
        case ListOf(of=of):
            collect(of, found)
        case MapOf(value=value):
            collect(value, found)
        case Either(has=has, without=without):
            collect(without, found)
            collect(has, found)
        case Scalar() | OneOf():
            pass


def all_keys() -> str:
    """The chapter of all keys of a procedure."""
    parts = ["## All keys", "", SCALARS_INTRO, ""]
    parts += [f"- **{scalar.name}**: {MORE.get(scalar.name, scalar.what)}" for scalar in SCALARS]
    parts += ["", *(record_text(record) for record in records_in(PROCEDURE))]
    return "\n".join(parts)


MORE = {
    "text": "any words, on one line or folded over several",
    "whole number": "a number without decimals, like `3`",
    "formula": "see [formulas](#formulas); a plain number where a reading's limit stands is in the reading's unit",
    "template": "a text that may hold [slots](#slots-in-instructions), like `{roll_mass:.0f}`",
    "unit": "see [units](#units): `mm`, `N/m`, `1` for a pure number",
}
"""What the reference says of a scalar, where that is more than a message says."""

SCALARS_INTRO = "What stands after a key is a map, a list or one of these:"


def file_keys(record: Record) -> str:
    """The keys of another kind of file, and of the records that only it has."""
    known = records_in(PROCEDURE)
    return "\n".join(record_text(one) for one in records_in(record) if one not in known)


def record_text(record: Record) -> str:
    """One record: what it is, its keys, and which go together."""
    title = record.name.removeprefix("a ").removeprefix("an ").capitalize()
    parts = [f"### {title}", "", record.doc, ""]
    if record.groups:
        parts += [*(group_text(group) for group in record.groups), ""]
    parts += [key_text(key) for key in record.keys]
    return "\n".join(parts)


def group_text(group: Group) -> str:
    """Which keys go together, as a sentence."""
    keys = [f"`{key}`" for key in group.keys]
    listed = ", ".join(keys[:-1]) + " and " + keys[-1]
    return f"It has {group.rule} of {listed}."


def key_text(key: Key) -> str:
    """One key with its shape, its words and its example."""
    needed = "needed" if key.required else "may be left out"
    return f"**`{key.name}`** · {shape_text(key.shape)} · {needed}  \n{key.doc}\n\n```yaml\n{key.example}\n```\n"


def shape_text(shape: Shape) -> str:
    """A shape in a few words, with links to records."""
    match shape:
        case Scalar():
            return shape.name if shape.least is None or shape.pattern == "1" else shape.what.removeprefix("a ")
        case OneOf(words=words):
            return "one of " + ", ".join(f"`{word}`" for word in words)
        case ListOf(of=of, alone=True):
            return f"{shape_text(of)}, or a list of them"
        case ListOf(of=of, least=least, most=most):
            count = f"list of {least}" if least == most else "list" if least < 2 else f"list of {least} or more"
            return f"{count}, each {shape_text(of)}"
        case MapOf(value=value, what=what):
            return f"map: {what} to {shape_text(value)}"
        case Record():
            return f"[{shape.name}](#{anchor(shape)})"
        case Either(has=has, without=without):
            return f"{shape_text(without)} or {shape_text(has)}"


def anchor(record: Record) -> str:
    """Where a record's heading is."""
    return record.name.removeprefix("a ").removeprefix("an ").replace(" ", "-")
