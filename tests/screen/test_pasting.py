"""Pastes in pieces of any size: one line of text at most comes of one, and never a key."""

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as some
from textual import events
from textual._xterm_parser import XTermParser

from runner.screen.pasting import END, MOST, START, Pastes, tame_pastes

PIECES = some.lists(
    some.sampled_from(["a", "\r", "\x1b", "\x1b[15~", "\x1b[20", "1~", "\x1b[200~", "é", "\x1b[B"]), max_size=12
)


def read(*pieces: str) -> list[events.Key | events.Paste]:
    """What Textual makes of the bytes."""
    tame_pastes()
    parser = XTermParser()
    return [event for piece in pieces for event in parser.feed(piece) if isinstance(event, events.Key | events.Paste)]


def cut(text: str, at: list[int]) -> list[str]:
    """The text in pieces."""
    places = sorted({0, len(text), *(place % (len(text) + 1) for place in at)})
    return [text[one:other] for one, other in pairwise(places)]


@settings(max_examples=150, deadline=None)
@given(PIECES, some.lists(some.integers(0, 200), max_size=6))
def test_whatever_stands_in_a_paste_no_key_comes_of_it(pieces: list[str], at: list[int]) -> None:
    inside = "".join(pieces).replace(END, "")
    pastes = Pastes()
    tamed = "".join(pastes.tame(piece, 0.0) for piece in cut(f"{START}{inside}{END}q", at))
    assert tamed == f"{START}{inside.replace(chr(27), '␛')}{END}q"
    keys = [event for event in read(START + inside + END, "q") if isinstance(event, events.Key)]
    assert [event.key for event in keys] == ["q"]


@settings(max_examples=100, deadline=None)
@given(
    some.text(alphabet="a1\x1b[~0OPQ\r", max_size=30).filter(lambda text: START not in text),
    some.lists(some.integers(0, 40), max_size=5),
)
def test_what_is_not_pasted_goes_through_as_it_is(text: str, at: list[int]) -> None:
    pastes = Pastes()
    assert "".join(pastes.tame(piece, 0.0) for piece in cut(text, at)) == text


def test_of_a_long_paste_the_beginning_goes_on() -> None:
    (paste,) = read(START, *["x" * 1000] * 1000, END)
    assert isinstance(paste, events.Paste)
    assert paste.text == "x" * MOST


def test_a_paste_whose_end_was_lost_is_over_when_nothing_comes_for_a_second() -> None:
    pastes = Pastes()
    assert pastes.tame(f"{START}abc", 5.0) == f"{START}abc"
    assert pastes.tame("d", 5.9) == "d"
    assert pastes.tame("\x1bOS", 7.0) == f"{END}\x1bOS"
