"""The tables of `schemas/README.md`, from the tables of this package and the annotations of the events.

    python -m runner.record.reference < schemas/README.md

prints that page with its tables made anew; a test compares the two. Words come from the docstrings, so an event or a
field without one fails here.
"""

import ast
import inspect
import re
import sys
from dataclasses import MISSING, fields
from itertools import pairwise
from types import NoneType, UnionType
from typing import Union, get_args, get_origin, get_type_hints

from runner.engine.events import AFTER_SEAL, EVENTS, Event
from runner.engine.moment import Moment
from runner.record.fields import word_of
from runner.record.line import KINDS
from runner.record.register import KINDS as REGISTERED

NAMES = {str: "text", float: "number", int: "whole number", bool: "true or false", NoneType: "null", Moment: "moment"}
"""What the JSON holds for each simple annotation."""


def json_name(annotation: object) -> str:
    """What the JSON holds for an annotation, in words."""
    simple = NAMES.get(annotation)  # type: ignore[call-overload] # any annotation may be asked about
    if simple is not None:
        return str(simple)
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin in (Union, UnionType):
        return " or ".join(json_name(part) for part in parts)
    if parts[-1] is Ellipsis:
        return f"list of {json_name(parts[0])}"
    return f"[{', '.join(json_name(part) for part in parts)}]"


def field_words(event: type[Event]) -> dict[str, str]:
    """By field, the docstring that stands below it in the class; a field that says all by its name has none."""
    found: dict[str, str] = {}
    body = ast.parse(inspect.getsource(event)).body[0]
    assert isinstance(body, ast.ClassDef)
    for field, below in pairwise(body.body):
        if (
            isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and isinstance(below, ast.Expr)
            and isinstance(below.value, ast.Constant)
        ):
            found[field.target.id] = " ".join(str(below.value.value).split())
    return found


def event_rows(event: type[Event]) -> list[str]:
    """The lines of one event: its word and meaning, then a field each."""
    hints, words = get_type_hints(event), field_words(event)
    rows = [f"**`{word_of(event)}`** {' '.join((event.__doc__ or '').split())}", ""]
    for field in fields(event):
        if field.name in ("by", "at", "terminal"):
            continue
        said = f": {words[field.name]}" if field.name in words else ""
        absent = "" if field.default is MISSING and field.default_factory is MISSING else " (may be absent)"
        rows.append(f"- `{field.name}` {json_name(hints[field.name])}{absent}{said}")
    return [*rows, ""] if rows[-1] else rows


def event_table() -> str:
    """All events, in the order of `EVENTS`."""
    return "\n".join(row for event in EVENTS for row in event_rows(event)).rstrip()


def kind_table() -> str:
    """All kinds of flaws."""
    rows = ["| kind | meaning |", "|---|---|", *(f"| {kind} | {meaning} |" for kind, meaning in KINDS.items())]
    return "\n".join(rows)


def after_seal_table() -> str:
    """What may follow a seal, in the order of `EVENTS`."""
    return ", ".join(f"`{word_of(event)}`" for event in EVENTS if event in AFTER_SEAL) + "."


def register_table() -> str:
    """All kinds of lines of a register."""
    return "\n".join(
        ["| kind | meaning |", "|---|---|", *(f"| `{kind}` | {words} |" for kind, words in REGISTERED.items())]
    )


TABLES = {"events": event_table, "flaws": kind_table, "after-seal": after_seal_table, "register": register_table}
"""By the name in the page: `<!-- begin NAME -->` and `<!-- end NAME -->` stand around each."""


def renewed(page: str) -> str:
    """The page with its tables made anew."""
    for name, table in TABLES.items():
        begin, end = f"<!-- begin {name} -->\n", f"\n<!-- end {name} -->"
        whole = begin + table() + end
        page = re.sub(re.escape(begin) + ".*?" + re.escape(end), whole.replace("\\", r"\\"), page, flags=re.DOTALL)
    return page


if __name__ == "__main__":
    sys.stdout.write(renewed(sys.stdin.read()))
