"""One record as the index has it, and whether that still fits the file.

A row fits a file of the same size and time of writing whose last bytes are the same. The last line of a journal names the
hash of the one before, so its end stands for all of it: a journal that was gone on with, cut or replaced does not fit. A
file changed so that even these agree is found by `changeover verify`, not here.
"""

import os
from typing import NamedTuple

from runner.record.disk import bytes_at, size_and_time
from runner.record.store import BLOCK, Summary

TAIL = 256
"""Bytes at the end of a journal that are compared: the hash of the line before stands among them."""


class Stamp(NamedTuple):
    """How a file was found."""

    size: int
    modified: int
    """ns."""
    end: int
    """Up to here there are bytes that are not zero; room that was not used may follow."""
    tail: bytes
    """The last of them."""


class Kept(NamedTuple):
    """What is known of a record."""

    path: str
    """Below the folder of records, with `/`."""
    stamp: Stamp
    summary: Summary
    extract: str = ""
    """What was worked out from the whole record, as JSON; empty where nobody has, or where it is not whole."""
    more: str = ""
    """What is asked for of few records only, as JSON."""
    shared: str = ""
    """What many records have in common, as JSON; kept once."""
    left: str = ""
    """What is left open behind the run and what it closed, as `runner.record.left_behind` writes it."""


def stamp_of(path: str) -> Stamp | None:
    """How a file is now; None where that cannot be told, so that it is read again each time."""
    try:
        size, modified = size_and_time(path)
        if size < 0:
            return None
        end = size
        while end > 0:
            start = max(0, end - BLOCK)
            piece = bytes_at(path, start, end - start).rstrip(b"\0")
            if piece:
                end = start + len(piece)
                break
            end = start
        return Stamp(size, modified, end, bytes_at(path, max(0, end - TAIL), min(TAIL, end)))
    except OSError:
        return None


def fits(stamp: Stamp, path: str) -> bool:
    """Whether a file is as it was found then."""
    try:
        if size_and_time(path) != (stamp.size, stamp.modified):
            return False
        found = bytes_at(path, stamp.end - len(stamp.tail), len(stamp.tail) + 1)
    except OSError:
        return False
    return found[: len(stamp.tail)] == stamp.tail and not found[len(stamp.tail) :].strip(b"\0")


def below(folder: str, path: str) -> str:
    """The name of a path that the store of a folder gave, below that folder."""
    return path[len(os.path.join(folder, "")) :].replace(os.sep, "/")
