"""A document's plain data as JSON (RFC 8259): ASCII only, numbers as numbers, keys in a fixed order.

Control and other unfit characters are written as escapes, which keeps somebody's text exactly and lets nothing act on
a terminal. JSON has no infinity and no NaN: such a number stands as text.
"""

import json
import math

from runner.report.document import Document
from runner.report.formats.format import Format


def render(document: Document) -> bytes:
    """The document's `data`, indented, with a line end at the end."""
    return (json.dumps(plain(document.data), indent=2, allow_nan=False) + "\n").encode("ascii")


def plain(value: object) -> object:
    """The value with all numbers finite."""
    match value:
        case float() if not math.isfinite(value):
            return str(value)
        case dict():
            return {str(key): plain(part) for key, part in value.items()}
        case list() | tuple():
            return [plain(part) for part in value]
        case _:
            return value


FORMAT = Format("json", ".json", render, "the same content as plain data, for other programs")
