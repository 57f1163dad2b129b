"""Many files at once, over the cores of the machine.

Starting processes costs more than a few files, so few files are looked at one after the other. A process that dies takes only its
file with it: the files that it had are looked at again, each alone, and the one that kills its process has that as its finding.
"""

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from runner.cli.linting.kept import Kept
from runner.cli.linting.look import Looked, Unknown, look
from runner.lint.kinds import broken_off

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

ENOUGH = 24
"""Files from which on a second process pays: starting them costs about what a few files of 60 steps do."""
TOGETHER = 8
"""Files that a process is given at a time: enough to make handing over cheap, few enough to share the work evenly."""


def cores() -> int:
    """How many processes the system lets run at once."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def look_at_all(unknown: Sequence[Unknown], kept: Kept | None, jobs: int) -> list[Looked]:
    """What was found in each, in their order."""
    if jobs > 1 and len(unknown) >= ENOUGH:
        try:
            return _shared(unknown, kept, jobs)
        except (ImportError, OSError, NotImplementedError):  # a system without what processes need to talk
            pass
    return [look(one, kept) for one in unknown]


def _shared(unknown: Sequence[Unknown], kept: Kept | None, jobs: int) -> list[Looked]:
    from concurrent.futures.process import BrokenProcessPool

    from runner.lint.rule import all_rules

    with suppress(Exception):  # a fault in there is told of each file
        all_rules()  # loaded once, before processes are made of this one
    parts = [unknown[start : start + TOGETHER] for start in range(0, len(unknown), TOGETHER)]
    found: list[Looked] = []
    with pool(min(jobs, len(parts))) as workers:
        waiting = [workers.submit(_look_at_part, part, kept) for part in parts]
        for part, future in zip(parts, waiting, strict=True):
            try:
                looked, note = future.result()
                found += looked
                if kept and note:
                    kept.note = note
            except BrokenProcessPool:
                found += [_alone(one, kept) for one in part]
    return found


def _look_at_part(part: Sequence[Unknown], kept: Kept | None) -> tuple[list[Looked], str]:
    """In another process: what was found, and what the folder of entries had to complain of."""
    return [look(one, kept) for one in part], kept.note if kept else ""


def _alone(one: Unknown, kept: Kept | None) -> Looked:
    """A file in a process of its own."""
    from concurrent.futures.process import BrokenProcessPool

    try:
        with pool(1) as worker:
            looked: Looked = worker.submit(look, one, kept).result()
            return looked
    except BrokenProcessPool:
        return Looked((broken_off(one.name, "it ended the process that looked"),), {one.name: one.text})


def pool(size: int) -> "ProcessPoolExecutor":
    """Processes made of this one where the system does that well, else begun anew."""
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    context = get_context("fork") if sys.platform == "linux" else None
    return ProcessPoolExecutor(size, mp_context=context, initializer=_deaf)


def _deaf() -> None:
    """Ctrl-C reaches every process of a terminal; the one that began the others answers it."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
