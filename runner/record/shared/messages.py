"""What terminals on one run say to each other: one message is one line of JSON, of bounded length. Pure.

The other end is never trusted: whatever comes is checked against the annotations of its class before anything is made of
it, and one bad line ends that connection. No moment and no "whose PIN was right" travels: the keeper of the record
stamps and checks. A PIN goes over the local socket only, and stands in no text made from a message.
"""

import json
from collections.abc import Callable
from dataclasses import MISSING, dataclass, field, fields
from typing import Any, get_args, get_type_hints

from runner.engine.intents import AnyIntent, BeginRun, NoteTraining, Wanted, WithPin
from runner.record.fields import Reader, read_text, reader_of, word_of

LONGEST = 1 << 16
"""Bytes of a line with its end; a longer one is not read on."""

VERSION = 1
"""Of this talk. Terminals of two versions do not share a run."""

MOST = 10**12
"""No number comes near it."""

Pins = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Hello:
    """First from a terminal that wants to join."""

    version: int
    session: str
    """A name by chance for this sitting, the same after a lost connection."""
    terminal: str
    """What it is called, as it stands in the record."""
    token: str = field(default="", repr=False)
    """Where the socket itself does not keep other users out: what stands in a file that they cannot read."""


@dataclass(frozen=True, slots=True)
class Ask:
    """An intent. The same number again asks only for the answer."""

    number: int
    """From 1, one more for each intent of a session."""
    seen: int
    """The number of the newest line that the person had before them."""
    intent: AnyIntent
    pins: Pins = field(default=(), repr=False)

    @property
    def wanted(self) -> Wanted:
        """As a run takes it."""
        return WithPin(self.intent, self.pins) if self.pins else self.intent


@dataclass(frozen=True, slots=True)
class Bye:
    """Last from a terminal that leaves."""


@dataclass(frozen=True, slots=True)
class Welcome:
    """The answer to a Hello."""

    version: int
    keeper: str
    """A name by chance for this opening of the run: another one has no answers of this one."""
    run: str
    number: int
    """Of the newest line that is on the disk."""
    interrupted: bool
    terminal: str
    """What the one that joins is called from now on: another may have had its name."""


@dataclass(frozen=True, slots=True)
class TurnedAway:
    """The other answer to a Hello; the connection ends."""

    words: str


