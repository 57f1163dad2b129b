"""Lines that are taken in one piece are those that reading each in full and verifying it takes, with the same found of them:
on every kind of event, on whatever is made of its bytes, and on whole journals with lines changed, lost, doubled or moved."""

import random
from collections.abc import Callable, Sequence
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import events as ev
from runner.engine.events import Event
from runner.record.fields import word_of
from runner.record.line import ROOM, Damage, Entry, Mark, decode, encode
from runner.record.reading import lines_of
from runner.record.sketch import Numbered, sketch_of
from runner.record.verify import Verification, Verifier
from tests.record.sample import LIVE, RUN, actions, any_event, begun, lines
from tests.record.test_quick import broken

DAMAGED = sorted((Path(__file__).parent / "damaged").glob("*.journal"))
NONE = sketch_of(())
SOME = sketch_of([word_of(kind).encode() for kind in (ev.RunBegun, ev.Answered, ev.StepBegun)])

Told = list[tuple[int, type[Event], object, object, object]]


def told(events: Numbered) -> Told:
    """What is promised of each event."""
    return [
        (number, type(event), event.at, getattr(event, "step", None), getattr(event, "hidden", None))
        for number, event in events
    ]


def in_full(journal: Sequence[bytes]) -> tuple[Told, Verification]:
    """Line by line."""
    verifier, events = Verifier(), Numbered()
    for line in journal:
        entry = verifier.take(line)
        if entry is not None:
            events.append((entry.number, entry.event))
    return told(events), verifier.result()


def sketched(journal: Sequence[bytes], follow: Callable[..., bytes]) -> tuple[Told, Verification, int]:
    """In one piece where that can be; how many lines went the whole way too."""
    verifier, events, rest, slow = Verifier(), Numbered(), iter(journal), 0
    while line := follow(rest, verifier, events):
        slow += 1
        entry = verifier.checked(line, decode(line))
        if entry is not None:
            events.append((entry.number, entry.event))
    return told(events), verifier.result(), slow


def agree(journal: Sequence[bytes]) -> None:
    wanted = in_full(journal)
    for follow in (NONE, SOME):
        assert sketched(journal, follow)[:2] == wanted


def test_usual_lines_are_taken_in_one_piece() -> None:
    """Else both ways would agree because there is one."""
    journal = lines(actions(20))
    agree(journal)
    whole = [line for line in journal if b'"run-begun"' in line or b'"finished"' in line or b'"sealed"' in line]
    assert sketched(journal, NONE)[2] == len(whole) == 3
    read = [line for line in journal if b'"answered"' in line or b'"step-begun"' in line]
    assert sketched(journal, SOME)[2] == len(whole) + len(read) == 43


@pytest.mark.parametrize("event", ev.EVENTS, ids=word_of)
def test_each_kind_of_event_is_taken_alike(event: type[ev.Event]) -> None:
    first = lines([(begun(),)])[0]
    entry = decode(first)
    assert isinstance(entry, Entry)
    head = entry.hash

    @settings(max_examples=20, deadline=None, derandomize=True)
    @given(any_event(event), st.integers(0, 2), st.integers(0, 4), st.integers(0, 10**6))
    def check(made: ev.Event, left: int, of: int, seed: int) -> None:
        mark = Mark(made.run, made.mode) if isinstance(made, ev.RunBegun) else LIVE
        line, _ = encode(made, 2, head, mark, left, of)
        agree([first, line])
        chance = random.Random(seed)
        for _ in range(8):
            agree([first, broken(line, chance)])

    check()


@pytest.mark.parametrize("number", [0, 1, 2, 3, 4, 5])
@pytest.mark.parametrize("before", [(0, 1), (1, 2), (2, 3), (2, 4)])
def test_lines_that_say_another_number_or_another_action_are_judged_alike(number: int, before: tuple[int, int]) -> None:
    first = lines([(begun(),)])[0]
    entry = decode(first)
    assert isinstance(entry, Entry)
    step = ev.StepBegun("Ada", entry.event.at, "one", "1.1", 1, "Lift")
    second, head = encode(step, 2, entry.hash, LIVE, *before)
    for left in range(4):
        for of in range(5):
            agree([first, second, encode(step, number, head, LIVE, left, of)[0]])


@pytest.mark.parametrize("utc", ["2026-13-25T08:00:00.000Z", "2026-02-30T08:00:00.000Z", "2026-11-25T25:00:00.000Z"])
def test_a_time_that_there_is_not_is_damage(utc: str) -> None:
    journal = lines(actions(1))[:3]
    journal[2] = framed(text_in(journal[2]).replace(b"2026-11-25T08:01:00.000Z", utc.encode()))
    agree(journal)
    assert not sketched(journal, NONE)[1].whole


def test_a_length_that_does_not_fit_is_damage() -> None:
    journal = lines(actions(1))[:3]
    journal[2] = b"9" + journal[2]
    agree(journal)
    assert not sketched(journal, NONE)[1].whole


def test_a_run_that_is_only_written_like_another_is_another() -> None:
    """What stands in the second line is a line end in JSON, what stands in the first is a backslash and a letter."""
    journal = lines([(begun(Mark("a\\nb", "live")),), (ev.StepBegun("Ada", begun().at, "one", "1.1", 1, "Lift"),)])
    journal[1] = framed(text_in(journal[1]).replace(rb"a\\nb", rb"a\nb"))
    agree(journal)
    assert not sketched(journal, NONE)[1].whole


@pytest.mark.parametrize("more", [-1, 0, 1])
def test_room_behind_the_end_is_counted_alike(more: int) -> None:
    journal = lines(actions(3))
    agree([*journal, bytes(ROOM - sum(map(len, journal)) + more)])


def text_in(line: bytes) -> bytes:
    """The JSON of a line."""
    return line.split(b" ", 2)[2][:-1]


def framed(text: bytes) -> bytes:
    """A line of a JSON."""
    return b"%d %s %s\n" % (len(text), sha256(text).hexdigest().encode(), text)


@pytest.mark.parametrize("name", ["", "a\\nb", 'a"b', "ä", "\x07", "a\\"])
def test_a_run_of_any_name_is_taken_alike(name: str) -> None:
    agree(lines(actions(2, mark=Mark(name, "live"))))


@pytest.mark.parametrize("seed", range(60))
def test_journals_with_lines_changed_lost_doubled_or_moved_are_judged_alike(seed: int) -> None:
    chance = random.Random(seed)
    journal = lines(actions(3))
    for _ in range(chance.choice([1, 1, 2, 3])):
        at, other = chance.randrange(len(journal)), chance.randrange(len(journal))
        match chance.randrange(8):
            case 0:
                journal[at] = broken(journal[at], chance) if not isinstance(decode(journal[at]), Damage) else b"\n"
            case 1:
                del journal[at]
            case 2:
                journal.insert(other, journal[at])
            case 3:
                journal[at], journal[other] = journal[other], journal[at]
            case 4:
                journal[at] = journal[at].replace(RUN.encode(), b"20261125-0800-zzzz")
            case 5:
                journal[-1] = journal[-1][: chance.randrange(len(journal[-1]))] or b"\n"
            case 6:
                journal.insert(other, bytes(chance.randrange(1, 50)))
            case _:
                journal.append(bytes(chance.randrange(1, 50)))
    agree(journal)


@pytest.mark.parametrize("path", DAMAGED, ids=lambda path: path.stem)
def test_journals_of_documents_are_judged_alike(path: Path) -> None:
    with path.open("rb") as file:
        agree(list(lines_of(file)))
