"""The two quick ways to read a line agree with the slow one: on every kind of event, and on whatever is made of its bytes."""

import random
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import events as ev
from runner.record import line as slow
from runner.record.fields import word_of
from runner.record.line import Damage, Entry, Mark, decode, encode, unframe
from runner.record.pattern import BARRED, glance, line_pattern
from runner.record.quick import SHAPES
from runner.record.reading import lines_of
from runner.record.verify import Verifier, verify
from tests.record.sample import actions, any_event, begun, lines

DAMAGED = sorted((Path(__file__).parent / "damaged").glob("*.journal"))


def slowly(line: bytes) -> Entry | Damage:
    """What `decode` says where no line counts as usual."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(slow, "quick", lambda _: None)
        return decode(line)


def agree(line: bytes) -> None:
    wanted, seen = slowly(line), glance(line)
    assert decode(line) == wanted
    if isinstance(wanted, Damage) or isinstance(seen, Damage):
        assert seen == wanted
        return
    assert seen._replace(event=wanted.event) == wanted
    assert type(seen.event) is type(wanted.event)


def broken(line: bytes, chance: random.Random) -> bytes:
    """A line whose JSON has one byte more, fewer or another, in a frame that fits it again, or in its old one."""
    framed = unframe(line)
    assert not isinstance(framed, Damage)
    text, at = bytearray(framed.json), chance.randrange(len(framed.json))
    odd = chance.choice(
        [b'"', b"\\", b"0", b"-", b"e", b".", b",", b" ", b"\xff", b"\xc3\xa9", b"[", b"}", b"null", b"\\u0041"]
    )
    text[at : at + chance.choice([0, 1])] = chance.choice([odd, b"", bytes([chance.randrange(256)])])
    if chance.random() < 0.1:
        return line.replace(framed.json, bytes(text))
    return b"%d %s %s\n" % (len(text), sha256(text).hexdigest().encode(), text)


@pytest.mark.parametrize("event", ev.EVENTS, ids=word_of)
def test_each_kind_of_event_is_read_alike(event: type[ev.Event]) -> None:
    @settings(max_examples=30, deadline=None, derandomize=True)
    @given(any_event(event), st.integers(1, 10**9), st.integers(0, 50), st.text(max_size=20), st.integers(0, 10**6))
    def check(made: ev.Event, number: int, left: int, run: str, seed: int) -> None:
        mark = Mark(made.run, made.mode) if isinstance(made, ev.RunBegun) else Mark(run, "live")
        line, _ = encode(made, number, slow.GENESIS, mark, left)
        agree(line)
        chance = random.Random(seed)
        for _ in range(8):
            agree(broken(line, chance))

    check()


def test_usual_lines_go_the_quick_ways() -> None:
    """Else both ways would agree because there is one."""
    for line in lines(actions())[1:]:
        entry = decode(line)
        assert isinstance(entry, Entry)
        content = slow.parse(line.split(b" ", 2)[2].decode())
        assert isinstance(content, dict)
        assert len(content) in SHAPES[word_of(type(entry.event))]
        pattern = line_pattern(word_of(type(entry.event)).encode())
        assert (pattern is None) == (type(entry.event) in BARRED)
        assert pattern is None or pattern.fullmatch(line) is not None


@pytest.mark.parametrize(
    "number", ["00.5", "1e5", "01.0", "-0.0", "1.0e999", "1.", ".5", "1e+05", "NaN", "12345678901234567.5"]
)
def test_a_number_is_taken_in_the_one_way_if_in_the_other(number: str) -> None:
    line = lines([(begun(),), *actions()])[2]
    text = line.split(b" ", 2)[2][:-1]
    start = text.index(b'"tick":') + 7
    text = text[:start] + number.encode() + text[text.index(b",", start) :]
    agree(b"%d %s %s\n" % (len(text), sha256(text).hexdigest().encode(), text))


@pytest.mark.parametrize("path", DAMAGED, ids=lambda path: path.stem)
def test_verifying_finds_the_same_as_reading(path: Path) -> None:
    with path.open("rb") as file:
        found = verify(lines_of(file))
    verifier = Verifier()
    with path.open("rb") as file:
        for line in lines_of(file):
            verifier.take(line)
    assert found == verifier.result()
