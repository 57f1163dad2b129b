"""A fault inside a scalar is placed in the file, whatever quoting and folding the scalar has."""

from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from runner.procedure.nodes import Map, offset_place
from runner.procedure.origin import Origin
from runner.procedure.source import read
from runner.procedure.spots import spot_at, spot_of

WORDS = st.lists(st.text("abcdefgh'\"\\<>[]{}:,#äΩ🔧", min_size=1, max_size=12), min_size=1, max_size=30)


def dumped(text: str, style: str) -> str:
    """The text as a scalar of a style, folded at a narrow width by ruamel.yaml."""
    from ruamel.yaml.scalarstring import (
        DoubleQuotedScalarString,
        FoldedScalarString,
        LiteralScalarString,
        SingleQuotedScalarString,
    )

    kinds = {
        '"': DoubleQuotedScalarString,
        "'": SingleQuotedScalarString,
        "|": LiteralScalarString,
        ">": FoldedScalarString,
        "": str,
    }
    yaml = YAML()
    yaml.width = 30
    out = StringIO()
    yaml.dump({"a": {"key": kinds[style](text)}}, out)
    return out.getvalue()


@pytest.mark.parametrize("style", ['"', "'", "|", ""])
@given(words=WORDS)
def test_every_character_is_found_where_it_stands(style: str, words: list[str]) -> None:
    written = dumped(" ".join(words), style)
    root = read(written, "x").root
    if root is None:
        return  # ruamel.yaml wrote something that begins with a sign of its own
    node: Map = root["a"]
    scalar = node["key"]
    lines = written.split("\n")
    for offset, character in enumerate(scalar):
        if character in " \n":
            continue
        place = offset_place(node, "key", offset)
        there = lines[place.line - 1][place.column - 1 :]
        assert there.startswith((character, "\\")), (written, offset, place)


def test_an_escape_stands_where_its_backslash_is() -> None:
    root = read('a: "x\\u00e4y\\\\z"\n', "x").root
    assert root is not None
    assert [offset_place(root, "a", offset).column for offset in range(5)] == [5, 6, 12, 13, 15]


def test_a_parameter_stands_where_its_name_is() -> None:
    origin = Origin("f", "do: Close <side> guard\n", {"side": "operator side"})
    scalar = "Close operator side guard"
    assert spot_of(origin, (0, 4), scalar, scalar.index("operator")) == (0, 10)
    assert spot_of(origin, (0, 4), scalar, scalar.index("side")) == (0, 10)
    assert spot_of(origin, (0, 4), scalar, scalar.index("guard")) == (0, 17)


def test_an_offset_past_the_end_is_the_place_after_the_last_character() -> None:
    assert spot_of(Origin("f", "a: bcd\n"), (0, 3), "bcd", 99) == (0, 6)


@given(st.text("ab\n", max_size=40), st.integers(0, 50))
def test_lines_and_columns_are_those_of_the_text(text: str, index: int) -> None:
    line, column = spot_at(text, index)
    before = text[: min(index, len(text))]
    assert (line, column) == (before.count("\n"), len(before) - before.rfind("\n") - 1)
