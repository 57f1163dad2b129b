"""The talk of two terminals as bytes: every message comes back as it went, and nothing else gets through."""

import json
from collections.abc import Iterator
from dataclasses import fields
from typing import Any, get_args

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.moment import UNSTAMPED
from runner.record.shared.messages import (
    INTENTS,
    JOINED,
    KEEPER,
    LONGEST,
    MOST,
    NOT_SENT,
    SPOKEN,
    Answer,
    Ask,
    Bad,
    Grown,
    Hello,
    Lines,
    Message,
    TooLongError,
    Welcome,
    decode,
    encode,
)

NOTE = want.NoteException("Uma", "lift", "other", "note", "The roll is wet.")
ASK = Ask(3, 41, NOTE)


def kinds_of(message: Message) -> dict[str, Any]:
    """The table that a message is in."""
    return JOINED if type(message) in JOINED.values() else KEEPER


def can_be(made: Any) -> bool:
    """Whether its numbers are such as a program sends."""
    numbers = [getattr(made, one.name) for one in fields(made)]
    return all(0 <= number <= MOST for number in numbers if type(number) is int)


def changed(message: Message, **values: object) -> bytes:
    """A line with fields put in, or taken out where the value is `...`."""
    content = json.loads(encode(message)) | values
    return json.dumps({name: value for name, value in content.items() if value is not ...}).encode() + b"\n"


@given(st.one_of(*(st.from_type(kind) for kind in (*JOINED.values(), *KEEPER.values()) if kind not in (Ask,))))
@settings(max_examples=150, deadline=None)
def test_every_message_comes_back_as_it_went(message: Message) -> None:
    assume(can_be(message))
    assert decode(encode(message), kinds_of(message)) == message


@pytest.mark.parametrize("kind", INTENTS.values(), ids=INTENTS.keys())
@given(data=st.data())
@settings(max_examples=15, deadline=None)
def test_every_intent_comes_back_as_it_went(kind: type[Any], data: st.DataObject) -> None:
    names = {one.name for one in fields(kind) if not one.kw_only or one.name in SPOKEN}
    values = data.draw(st.builds(kind, at=st.just(UNSTAMPED), verified=st.just(())))
    assume(can_be(values))
    ask = Ask(1, 0, values, (("Lena", "1234"),))
    found = decode(encode(ask), JOINED)
    assert {name: getattr(found.intent, name) for name in names} == {name: getattr(values, name) for name in names}
    assert found.pins == ask.pins


def test_all_intents_but_to_begin_and_to_tell_of_practice_may_be_sent() -> None:
    assert set(INTENTS.values()) == set(get_args(AnyIntent)) - set(NOT_SENT)


def test_neither_a_moment_nor_whose_pin_was_right_travels() -> None:
    intent = want.ReleaseHold("Lena", "lift", ("clear",), verified=("Lena",))
    line = encode(Ask(1, 0, intent))
    assert b"verified" not in line
    assert b'"at"' not in line
    assert decode(line, JOINED).intent.verified == ()


def test_a_pin_stands_in_no_text_made_from_a_message() -> None:
    assert "7391" not in repr(Ask(1, 0, NOTE, (("Lena", "7391"),)))
    assert "secret" not in repr(Hello(1, "s", "t", "secret"))


def bad_lines() -> Iterator[tuple[str, bytes]]:
    """What a torn, hostile or newer program could send."""
    whole = encode(ASK)
    yield "nothing", b"\n"
    yield "no text", b"\xff\xfe\n"
    yield "no JSON", b"begin-step\n"
    yield "a list", b"[]\n"
    yield "a number", b"7\n"
    yield "null", b"null\n"
    yield "deep", b"[" * 50_000 + b"\n"
    yield "deep objects", b'{"a":' * 10_000 + b"\n"
    yield "a big number", b'{"is":"ask","number":' + b"9" * 6000 + b"}\n"
    yield "not a number", changed(ASK, number=float("nan"))
    yield "no kind", changed(ASK, **{"is": ...})
    yield "a kind that is a list", changed(ASK, **{"is": ["ask"]})
    yield "an unknown kind", changed(ASK, **{"is": "shutdown"})
    yield "a kind of the other side", encode(Grown(3, False))
    yield "a field missing", changed(ASK, seen=...)
    yield "a field too many", changed(ASK, root=True)
    yield "a text for a number", changed(ASK, number="3")
    yield "a truth value for a number", changed(ASK, number=True)
    yield "a fraction for a number", changed(ASK, number=3.5)
    yield "a negative number", changed(ASK, number=-1)
    yield "a number beyond all", changed(ASK, number=10**13)
    yield "no intent", changed(ASK, intent=None)
    yield "an unknown intent", changed(ASK, intent={"intent": "explode", "by": "Uma"})
    yield "to begin a run", changed(ASK, intent={"intent": "begin-run", "by": "Uma"})
    yield "an intent in an intent", changed(ASK, intent={"intent": "with-pin", "intents": {}})
    yield "a moment", changed(ASK, intent=json.loads(whole)["intent"] | {"at": {"utc": "", "tick": 0, "boot": ""}})
    yield "a right PIN", changed(ASK, intent=json.loads(whole)["intent"] | {"verified": ["Lena"]})
    yield "an intent without a name", changed(ASK, intent={"intent": "end-step", "step": "lift"})
    yield "pins that are none", changed(ASK, pins=["1234"])
    yield "pins of three", changed(ASK, pins=[["a", "b", "c"]])
    yield "zeros", b"\0" * 64 + b"\n"
    yield "too long", b'{"is":"bye"' + b" " * LONGEST + b"}\n"
    yield from ((f"cut at {at}", whole[:at]) for at in range(1, len(whole) - 1, 7))


@pytest.mark.parametrize("line", [pytest.param(line, id=name) for name, line in bad_lines()])
def test_a_line_that_is_no_message_is_bad_and_raises_nothing(line: bytes) -> None:
    assert isinstance(decode(line, JOINED), Bad)


@given(st.binary(max_size=400))
@settings(max_examples=200, deadline=None)
def test_random_bytes_are_bad(content: bytes) -> None:
    for kinds in (JOINED, KEEPER):
        assert isinstance(decode(content, kinds), Bad)


@given(st.lists(st.integers(1, 60), max_size=30))
@settings(max_examples=60, deadline=None)
def test_lines_come_out_the_same_however_the_bytes_are_torn(sizes: list[int]) -> None:
    sent: list[Message] = [Welcome(1, "k", "run", 4, True, "B"), Answer(2, True, 3, 4), Grown(9, False)]
    stream, lines, found = b"".join(encode(message) for message in sent), Lines(), list[bytes]()
    for size in [*sizes, len(stream)]:
        part, stream = stream[:size], stream[size:]
        taken = lines.take(part)
        assert not isinstance(taken, Bad)
        found += taken
    assert [decode(line, KEEPER) for line in found] == sent
    assert lines.rest == b""


def test_a_line_without_an_end_is_given_up_before_it_fills_the_memory() -> None:
    lines = Lines()
    for _ in range(LONGEST // 1024 - 1):
        assert lines.take(b"x" * 1024) == []
    assert isinstance(lines.take(b"x" * 1024), Bad)


def test_what_fits_no_line_is_not_made() -> None:
    with pytest.raises(TooLongError):
        encode(Ask(1, 0, want.NoteException("Uma", "", "other", "note", "x" * LONGEST)))
