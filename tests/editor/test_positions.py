"""Offsets, places and positions say the same; code units are counted by Python's own codecs as the judge."""

from hypothesis import given
from hypothesis import strategies as st
from lsprotocol import types
from pygls.workspace import PositionCodec

from runner.editor.positions import Position, line_of, offset_at, offset_of, position_of

TEXTS = st.text(st.sampled_from("ab é\U0001d11e\U0001f9fb\u20ac\r\n\u2028"), max_size=40)
WIDTHS = {"utf-16": ("utf-16-le", 2), "utf-8": ("utf-8", 1), "utf-32": ("utf-32-le", 4)}
ENCODINGS = st.sampled_from(sorted(WIDTHS))


@given(TEXTS, st.data(), ENCODINGS)
def test_an_offset_comes_back_from_its_position(text: str, data: st.DataObject, encoding: str) -> None:
    offset = data.draw(st.integers(0, len(text)))
    back = offset_of(text, position_of(text, offset, encoding), encoding)
    inside_line_end = text[offset - 1 : offset + 1] == "\r\n"
    assert back == (offset - 1 if inside_line_end else offset)


@given(TEXTS, st.data(), ENCODINGS)
def test_code_units_are_those_of_the_encoding(text: str, data: st.DataObject, encoding: str) -> None:
    offset = data.draw(st.integers(0, len(text)))
    codec, width = WIDTHS[encoding]
    lines = text[:offset].replace("\r\n", "\n").replace("\r", "\n").split("\n")
    at = position_of(text, offset, encoding)
    if text[offset - 1 : offset + 1] != "\r\n":
        assert at == (len(lines) - 1, len(lines[-1].encode(codec)) // width)


@given(st.text(st.sampled_from("ab é\U0001d11e\U0001f9fb"), max_size=20), st.data())
def test_a_protocol_library_counts_the_same(line: str, data: st.DataObject) -> None:
    offset = data.draw(st.integers(0, len(line)))
    judge = PositionCodec(types.PositionEncodingKind.Utf16)
    at = position_of(line, offset)
    assert judge.position_from_client_units([line], types.Position(*at)).character == offset


@given(TEXTS, st.integers(-2, 50), st.integers(-2, 50), ENCODINGS)
def test_any_position_is_somewhere_in_the_text(text: str, line: int, unit: int, encoding: str) -> None:
    assert 0 <= offset_of(text, Position(line, unit), encoding) <= len(text)
    assert 0 <= offset_at(text, line, unit) <= len(text)


def test_a_place_behind_an_astral_character_is_two_units_on() -> None:
    text = "a: 1\nb: \U0001f9fb x\n"
    offset = offset_at(text, 2, 6)
    assert text[offset] == "x"
    assert position_of(text, offset) == (1, 6)
    assert position_of(text, offset, "utf-32") == (1, 5)
    assert line_of(text, offset) == 2


def test_a_position_inside_a_pair_of_units_is_the_beginning_of_the_character() -> None:
    assert offset_of("\U0001f9fbx", Position(0, 1)) == 0
    assert offset_of("\U0001f9fbx", Position(0, 2)) == 1


def test_the_mark_at_the_beginning_of_a_file_counts_as_no_column() -> None:
    assert offset_at("\ufeffformat: 1", 1, 1) == 1
