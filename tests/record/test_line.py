"""One event, one line: what goes in comes out, and nothing else comes out of anything else."""

import hashlib
import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import events as ev
from runner.record.fields import LAYOUTS, word_of
from runner.record.line import FORMAT, GENESIS, KINDS, Damage, Entry, Kind, Mark, decode, encode
from tests.record.sample import LIVE, actions, any_event, begun, lines, moment


def framed(content: object) -> bytes:
    """A line with a right frame around any content."""
    text = json.dumps(content, ensure_ascii=False).encode(errors="surrogatepass")
    return b"%d %s %s\n" % (len(text), hashlib.sha256(text).hexdigest().encode(), text)


def plain(what: ev.Event, **changes: object) -> dict[str, object]:
    """The JSON of an event's line, with changes; None takes a key away."""
    line, _ = encode(what, 1, GENESIS, LIVE)
    content: dict[str, object] = json.loads(line.split(b" ", 2)[2])
    content.update(changes)
    return {key: value for key, value in content.items() if value != "take away"}


@pytest.mark.parametrize("event", ev.EVENTS, ids=word_of)
def test_every_event_comes_back_as_it_went_in(event: type[ev.Event]) -> None:
    @settings(max_examples=60, deadline=None, derandomize=True)
    @given(any_event(event), st.integers(1, 10**9), st.integers(0, 50), st.text(max_size=20), st.text(max_size=8))
    def check(made: ev.Event, number: int, left: int, run: str, mode: str) -> None:
        mark = Mark(made.run, made.mode) if isinstance(made, ev.RunBegun) else Mark(run, mode)
        line, own = encode(made, number, GENESIS, mark, left)
        entry = decode(line)
        assert isinstance(entry, Entry)
        assert entry == Entry(number, own, GENESIS, left, mark, made, left + 1, FORMAT * isinstance(made, ev.RunBegun))
        assert line.count(b"\n") == 1

    check()


@pytest.mark.parametrize("event", ev.EVENTS, ids=word_of)
def test_the_json_of_every_event_is_that_of_the_standard_library_with_sorted_keys(event: type[ev.Event]) -> None:
    """Against `json` of Python's standard library (RFC 8259): read and written again it is the same text."""

    @settings(max_examples=40, deadline=None, derandomize=True)
    @given(any_event(event), st.integers(0, 50))
    def check(made: ev.Event, left: int) -> None:
        text = encode(made, 3, GENESIS, LIVE, left)[0].split(b" ", 2)[2][:-1].decode()
        assert json.dumps(json.loads(text), sort_keys=True, separators=(",", ":"), ensure_ascii=False) == text

    check()


def test_a_line_is_length_hash_and_json_of_the_bytes_written() -> None:
    # Computed here with the standard library alone: FIPS 180-4 (SHA-256) over RFC 8259 JSON with sorted keys.
    line, own = encode(ev.Abandoned("Ada", moment(61.25), "Weiß nicht"), 7, "a" * 64, LIVE, 2, 4)
    text = (
        '{"at":{"boot":"boot-1","tick":61.25,"utc":"2026-11-25T08:01:01.250Z"},"by":"Ada","event":"abandoned","left":2,'
        f'"mode":"live","n":7,"of":4,"prev":"{"a" * 64}","reason":"Weiß nicht","run":"20261125-0800-k7m2"}}'
    ).encode()
    assert own == hashlib.sha256(text).hexdigest()
    assert line == str(len(text)).encode() + b" " + own.encode() + b" " + text + b"\n"


def test_the_hash_before_the_first_line_is_that_of_the_format_name() -> None:
    assert hashlib.sha256(b"changeover-journal").hexdigest() == GENESIS


