"""A text that is given straight to what shows it, and was not looked up: found in the source, before anybody sees it.

The walk through the pages finds what stands on a screen; this finds what no walk comes to.
"""

import ast
import os
import re

import pytest

from tests.say.collected import ROOT, sources

SHOWS: dict[str, tuple[int | str, ...]] = {
    "Say": (0, 1, "text", "label"),
    "Heading": (0, "text"),
    "Big": (0, 1),
    "Row": (0, 2, "text", "word"),
    "Fact": (0, 1, 2),
    "Entry": (0, 2, "question", "limits"),
    "Sheet": (1, 3, "title", "go"),
    "Tell": (0, "words"),
    "Question": (0, "ask", "limits"),
    "FormPage": (0, "title", "last"),
    "MenuPage": (0, "title"),
    "ConfirmPage": (0, 2, "title", "label"),
    "Refusal": (0, "reason"),
    "Misread": (0, "message"),
}
"""What shows texts, and which of its arguments are texts that a person reads."""

PLACES = ("screen", "engine", "procedure/asks", "formula/quantity.py", "record/run.py", "record/identity.py")
LETTERS = re.compile(r"[A-Za-z]{2,}")
AS_THEY_ARE = {"UTC", "changeover report", "changeover verify"}
"""A name of a time scale, and commands that are typed."""


def shown_here(path: str) -> bool:
    """Whether a file's texts are read on the screen."""
    name = os.path.relpath(path, ROOT).replace(os.sep, "/")
    return any(name == place or name.startswith(f"{place}/") for place in PLACES)


def literals(node: ast.expr) -> list[str]:
    """Letters that are written out in an argument: a text, the fixed parts of one, both ways of a choice."""
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.JoinedStr():
            return [
                part.value for part in node.values if isinstance(part, ast.Constant) and isinstance(part.value, str)
            ]
        case ast.IfExp():
            return [*literals(node.body), *literals(node.orelse)]
        case ast.BinOp():
            return [*literals(node.left), *literals(node.right)]
        case _:
            return []


def forgotten(tree: ast.AST) -> list[tuple[int, str]]:
    """(line, text) of each."""
    found = []
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SHOWS):
            continue
        wanted = SHOWS[node.func.id]
        given = [part for at, part in enumerate(node.args) if at in wanted]
        given += [keyword.value for keyword in node.keywords if keyword.arg in wanted]
        texts = [text for part in given for text in literals(part)]
        found += [
            (node.lineno, text) for text in texts if LETTERS.search(text) and text.strip(" ,;:()") not in AS_THEY_ARE
        ]
    return found


@pytest.mark.parametrize("path", [p for p in sources() if shown_here(p)], ids=lambda p: os.path.relpath(p, ROOT))
def test_texts_that_are_shown_are_looked_up(path: str) -> None:
    with open(path, encoding="utf-8") as file:
        assert forgotten(ast.parse(file.read())) == []


def test_a_forgotten_text_is_found() -> None:
    tree = ast.parse(
        'Say("No values yet.")\nSay(say("x y"), f"{n} left")\nRow(text, mark, word=say("ok"))\nTell("a" if b else "stop")'
    )
    assert [text for _, text in forgotten(tree)] == ["No values yet.", " left", "stop"]
