"""Many records read whole, over the cores of the machine: starting processes pays from a hundred records on.

A process that dies takes no record with it: what it had is read again here, one after the other.
"""

import gc
from collections.abc import Iterable, Iterator, Sequence

from runner.cli.linting.several import cores, pool
from runner.record.index.kept import Kept
from runner.report.times.read import Reader

ENOUGH = 100
TOGETHER = 50
"""Records that a process is given at a time."""

READER = Reader()
"""Of this process: plans that were made once serve all records."""


def read_records(paths: Sequence[str]) -> Iterable[Kept | None]:
    """What is to be known of each, in their order."""
    jobs = cores()
    if jobs > 1 and len(paths) >= ENOUGH:
        try:
            return list(shared(paths, jobs))
        except (ImportError, OSError, NotImplementedError):  # a system without what processes need to talk
            pass
    return read_part(paths)


def shared(paths: Sequence[str], jobs: int) -> Iterator[Kept | None]:
    """The same, by several processes."""
    from concurrent.futures.process import BrokenProcessPool

    parts = [paths[start : start + TOGETHER] for start in range(0, len(paths), TOGETHER)]
    with pool(min(jobs, len(parts))) as workers:
        waiting = [workers.submit(read_apart, part) for part in parts]
        for part, future in zip(parts, waiting, strict=True):
            try:
                yield from future.result()
            except BrokenProcessPool:
                yield from read_part(part)


def read_apart(paths: Sequence[str]) -> list[Kept | None]:
    """The same in a process made for it: looking for circles, of which records make none, is left out."""
    gc.freeze()
    gc.disable()
    return read_part(paths)


def read_part(paths: Sequence[str]) -> list[Kept | None]:
    """One after the other."""
    return [READER.read(path) for path in paths]