def test_a_line_says_where_its_action_begins_and_an_older_one_does_not() -> None:
    line, _ = encode(ev.Abandoned("Ada", moment(61.25), "x"), 7, "a" * 64, LIVE, 2, 4)
    entry = decode(line)
    assert isinstance(entry, Entry)
    assert (entry.of, entry.first) == (4, 6)
    older = framed({key: value for key, value in json.loads(line.split(b" ", 2)[2]).items() if key != "of"})
    entry = decode(older)
    assert isinstance(entry, Entry)
    assert (entry.left, entry.of, entry.first) == (2, 0, 0)


def test_words_are_the_class_names_in_kebab_case() -> None:
    assert list(LAYOUTS) == [word_of(event) for event in ev.EVENTS]
    assert {"run-begun", "hold-released", "tail-set-aside", "paused"} < set(LAYOUTS)


def test_a_whole_number_where_a_float_belongs_is_written_as_one() -> None:
    line, _ = encode(ev.WaitBegun("Ada", moment(0), "a", "dwell", 90), 1, GENESIS, LIVE)
    assert b'"at_least_s":90.0' in line


def test_text_that_is_no_unicode_and_numbers_that_are_not_finite_are_not_written() -> None:
    for event in (ev.Abandoned("Ada", moment(0), "\ud800"), ev.WaitBegun("Ada", moment(0), "a", "b", float("nan"))):
        with pytest.raises(ValueError):
            encode(event, 1, GENESIS, LIVE)


PAUSED = ev.Paused("Ada", moment(0), "Take the old roll off")
WAIT = ev.WaitBegun("Ada", moment(0), "a", "b", 1.0)
MADE = ev.StepDone("Ada", moment(0), "a", "1.1", (("crane", "free"),))


@pytest.mark.parametrize(
    ("content", "kind", "words"),
    [
        ([], Kind.MALFORMED, "no JSON object"),
        (plain(PAUSED, event="reviewed"), Kind.UNKNOWN_EVENT, "reviewed"),
        (plain(PAUSED, event=["paused"]), Kind.UNKNOWN_EVENT, "paused"),
        (plain(PAUSED, event="take away"), Kind.UNKNOWN_EVENT, "None"),
        (plain(begun(), format=FORMAT + 1, press="new field"), Kind.NEWER_FORMAT, f"format {FORMAT + 1}"),
        (plain(begun(), format="1"), Kind.MALFORMED, "format"),
        (plain(begun(), format=0), Kind.MALFORMED, "format"),
        (plain(begun(), sources=[["a", "b", "c"]]), Kind.MALFORMED, "sources is no list of 2"),
        (plain(begun(), played=0), Kind.MALFORMED, "played is a number"),
        (plain(PAUSED, n=0), Kind.MALFORMED, "numbers"),
        (plain(PAUSED, n=10**13), Kind.MALFORMED, "numbers"),
        (plain(PAUSED, n=True), Kind.MALFORMED, "truth value"),
        (plain(PAUSED, n=1.0), Kind.MALFORMED, "a number where a whole"),
        (plain(PAUSED, left=-1), Kind.MALFORMED, "numbers"),
        (plain(PAUSED, prev=None), Kind.MALFORMED, "null"),
        (plain(PAUSED, by=7), Kind.MALFORMED, "by is not text"),
        (plain(PAUSED, run="take away"), Kind.MALFORMED, "run is not there"),
        (plain(PAUSED, intention="take away"), Kind.MALFORMED, "intention is not there"),
        (plain(PAUSED, more="x"), Kind.MALFORMED, "'more' does not belong"),
        (plain(PAUSED, at="now"), Kind.MALFORMED, "moment"),
        (plain(PAUSED, at={"boot": "", "tick": 0, "utc": "2026-11-25 08:00"}), Kind.MALFORMED, "time like"),
        (plain(PAUSED, at={"boot": "", "tick": 0, "utc": "2026-13-25T08:00:00.000Z"}), Kind.MALFORMED, "time like"),
        (plain(PAUSED, at={"boot": "", "tick": "0", "utc": "2026-11-25T08:00:00.000Z"}), Kind.MALFORMED, "finite"),
        (plain(WAIT, at_least_s=True), Kind.MALFORMED, "at_least_s is a truth value"),
        (plain(WAIT, at_least_s=10**400), Kind.MALFORMED, "at_least_s"),
        (plain(MADE, made="crane"), Kind.MALFORMED, "made is text where a list"),
        (plain(MADE, made=[["crane", 1]]), Kind.MALFORMED, "made is a number where text"),
        (plain(PAUSED, intention="\ud800"), Kind.MALFORMED, "no JSON"),
    ],
)
def test_content_that_is_no_event_is_said_to_be_none(content: object, kind: Kind, words: str) -> None:
    damage = decode(framed(content))
    assert isinstance(damage, Damage)
    assert damage.kind == kind
    assert words in damage.words


