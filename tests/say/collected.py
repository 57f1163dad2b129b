"""Every message of the program: the literals that are given to `say`, `say_n`, `say_as` and `mark`, read from the source.

A message is written out where it is given: a text that is put together first could not be collected, and is found here.
"""

import ast
import os
from typing import NamedTuple

import runner

ROOT = os.path.dirname(runner.__file__)
OWN = os.path.join(ROOT, "say")
TAKES = {"say": 1, "mark": 1, "say_n": 2, "say_as": 2}
"""How many literals come first."""


class Message(NamedTuple):
    """One message as gettext has it."""

    text: str
    plural: str = ""
    context: str = ""


class Odd(NamedTuple):
    """A call whose message is not written out."""

    file: str
    line: int


def sources() -> list[str]:
    """Every file of the package but those of `say` itself."""
    found = []
    for folder, _, names in os.walk(ROOT):
        if not folder.startswith(OWN):
            found += [os.path.join(folder, name) for name in names if name.endswith(".py")]
    return sorted(found)


def collected() -> dict[Message, list[str]]:
    """Message to the files it stands in, as `runner/screen/plain.py`."""
    found: dict[Message, list[str]] = {}
    for path in sources():
        with open(path, encoding="utf-8") as file:
            tree = ast.parse(file.read())
        name = os.path.relpath(path, os.path.dirname(ROOT)).replace(os.sep, "/")
        for message in messages_in(tree):
            files = found.setdefault(message, [])
            if name not in files:
                files.append(name)
    return found


def messages_in(tree: ast.AST) -> list[Message]:
    """Of one file, in its order. What is looked up by a name was marked somewhere, and is collected there."""
    found = []
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TAKES):
            continue
        for first in literals(node):
            match node.func.id:
                case "say_n":
                    found.append(Message(first, texts(node.args[1])[0]))
                case "say_as":
                    found += [Message(text, context=first) for text in texts(node.args[1])]
                case _:
                    found.append(Message(first))
    return found


def literals(call: ast.Call) -> list[str]:
    """The first argument where it is written out; both ways of a choice between two."""
    return texts(call.args[0]) if call.args else []


def texts(node: ast.expr) -> list[str]:
    """A literal, or both ways of a choice."""
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.IfExp():
            return [*texts(node.body), *texts(node.orelse)]
        case _:
            return []


def built() -> list[Odd]:
    """Calls with a text that is put together before it is looked up: an f-string or a sum."""
    found = []
    for path in sources():
        with open(path, encoding="utf-8") as file:
            tree = ast.parse(file.read())
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TAKES and node.args:
                first = node.args[: TAKES[node.func.id]]
                if any(isinstance(part, ast.JoinedStr | ast.BinOp) for part in first):
                    found.append(Odd(path, node.lineno))
    return found
