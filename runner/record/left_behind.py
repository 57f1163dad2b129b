"""What one run says of exceptions that outlive it: those it noted, and those it closed. Plain data, which an index may keep.

Only live runs of people count: a dry or played run says nothing of the press, and a run leaves nothing open before it has
ended. A journal is read as far as its lines are whole; the chain between them is for `verify`, and a damaged record hides
no exception.
"""

import json
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from runner.engine.events import (
    Abandoned,
    Event,
    ExceptionCarried,
    ExceptionClosed,
    ExceptionNoted,
    Finished,
    RunBegun,
)
from runner.record.disk import Io
from runner.record.line import Entry, decode

MARKED = b'"exception-'
"""Stands in the line of every event of an exception; what has none of it is not decoded."""
ENDS = (b'"finished"', b'"abandoned"')

TOLD = (RunBegun, ExceptionCarried, ExceptionNoted, ExceptionClosed, Finished, Abandoned)
"""The events that matter here."""

Key = tuple[str, int]
"""The run that noted it, and its number there."""


class Noted(NamedTuple):
    """An exception as it was noted."""

    number: int
    kind: str
    severity: str
    words: str
    owner: str
    blocking: bool
    """As the author said."""
    by: str
    at: str
    """UTC, RFC 3339."""


class LeftBehind(NamedTuple):
    """Of one run."""

    run: str
    title: str
    equipment: str
    noted: tuple[Noted, ...]
    """None where the run has not ended."""
    closed: tuple[Key, ...]
    """Its own and those that it carried."""


NOTHING = LeftBehind("", "", "", (), ())


def left_behind(path: str, io: Io) -> LeftBehind:
    """From the journal at a path; nothing from one that cannot be read."""
    return folded(read_events(path, io))


def read_events(path: str, io: Io) -> Iterator[Event]:
    """The beginning of a run, its events of exceptions and its end; nothing where it has no exception."""
    try:
        with io.open_read(path) as file:
            written = file.read()
    except OSError:
        return
    if MARKED not in written:
        return
    starts = {0}
    for word in (MARKED, *ENDS):
        at = written.find(word)
        while at >= 0:
            starts.add(written.rfind(b"\n", 0, at) + 1)
            end = written.find(b"\n", at)
            at = written.find(word, end) if end >= 0 else -1
    for start in sorted(starts):
        end = written.find(b"\n", start)
        entry = decode(written[start : end if end >= 0 else len(written)] + b"\n")
        if isinstance(entry, Entry):
            yield entry.event


def folded(events: Iterable[Event]) -> LeftBehind:
    """What these events of one run come to."""
    begun: RunBegun | None = None
    noted: list[Noted] = []
    closed: list[Key] = []
    names: dict[int, Key] = {}
    ended = False
    for event in events:
        match event:
            case RunBegun():
                if event.played or event.mode != "live":
                    return NOTHING
                begun = event
            case ExceptionCarried():
                names[event.number] = (event.earlier_run, event.earlier_number)
            case ExceptionNoted() if begun is not None:
                names[event.number] = (begun.run, event.number)
                noted.append(
                    Noted(
                        event.number, event.kind, event.severity, event.words, event.owner, event.blocking, event.by,
                        event.at.utc,
                    )
                )  # fmt: skip
            case ExceptionClosed():
                if event.number in names:
                    closed.append(names[event.number])
            case Finished() | Abandoned():
                ended = True
            case _:
                pass
    if begun is None or not ended:
        return NOTHING._replace(closed=tuple(closed))
    equipment = begun.equipment or pinned_equipment(begun.digest, begun.sources) if noted else ""
    return LeftBehind(begun.run, begun.title, equipment, tuple(noted), tuple(closed))


@lru_cache(maxsize=32)
def pinned_equipment(digest: str, sources: tuple[tuple[str, str], ...]) -> str:  # noqa: ARG001 - the cache asks for it
    """The equipment of a run whose record does not say it beside: of the procedure that is pinned there."""
    if not sources:
        return ""
    from runner.procedure.compile import compile_procedure

    path, text = sources[0]
    found = compile_procedure(text, path, dict(sources[1:]).get).procedure
    return found.equipment if found is not None else ""


def as_text(left: LeftBehind) -> str:
    """As JSON; empty for nothing, which most runs leave."""
    return json.dumps(left, ensure_ascii=False) if left.noted or left.closed else ""


def from_text(text: str) -> LeftBehind:
    """The same again."""
    if not text:
        return NOTHING
    run, title, equipment, noted, closed = json.loads(text)
    return LeftBehind(
        run, title, equipment, tuple(Noted(*one) for one in noted), tuple((run, number) for run, number in closed)
    )
