"""What follows the last whole action of a journal: may it be set aside, or was something changed? Pure.

A crash leaves a beginning of what was being written, or parts of it with zeros between where sectors of the disk were
not written, or leavings of the disk; of none of that anybody was told that it was kept. A line that was kept and does
not fit its hash any more is another matter: it is never cut. In doubt it counts as changed, which costs a person's
look and no line.
"""

import re

from runner.record.line import HASH_LENGTH, LONGEST, Entry, decode

HEAD = re.compile(rb"([1-9][0-9]{0,8}) [0-9a-f]{64} \{")
"""How every line of ours begins."""

CUT_HEAD = re.compile(rb"[1-9][0-9]{0,8}(?: [0-9a-f]{0,%d}| [0-9a-f]{%d} )?" % (HASH_LENGTH, HASH_LENGTH))
"""A beginning of that, cut before the JSON."""

SECTOR = 512
"""Bytes; a disk writes so many or none, or a multiple."""

ZEROS = re.compile(rb"\0+")
"""No line of ours has such a byte."""

INNER_MARKS = (b'"event":"', b'"prev":"', b'"left":')
"""Words inside a line. One changed byte cannot take away all of them and the head."""


def was_ours(piece: bytes) -> bool:
    """Whether a piece that ends with a newline may have been a line of ours, whatever happened to it."""
    return HEAD.match(piece) is not None or any(mark in piece for mark in INNER_MARKS)


def was_cut(piece: bytes) -> bool:
    """Whether a piece without a newline is the beginning of a line: shorter than its head says, or just as long."""
    head = HEAD.match(piece)
    if head is None:
        return CUT_HEAD.fullmatch(piece) is not None
    return len(piece) <= len(head[1]) + HASH_LENGTH + 2 + int(head[1])


def lacks_sectors(written: bytes, offset: int) -> bool:
    """Whether all zeros in a piece of a file are such as a write leaves of which sectors are missing.

    Each run of them begins where a sector or the piece does and ends where a sector does. One changed byte is none.
    """
    runs = [found.span() for found in ZEROS.finditer(written)]
    return not any((start and (offset + start) % SECTOR) or (offset + end) % SECTOR for start, end in runs)


def of_lost_action(line: bytes, number: int) -> bool:
    """Whether a whole line belongs to the action that begins after line `number`: of what was written with it sectors are
    missing, so nobody was told that it was kept."""
    entry = decode(line + b"\n")
    return isinstance(entry, Entry) and entry.first == number + 1


def may_be_set_aside(tail: bytes, offset: int, loose: int, number: int) -> bool:
    """True for what a crash leaves; False where a line that was kept may be in it.

    `tail` begins at `offset` in the file, where the last whole action ends, and goes to the end of the file; its first
    `loose` bytes are whole lines of an action of which the rest is not there. `number` is that of the last kept line.
    """
    written = tail.rstrip(b"\0")
    lacking = b"\0" in written and lacks_sectors(written, offset)
    *lines, rest = written[loose:].split(b"\n")
    if any(was_ours(line) and not (lacking and (b"\0" in line or of_lost_action(line, number))) for line in lines):
        return False
    return was_cut(rest) or not was_ours(rest) or (lacking and b"\0" in rest)


TOO_LONG = LONGEST
"""Bytes; a longer tail is not looked at, and counts as changed."""
