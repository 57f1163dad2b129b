"""One event is one line: the byte length of its JSON, the SHA-256 of its JSON, the JSON. Pure.

The hash is over the bytes that are written, and they are never written anew: what is checked is what was kept.
Length and hash together tell a line that was cut from one that was changed. A line never raises, it is an `Entry` or
a `Damage`; what follows what is for `runner.record.verify`.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256
from typing import Any, NamedTuple

from runner.engine.events import Event, RunBegun
from runner.record.fields import ENVELOPE, LAYOUTS, WORDS, Layout, dump, quote, read_int, read_text, real_text
from runner.record.quick import quick

FORMAT_NAME = "changeover-journal"
"""Its hash stands as `prev` in the first line, so that no line has an empty one."""

FORMAT = 2
"""The version, in the first line. A reader refuses a newer one by its number. Before 2 an end had no seal."""

GENESIS = sha256(FORMAT_NAME.encode()).hexdigest()

ROOM = 64 << 10
"""Bytes; a writer makes a file at most as long as the next multiple of it above the last line."""

LONGEST = 64 << 20
"""Bytes; no line of ours comes near, so a longer one is not read into memory."""

HASH_LENGTH = 64

FAR = 10**12
"""No number of a line comes near it."""


class Kind(StrEnum):
    """What can be wrong with a line or with its place among the others."""

    INCOMPLETE = "incomplete"
    ZEROS = "zeros"
    CHANGED = "changed"
    MALFORMED = "malformed"
    UNKNOWN_EVENT = "unknown event"
    NEWER_FORMAT = "newer format"
    OUT_OF_ORDER = "out of order"
    MISSING = "missing"
    DOUBLED = "doubled"
    ANOTHER_RUN = "from another run"
    AFTER_THE_END = "after the end"
    NOT_SEALED = "not sealed"


KINDS: dict[Kind, str] = {
    Kind.INCOMPLETE: "The file is empty, its last line was cut, or lines that were written together are not all there.",
    Kind.ZEROS: "Zero bytes stand where a line should, are all there is, or are more than a writer leaves behind the end.",
    Kind.CHANGED: "Length or hash do not fit the content, or a line does not follow the one before it.",
    Kind.MALFORMED: "Length and hash fit, but the content is no event of this format.",
    Kind.UNKNOWN_EVENT: "Length and hash fit, but this program knows no such event.",
    Kind.NEWER_FORMAT: "The journal was written in a newer format; the version is named.",
    Kind.OUT_OF_ORDER: "The line belongs to this run, but to another place in it.",
    Kind.MISSING: "One or more lines before this one are not there.",
    Kind.DOUBLED: "A line with this number has stood before.",
    Kind.ANOTHER_RUN: "The line names another run, or another mode.",
    Kind.AFTER_THE_END: "The run had ended before this line, and no such event may follow.",
    Kind.NOT_SEALED: "The end of the run, or what was added after it, has no seal, or the seal does not fit.",
}
"""Every kind with its meaning, as the reference prints it."""


@dataclass(frozen=True, slots=True)
class Damage:
    """What is wrong with the bytes of a line."""

    kind: Kind
    words: str


class Mark(NamedTuple):
    """Stands on every line, so that no line passes for one of another run and a dry run shows on each."""

    run: str
    mode: str


class Entry(NamedTuple):
    """A line that is whole in itself."""

    number: int
    """From 1."""
    hash: str
    """Of its own JSON; 64 hexadecimal digits."""
    prev: str
    """The hash of the line before."""
    left: int
    """How many more lines of the same action follow: they are kept all or none."""
    mark: Mark
    event: Event
    of: int = 0
    """How many lines the action has; 0 where an older line does not say."""
    version: int = 0
    """The format of the journal; only its first line says it, 0 in the others."""

    @property
    def first(self) -> int:
        """The number of the first line of its action; 0 where that is not said."""
        return self.number - (self.of - 1 - self.left) if self.of else 0


class Framed(NamedTuple):
    """What the frame of a line holds."""

    json: bytes
    hash: str


def encode(event: Event, number: int, prev: str, mark: Mark, left: int = 0, of: int = 0) -> tuple[bytes, str]:
    """(line with its newline, hash). ValueError where a text is no Unicode or a number is not finite."""
    layout = LAYOUTS[WORDS[type(event)]]
    at = event.at
    texts: dict[str, object] = {
        "n": number,
        "prev": quote(prev),
        "left": left,
        "of": of or left + 1,
        "run": quote(mark.run),
        "mode": quote(mark.mode),
        "format": FORMAT,
        "at.boot": quote(at.boot),
        "at.tick": real_text(at.tick),
        "at.utc": quote(at.utc),
    }
    for name, write, value in zip(layout.names, layout.writers, layout.get(event), strict=True):
        texts[name] = write(value)  # a run-begun event says run and mode itself
    template = layout.template
    if event.terminal:
        template, texts["terminal"] = layout.elsewhere, quote(event.terminal)
    text = (template % texts).encode()
    own = sha256(text).hexdigest()
    return b"%d %s %s\n" % (len(text), own.encode(), text), own


def unframe(line: bytes) -> Framed | Damage:
    """Take the frame off a line that ends with its newline; says how the line is damaged where it is."""
    length, space, rest = line.partition(b" ")
    own, text = rest[:HASH_LENGTH], rest[HASH_LENGTH + 1 : -1]
    if line[-1:] != b"\n" or rest[HASH_LENGTH : HASH_LENGTH + 1] != b" " or length != b"%d" % len(text):
        return frame_damage(line, length if space else b"", rest, text)
    found = sha256(text).hexdigest()
    if found.encode() != own:
        return Damage(Kind.CHANGED, "was changed: its hash does not fit its content")
    return Framed(text, found)


def frame_damage(line: bytes, length: bytes, rest: bytes, text: bytes) -> Damage:
    """What is wrong with a frame that does not fit."""
    if not line.strip(b"\0\n"):
        return Damage(Kind.ZEROS, "holds only zero bytes") if line.strip(b"\n") else Damage(Kind.CHANGED, "is empty")
    if line[-1:] != b"\n":
        if line[-1:] == b"\0":
            return Damage(Kind.ZEROS, "ends in zero bytes")
        if line[:1] == b"\0":
            return Damage(Kind.ZEROS, "has zero bytes before it")
        return Damage(Kind.INCOMPLETE, "is cut: it has no line end")
    if not length.isdigit() or length[:1] == b"0" or len(length) > 9:
        return Damage(Kind.CHANGED, "does not begin with its length")
    if rest[HASH_LENGTH : HASH_LENGTH + 1] != b" ":
        return Damage(Kind.CHANGED, "has no hash after its length")
    return Damage(Kind.CHANGED, f"says that its content has {int(length)} bytes, but it has {len(text)}")


def refuse_constant(name: str) -> object:
    """NaN and the infinities are not JSON."""
    raise ValueError(f"holds {name}")


load = json.JSONDecoder(parse_constant=refuse_constant).decode
scan: Callable[[str, int], tuple[object, int]] = getattr(json.JSONDecoder(parse_constant=refuse_constant), "scan_once")  # noqa: B009 - in no stub
"""The same without looking for blanks around it, which no line of ours has."""


def parse(text: str) -> object:
    """What the JSON of a line holds. ValueError or RecursionError where it is none."""
    try:
        content, end = scan(text, 0)
    except StopIteration:
        return load(text)
    return content if end == len(text) else load(text)


def decode(line: bytes) -> Entry | Damage:
    """A line, with its newline, to its entry. Never raises, whatever the bytes."""
    framed = unframe(line)
    if isinstance(framed, Damage):
        return framed
    try:
        content = parse(framed.json.decode())
        if b"\\ud" in framed.json:  # perhaps half of a pair, which is no text and breaks every output
            dump(content).encode()
    except (ValueError, RecursionError):
        return Damage(Kind.MALFORMED, "is no JSON that this program writes")
    if type(content) is not dict:
        return Damage(Kind.MALFORMED, "is no JSON object")
    try:
        usual = quick(content)
    except (KeyError, ValueError, TypeError, IndexError):
        usual = None
    if usual is not None and 1 <= usual[0] <= FAR >= usual[2]:
        number, left, of, prev, run, mode, event = usual
        mark = tuple.__new__(Mark, (run, mode))
        return tuple.__new__(Entry, (number, framed.hash, prev, left, mark, event, of, 0))
    word = content.pop("event", None)
    layout = LAYOUTS.get(word) if type(word) is str else None
    if layout is not None and layout.event is RunBegun:
        version = content.pop("format", None)
        if type(version) is int and version > FORMAT:
            return Damage(Kind.NEWER_FORMAT, f"is of format {min(version, FAR)}, and this program reads up to {FORMAT}")
        if type(version) is not int or version < 1:
            return Damage(Kind.MALFORMED, "does not say its format")
    else:
        version = 0
    if layout is None:
        return Damage(Kind.UNKNOWN_EVENT, f"holds an event that this program does not know: {str(word)[:40]!r}")
    try:
        return entry_of(content, layout, framed.hash, version)
    except ValueError as error:
        return Damage(Kind.MALFORMED, f"is no {word} event: {error}")
    except KeyError as error:
        return Damage(Kind.MALFORMED, f"is no {word} event: {error.args[0]} is not there")


def entry_of(content: dict[str, object], layout: Layout, own: str, version: int = 0) -> Entry:
    """The checked entry of a parsed line. ValueError or KeyError where a field is wrong or not there."""
    number, left = read_int(content["n"]), read_int(content["left"])
    of = read_int(content["of"]) if "of" in content else 0
    if not 1 <= number <= FAR or not 0 <= left <= FAR or not (of == 0 or left < of <= FAR):
        raise ValueError("its numbers are not what they can be")
    mark = Mark(read_text(content["run"]), read_text(content["mode"]))
    wanted = layout.fields
    if layout.defaults:  # an older line may lack those
        wanted = tuple(field for field in wanted if field[0] in content or field[0] not in layout.defaults)
    values: dict[str, Any] = {}
    for name, reader in wanted:
        value = content[name]
        if reader is not None:
            try:
                value = reader(value)
            except ValueError as error:
                raise ValueError(f"{name} {error}") from None
        elif type(value) is not str:
            raise ValueError(f"{name} is not text")
        values[name] = value
    beside = len(ENVELOPE) - 2 * (layout.event is RunBegun) - (not of)  # that event has run and mode among its fields
    if len(content) != len(values) + beside:
        odd = min(content.keys() - values.keys() - ENVELOPE)
        raise ValueError(f"{odd[:40]!r} does not belong there")
    return Entry(number, own, read_text(content["prev"]), left, mark, layout.event(**values), of, version)
