"""Lines that just follow one another, verified in one piece and read no further than an index needs: moment, step, `hidden`.

A line that is taken here is one that `runner.record.line.decode` takes and `Verifier` finds in its place, and the verifier
stands after it as it would stand then; a test holds the two together. All other lines go the whole way, one by one.
"""

import re
from collections.abc import Callable, Collection, Iterator
from datetime import datetime
from functools import lru_cache
from hashlib import sha256
from typing import Any, NamedTuple

from runner.engine.changed import open_twin
from runner.engine.events import Event
from runner.engine.moment import Moment
from runner.record.fields import LAYOUTS
from runner.record.pattern import BARRED, LONGEST_WORD, REAL, SIMPLE, TEXT, UTC, WORD, json_pattern
from runner.record.verify import Verifier

Numbered = list[tuple[int, Event]]
"""Events, each with its number."""

PLAIN = rb'"[^"\\\x00-\x1f]*+"'
"""A text without escapes, as nearly all are; less work than `TEXT`."""

AHEAD = len(" ") + 64 + len(" ")
"""Bytes between the length of a line and its JSON."""

Fits = Callable[[bytes], "re.Match[bytes] | None"]


class Drawn(NamedTuple):
    """How lines of a kind are sketched."""

    plain: Fits
    """Of a line with texts without escapes only. Its groups: size, hash, boot, tick, utc, `hidden`, left, mode, n, of, prev, run, step."""
    any: Fits
    """Of every line."""
    open: type[Any]
    """The class of their event without its guard."""
    event: type[Event]
    has_step: bool
    has_hidden: bool


class Sketches(dict[bytes, Drawn | None]):
    """By the journal's word, made when first asked for; None where a line is to be read whole."""

    def __init__(self, whole: Collection[bytes]) -> None:
        super().__init__(dict.fromkeys(whole))

    def __missing__(self, word: bytes) -> Drawn | None:
        layout = LAYOUTS.get(word.decode("ascii")) if len(word) < LONGEST_WORD else None
        if layout is None or layout.event in BARRED:
            return None
        event, plain, every = layout.event, sketch_pattern(word, PLAIN), sketch_pattern(word, TEXT)
        names = event.__dataclass_fields__
        self[word] = Drawn(
            plain.fullmatch, every.fullmatch, open_twin(event), event, "step" in names, "hidden" in names
        )
        return self[word]


def sketch_pattern(word: bytes, text: bytes) -> "re.Pattern[bytes]":
    """The whole line of a kind of event. What is compared with what must stand there is any bytes of that length."""
    moment = rb'\{"boot":(' + text + rb'),"tick":(' + REAL + rb'),"utc":"(' + UTC + rb')"\}'
    simple = {**SIMPLE, str: text, Moment: moment}
    content = json_pattern(word, LAYOUTS[word.decode("ascii")], simple, rb'"(.{64})"')
    return re.compile(rb"([1-9][0-9]{0,8}) (.{64}) " + content + rb"\n", re.DOTALL)


def sketch_of(whole: Collection[bytes]) -> Callable[[Iterator[bytes], Verifier, Numbered], bytes]:
    """What takes lines as long as each just follows those that a verifier has, and adds an event of each, of which only
    moment, step and `hidden` are there as far as it has them. It gives the first line that is to go the whole way, empty
    where there are no more. Lines of these words do so, those from the end of a run on, and all behind a flaw."""
    sketches, new, make, is_time = Sketches(whole), object.__new__, tuple.__new__, datetime.fromisoformat

    def follow(lines: Iterator[bytes], verifier: Verifier, events: Numbered) -> bytes:
        # in one piece, since an index that is made anew takes a third of its time here
        mark = verifier.mark
        if mark is None or verifier.flaws or verifier.padding or verifier.ending or verifier.unread:
            return next(lines, b"")
        run, mode = quoted(mark.run), quoted(mark.mode)
        number, head_text, left, of = verifier.highest, verifier.head, verifier.left, verifier.of
        head, count, bytes_taken = head_text.encode(), number, 0
        add, boot_before, boot = events.append, b"", ""
        for line in lines:
            word = WORD(line)
            drawn = sketches[word[1]] if word is not None else None
            if drawn is None:
                break
            plain, every, open_class, kind, has_step, has_hidden = drawn
            fits = plain(line) or every(line)
            if fits is None:
                break
            size, own, boot_raw, tick, utc, hidden, left_raw, mode_raw, number_raw, of_raw, prev, run_raw, step_raw = (
                fits.groups()
            )
            follow_on, lines_of_action = int(left_raw), int(of_raw)
            if (
                prev != head or run_raw != run or mode_raw != mode or int(number_raw) != number + 1
                or follow_on >= lines_of_action
                or ((follow_on != left - 1 or lines_of_action != of) if left else lines_of_action != follow_on + 1)
            ):  # fmt: skip
                break
            content = line[len(size) + AHEAD : -1]
            own_text = sha256(content).hexdigest()
            if int(size) != len(content) or own_text.encode() != own:
                break
            try:
                if not content.isascii():
                    content.decode()
                utc_text = utc.decode()
                is_time(utc_text)
                if boot_raw != boot_before:
                    boot, boot_before = plain_text(boot_raw), boot_raw
                event = new(open_class)
                if has_step:
                    event.step = plain_text(step_raw)
            except ValueError:
                break
            event.at = make(Moment, (utc_text, float(tick), boot))
            if has_hidden:
                event.hidden = hidden == b"true"
            event.__class__ = kind
            number, head, head_text, left, of = number + 1, own, own_text, follow_on, lines_of_action
            bytes_taken += len(line)
            add((number, event))
        else:
            line = b""
        verifier.follow(number - count, bytes_taken, head_text, left, of)
        return line

    return follow


@lru_cache(4096)
def plain_text(quoted: bytes) -> str:
    """A text without escapes. ValueError for one with, and for what is no Unicode."""
    if b"\\" in quoted:
        raise ValueError("has escapes")
    return quoted[1:-1].decode()


def quoted(text: str) -> bytes:
    """A text as it stands in a line; empty, which stands in none, for one that is written with escapes."""
    return b"" if "\\" in text else b'"' + text.encode("utf-8", "surrogatepass") + b'"'
