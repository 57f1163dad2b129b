"""One look over a folder of records: rows of the index where they still fit, the journals themselves where not.

What was read anew is kept for the next look. Records that cannot be read, or have something wrong, are never kept: each
look reads them again and says so again.
"""

import os
from collections.abc import Callable, Iterable, Sequence

from runner.record.index.base import Index
from runner.record.index.kept import Kept, Stamp, below, fits, stamp_of
from runner.record.left_behind import as_text, left_behind
from runner.record.store import Store, Summary, summarise

ReadAll = Callable[[Sequence[str]], Iterable[Kept | None]]
"""Reads the journals at these paths, in their order; None where nothing was ever kept in one."""

NO_STAMP = Stamp(-1, -1, 0, b"")
"""Of what is never kept."""


def look(store: Store, index: Index, mode: str, read_all: ReadAll | None = None) -> list[Kept]:
    """All records of a mode, newest first. With `read_all`, rows without an extract are read whole; else summaries do."""
    if not os.path.isdir(store.folder):
        return []  # and no folder is made for an index of nothing
    known = index.load(mode, read_all is not None)
    found: list[Kept | None] = []
    stale: list[tuple[int, str]] = []
    for path in store.paths(mode):
        kept = known.pop(below(store.folder, path), None)
        if kept is not None and (read_all is None or kept.extract) and fits(kept.stamp, path):
            found.append(kept)
        else:
            stale.append((len(found), path))
            found.append(None)
    read = read_all or (lambda paths: (summarised(path, store) for path in paths))
    new = []
    for (at, path), kept in zip(stale, read([path for _, path in stale]) if stale else (), strict=True):
        if kept is None:
            continue
        found[at] = kept = kept._replace(path=below(store.folder, path))
        if kept.stamp != NO_STAMP and not kept.summary.words:
            new.append(kept)
    index.put(new, known)
    return [kept for kept in found if kept is not None]


def summarised(path: str, store: Store) -> Kept | None:
    """A record at a glance, with how its file was before that; None where nothing was ever kept in it."""
    stamp = stamp_of(path)
    summary = summarise(path, store.io)
    if summary is None:
        return None
    return Kept(path, stamp or NO_STAMP, summary, left=as_text(left_behind(path, store.io)))


def left_texts(store: Store, index: Index) -> list[tuple[str, str]]:
    """By path, what is left open behind each live run and what it closed; the rows that are missing are made."""
    if not os.path.isdir(store.folder):
        return []
    known, new = index.left(), []
    found: list[tuple[str, str]] = []
    for path in store.paths("live"):
        stamp, text = known.get(below(store.folder, path), (NO_STAMP, ""))
        if stamp == NO_STAMP or not fits(stamp, path):
            kept = summarised(path, store)
            text = kept.left if kept is not None else ""
            if kept is not None and kept.stamp != NO_STAMP and not kept.summary.words:
                new.append(kept._replace(path=below(store.folder, path)))
        found.append((path, text))
    index.put(new, ())
    return found


def summaries(store: Store, index: Index) -> tuple[Summary, ...]:
    """All runs at a glance, live before dry, newest first."""
    return tuple(kept.summary for kept in look(store, index, ""))


def newest(found: Iterable[Summary], limit: int) -> tuple[Summary, ...]:
    """The newest runs by their ids, live and dry ones together."""
    return tuple(sorted(found, key=lambda one: os.path.basename(one.path), reverse=True)[:limit])
