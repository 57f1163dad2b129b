"""Exceptions that stay open for their equipment after the run that noted them has ended: a fold over the journals.

The journals are all there is. Only live runs of people count: a dry or played run says nothing of the press. An
exception counts as open until it is closed, in the run that noted it or in any later one that carried it. A journal is
read as far as its lines are whole; the chain between them is for `verify`, and a damaged record hides no exception.
"""

from collections.abc import Iterator
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
from runner.engine.intents import LeftOpen
from runner.record.line import Entry, decode
from runner.record.store import Store

BLOCKING_KINDS = ("people", "equipment")
BLOCKING_SEVERITIES = ("serious",)
"""What blocks though neither author nor site said so: serious exceptions about people or equipment. Common practice, no source."""

MARKED = b'"exception-'
"""Stands in the line of every event of an exception; what has none of it is not decoded."""
ENDS = (b'"finished"', b'"abandoned"')

Key = tuple[str, int]
"""The run that noted it, and its number there."""


class StillOpen(NamedTuple):
    """One that is open, and where."""

    left: LeftOpen
    equipment: str
    path: str
    """Of the journal of the run that noted it."""


def still_open(store: Store, equipment: str = "", severities: tuple[str, ...] = ()) -> tuple[StillOpen, ...]:
    """All that are open, oldest first; those of one equipment where it is named. `severities`: those that block by the
    site; none where it does not say."""
    noted: dict[Key, StillOpen] = {}
    closed: set[Key] = set()
    for path in store.paths("live"):
        _fold(path, read_events(store, path), severities, noted, closed)
    wanted = equipment_key(equipment)
    found = [one for key, one in noted.items() if key not in closed]
    kept = [one for one in found if not wanted or equipment_key(one.equipment) == wanted]
    return tuple(sorted(kept, key=lambda one: (one.left.at, one.left.run, one.left.number)))


def left_open(store: Store, equipment: str, severities: tuple[str, ...] = ()) -> tuple[LeftOpen, ...]:
    """What the next run at an equipment carries; nothing where a procedure names none."""
    return tuple(one.left for one in still_open(store, equipment, severities)) if equipment.strip() else ()


def equipment_key(name: str) -> str:
    """As equipment is compared: case and spacing make no other press."""
    return " ".join(name.split()).casefold()


def read_events(store: Store, path: str) -> Iterator[Event]:
    """The beginning of a run, its events of exceptions and its end; nothing where it has no exception."""
    try:
        with store.io.open_read(path) as file:
            written = file.read()
    except OSError:
        return
    if MARKED not in written:
        return
    for at, line in enumerate(written.split(b"\n")):
        if at and MARKED not in line and not any(end in line for end in ENDS):
            continue
        entry = decode(line + b"\n")
        if isinstance(entry, Entry):
            yield entry.event


def _fold(
    path: str, events: Iterator[Event], severities: tuple[str, ...], noted: dict[Key, StillOpen], closed: set[Key]
) -> None:
    begun: RunBegun | None = None
    own: list[ExceptionNoted] = []
    names: dict[int, Key] = {}
    ended = False
    for event in events:
        match event:
            case RunBegun():
                if event.played or event.mode != "live":
                    return
                begun = event
            case ExceptionCarried():
                names[event.number] = (event.earlier_run, event.earlier_number)
            case ExceptionNoted() if begun is not None:
                names[event.number] = (begun.run, event.number)
                own.append(event)
            case ExceptionClosed():
                if event.number in names:
                    closed.add(names[event.number])
            case Finished() | Abandoned():
                ended = True
            case _:
                pass
    if begun is None or not ended:
        return
    for one in own:
        equipment = begun.equipment or pinned_equipment(begun.digest, begun.sources)
        noted[begun.run, one.number] = StillOpen(
            LeftOpen(
                begun.run, one.number, begun.title, one.kind, one.severity, one.words, one.owner, blocks(one, severities),
                one.by, one.at.utc,
            ),
            equipment,
            path,
        )  # fmt: skip


def blocks(noted: ExceptionNoted, severities: tuple[str, ...] = ()) -> bool:
    """Whether it keeps the next run from beginning its work: as the author said, as the site says of its severity, or
    for what it is about."""
    if noted.blocking or noted.severity in severities:
        return True
    return not severities and noted.severity in BLOCKING_SEVERITIES and noted.kind in BLOCKING_KINDS


@lru_cache(maxsize=32)
def pinned_equipment(digest: str, sources: tuple[tuple[str, str], ...]) -> str:  # noqa: ARG001 - the cache asks for it
    """The equipment of a run whose record does not say it beside: of the procedure that is pinned there."""
    if not sources:
        return ""
    from runner.procedure.compile import compile_procedure

    path, text = sources[0]
    found = compile_procedure(text, path, dict(sources[1:]).get).procedure
    return found.equipment if found is not None else ""