@pytest.mark.parametrize("text", [b"{", b"NaN", b"[1e999]", b"[" * 100_000, b"\xff", b'{"n":' + b"9" * 5000 + b"}"])
def test_what_is_no_json_is_said_to_be_none(text: bytes) -> None:
    damage = decode(b"%d %s %s\n" % (len(text), hashlib.sha256(text).hexdigest().encode(), text))
    assert isinstance(damage, Damage)
    assert damage.kind in (Kind.MALFORMED, Kind.UNKNOWN_EVENT)


def test_half_of_a_pair_written_as_an_escape_is_refused() -> None:
    text = json.dumps(plain(replace(PAUSED, intention="x"))).replace('"x"', '"\\ud800"').encode()
    damage = decode(b"%d %s %s\n" % (len(text), hashlib.sha256(text).hexdigest().encode(), text))
    assert damage == Damage(Kind.MALFORMED, "is no JSON that this program writes")


def test_an_older_line_may_lack_a_field_that_has_a_default() -> None:
    worked = ev.WorkedOut("", moment(0), "feed", "a + b", (), "1 + 2", "3 m", 3.0, 3.0, "m", "", "in")
    entry = decode(framed(plain(worked, ends="take away")))
    assert isinstance(entry, Entry)
    assert entry.event == worked


LINE = lines(actions(1))[0]


@pytest.mark.parametrize(
    ("line", "kind", "words"),
    [
        (b"\n", Kind.CHANGED, "empty"),
        (b"\0" * 40, Kind.ZEROS, "zero bytes"),
        (b"\0" * 40 + b"\n", Kind.ZEROS, "zero bytes"),
        (LINE[:-1], Kind.INCOMPLETE, "cut"),
        (LINE[:50], Kind.INCOMPLETE, "cut"),
        (LINE[:50] + b"\0" * 9, Kind.ZEROS, "zero bytes"),
        (b"0" + LINE, Kind.CHANGED, "length"),
        (b"+" + LINE, Kind.CHANGED, "length"),
        (b"1" + LINE, Kind.CHANGED, "bytes, but it has"),
        (b"9" * 6000 + LINE, Kind.CHANGED, "length"),
        (LINE.replace(b"Ada", b"Eve", 1), Kind.CHANGED, "hash does not fit"),
        (LINE[:10] + LINE[10:60].upper() + LINE[60:], Kind.CHANGED, "hash does not fit"),
        (b"hello, world\n", Kind.CHANGED, "length"),
        (b"12 hello, world\n", Kind.CHANGED, "hash"),
    ],
)
def test_a_damaged_frame_is_told_from_a_cut_one(line: bytes, kind: Kind, words: str) -> None:
    damage = decode(line)
    assert isinstance(damage, Damage)
    assert damage.kind == kind
    assert words in damage.words


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.binary(max_size=300) | st.recursive(st.none() | st.text() | st.integers(), st.lists).map(framed))
def test_no_bytes_raise(line: bytes) -> None:
    assert isinstance(decode(line), Damage)


def test_every_kind_of_damage_has_a_meaning() -> None:
    assert set(KINDS) == set(Kind)
