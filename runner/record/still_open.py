"""Exceptions that stay open for their equipment after the run that noted them has ended: a fold over the journals.

The journals are all there is; what an index keeps of them counts where it still fits them. An exception counts as open
until it is closed, in the run that noted it or in any later one that carried it.
"""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from runner.engine.intents import LeftOpen
from runner.record.left_behind import Key, LeftBehind, Noted, from_text, left_behind
from runner.record.store import Store

BLOCKING_KINDS = ("people", "equipment")
BLOCKING_SEVERITIES = ("serious",)
"""What blocks though neither author nor site said so: serious exceptions about people or equipment. Common practice, no source."""


class StillOpen(NamedTuple):
    """One that is open, and where."""

    left: LeftOpen
    equipment: str
    path: str
    """Of the journal of the run that noted it."""


def still_open(store: Store, equipment: str = "", severities: tuple[str, ...] = ()) -> tuple[StillOpen, ...]:
    """All that are open, oldest first; those of one equipment where it is named. `severities`: those that block by the
    site; none where it does not say."""
    return open_in(told_by(store), equipment, severities)


def open_in(
    told: Iterable[tuple[str, LeftBehind]], equipment: str = "", severities: tuple[str, ...] = ()
) -> tuple[StillOpen, ...]:
    """The same of what was told of each journal of a live run, by path."""
    noted: dict[Key, StillOpen] = {}
    closed: set[Key] = set()
    for path, left in told:
        closed.update(left.closed)
        for one in left.noted:
            opened = LeftOpen(
                left.run, one.number, left.title, one.kind, one.severity, one.words, one.owner, blocks(one, severities),
                one.by, one.at,
            )  # fmt: skip
            noted[left.run, one.number] = StillOpen(opened, left.equipment, path)
    wanted = equipment_key(equipment)
    found = [one for key, one in noted.items() if key not in closed]
    kept = [one for one in found if not wanted or equipment_key(one.equipment) == wanted]
    return tuple(sorted(kept, key=lambda one: (one.left.at, one.left.run, one.left.number)))


def told_by(store: Store) -> Iterator[tuple[str, LeftBehind]]:
    """By path, what each live run leaves: from the index of the store where it has one, else from its journals."""
    if store.index is None:
        yield from ((path, left_behind(path, store.io)) for path in store.paths("live"))
        return
    from runner.record.index.look import left_texts

    yield from ((path, from_text(text)) for path, text in left_texts(store, store.index()) if text)


def left_open(store: Store, equipment: str, severities: tuple[str, ...] = ()) -> tuple[LeftOpen, ...]:
    """What the next run at an equipment carries; nothing where a procedure names none."""
    return tuple(one.left for one in still_open(store, equipment, severities)) if equipment.strip() else ()


def equipment_key(name: str) -> str:
    """As equipment is compared: case and spacing make no other press."""
    return " ".join(name.split()).casefold()


def blocks(noted: Noted, severities: tuple[str, ...] = ()) -> bool:
    """Whether it keeps the next run from beginning its work: as the author said, as the site says of its severity, or
    for what it is about."""
    if noted.blocking or noted.severity in severities:
        return True
    return not severities and noted.severity in BLOCKING_SEVERITIES and noted.kind in BLOCKING_KINDS