@dataclass(frozen=True, slots=True)
class Grown:
    """The line of this number, and all before it, are on the disk."""

    number: int
    interrupted: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of an intent: lines from `first` to `last` are on the disk because of it (none where `first` is 0)."""

    number: int
    taken: bool
    first: int = 0
    last: int = 0
    reason: str = ""
    missing: tuple[str, ...] = ()
    pin_of: str = ""


@dataclass(frozen=True, slots=True)
class Broken:
    """The record could not be written; nothing more is taken."""

    words: str


@dataclass(frozen=True, slots=True)
class Closed:
    """The keeper leaves the run, and whoever wants to may take it over."""


@dataclass(frozen=True, slots=True)
class Told:
    """Something about the terminals: one has joined, one has left."""

    words: str


FromJoined = Hello | Ask | Bye
FromKeeper = Welcome | TurnedAway | Grown | Answer | Broken | Closed | Told
Message = FromJoined | FromKeeper

JOINED: dict[str, type[FromJoined]] = {word_of(kind): kind for kind in get_args(FromJoined)}
KEEPER: dict[str, type[FromKeeper]] = {word_of(kind): kind for kind in get_args(FromKeeper)}
"""By the word in a line, what each side may say."""

NOT_SENT = (BeginRun, NoteTraining)
"""The run has begun, and of practice only the program tells that leads it."""

INTENTS: dict[str, type[Any]] = {word_of(kind): kind for kind in get_args(AnyIntent) if kind not in NOT_SENT}
"""What may be wanted at another terminal."""

SPOKEN = ("paper",)
"""Of what all intents have besides `by`, what a person says. All else the keeper of the record sets; it never travels."""


@dataclass(frozen=True, slots=True)
class Bad:
    """A line that is no message; the connection ends."""

    words: str


class TooLongError(ValueError):
    """A message that fits no line."""


Readers = tuple[dict[str, Reader], frozenset[str]]
KNOWN: dict[str, Readers] = {}
"""By the name of a class, worked out when it is first met."""


def readers_of(kind: type[Any]) -> Readers:
    """(what reads each field, the fields that may be absent). Of an intent all but what the keeper stamps."""
    found = KNOWN.get(kind.__name__)
    if found is None:
        found = KNOWN[kind.__name__] = make_readers(kind)
    return found


def make_readers(kind: type[Any]) -> Readers:
    """The same, not yet known."""
    hints = get_type_hints(kind)
    readers: dict[str, Reader] = {}
    for one in fields(kind):
        if kind in INTENTS.values() and one.kw_only and one.name not in SPOKEN:
            continue
        readers[one.name] = read_intent if hints[one.name] == AnyIntent else reader_of(hints[one.name])
    return readers, frozenset(
        one.name for one in fields(kind) if one.default is not MISSING or one.default_factory is not MISSING
    )


def read_fields(kind: type[Any], content: dict[str, object]) -> Any:
    """An instance, every field checked. ValueError with words where one is wrong, missing or too many."""
    readers, optional = readers_of(kind)
    if content.keys() - readers.keys() or readers.keys() - content.keys() - optional:
        raise ValueError("its fields are not those of its word")
    values = {name: readers[name](value) for name, value in content.items()}
    if any(type(value) is int and not 0 <= value <= MOST for value in values.values()):
        raise ValueError("its numbers are not what they can be")
    return kind(**values)


def read_intent(value: object) -> object:
    """An intent from what the JSON holds."""
    if type(value) is not dict:
        raise ValueError("holds no intent")
    kind = INTENTS.get(read_text(value.get("intent")))
    if kind is None:
        raise ValueError("holds an intent that nobody may send")
    return read_fields(kind, {name: part for name, part in value.items() if name != "intent"})


word: Callable[[type[Any]], str] = word_of
"""The word for a class in a line."""


def encode(message: Message) -> bytes:
    """One line. TooLongError where it fits none."""
    content = {one.name: getattr(message, one.name) for one in fields(message)}
    if isinstance(message, Ask):
        intent = message.intent
        names = readers_of(type(intent))[0]
        content["intent"] = {"intent": word(type(intent)), **{name: getattr(intent, name) for name in names}}
    line = json.dumps({"is": word(type(message)), **content}, separators=(",", ":")).encode() + b"\n"
    if len(line) > LONGEST:
        raise TooLongError(f"{len(line)} bytes")
    return line


def refuse_constant(name: str) -> object:
    """NaN and the infinities are not JSON."""
    raise ValueError(f"holds {name}")


def decode(line: bytes, kinds: dict[str, type[Any]]) -> Any:
    """A line, with or without its end, to a message of `kinds`, else Bad. Never raises, whatever the bytes."""
    if len(line) > LONGEST:
        return Bad("is too long")
    try:
        content = json.loads(line.decode(), parse_constant=refuse_constant)
        if type(content) is not dict:
            return Bad("is no JSON object")
        kind = kinds.get(read_text(content.pop("is", None)))
        if kind is None:
            return Bad("is of no kind that is said here")
        return read_fields(kind, content)
    except RecursionError:
        return Bad("is nested too deep")
    except ValueError as error:
        return Bad(f"is no message: {error}"[:200])


class Lines:
    """Bytes as they come, cut into lines."""

    def __init__(self) -> None:
        self.rest = b""

    def take(self, content: bytes) -> list[bytes] | Bad:
        """The lines that are whole now; what is torn waits for more. Bad where a line goes on too long."""
        *whole, self.rest = (self.rest + content).split(b"\n")
        if len(self.rest) >= LONGEST or any(len(line) >= LONGEST for line in whole):
            return Bad("is too long")
        return whole
