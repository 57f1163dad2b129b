"""Disks for tests: one in memory that forgets what was not synced, and one that fails or dies at the Nth step."""

import errno
import os
import signal
from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any, BinaryIO

from runner.record.disk import Disk, Io, Lock
from runner.record.refused import Refused


@dataclass
class Kept:
    """A file in memory: what the system shows, and what would be there after a power cut."""

    shown: bytearray
    synced: bytes = b""
    dirty: list[tuple[int, int]] = field(default_factory=list)
    """What the system still has to write: (from, to). A failed sync forgets it, as Linux does."""
    named: bool = False
    """True once its name in the folder was synced."""


@dataclass
class MemoryDisk:
    """Enough of a disk for a journal."""

    files: dict[str, Kept] = field(default_factory=dict)
    opened: list[str] = field(default_factory=list)
    locks: set[str] = field(default_factory=set)

    def put(self, path: str, content: bytes) -> None:
        """A file that was there before."""
        self.files[path] = Kept(bytearray(content), content, named=True)

    def make_folder(self, path: str) -> None:
        """Folders are just names here."""

    def create(self, path: str) -> int:
        if path in self.files:
            raise FileExistsError(errno.EEXIST, "File exists")
        self.files[path] = Kept(bytearray())
        return self.open_write(path)

    def open_write(self, path: str) -> int:
        if path not in self.files:
            raise FileNotFoundError(errno.ENOENT, "No such file or directory")
        self.opened.append(path)
        return len(self.opened) - 1

    def open_read(self, path: str) -> BinaryIO:
        if path not in self.files:
            raise FileNotFoundError(errno.ENOENT, "No such file or directory")
        return BytesIO(bytes(self.files[path].shown))

    def make_room(self, fd: int, offset: int, size: int) -> None:
        kept = self.files[self.opened[fd]]
        kept.shown += bytes(max(0, offset + size - len(kept.shown)))

    def write(self, fd: int, content: bytes, offset: int) -> int:
        kept, end = self.files[self.opened[fd]], offset + len(content)
        kept.shown += bytes(max(0, end - len(kept.shown)))
        kept.shown[offset:end] = content
        kept.dirty.append((offset, end))
        return len(content)

    def sync(self, fd: int) -> None:
        self.flush(self.files[self.opened[fd]])

    def sync_whole(self, fd: int) -> None:
        self.sync(fd)

    def flush(self, kept: Kept) -> None:
        """Only what is dirty reaches the disk; where nothing was ever written there, it has zeros."""
        there = bytearray(kept.synced[: len(kept.shown)].ljust(len(kept.shown), b"\0"))
        for start, end in kept.dirty:
            there[start:end] = kept.shown[start:end]
        kept.synced = bytes(there[: len(kept.shown)])
        kept.dirty.clear()

    def drop(self, fd: int) -> None:
        """A sync that fails: what was dirty is lost, and reads as if it were there until the power goes."""
        self.files[self.opened[fd]].dirty.clear()

    def sync_folder(self, path: str) -> None:  # noqa: ARG002 # one folder is enough here
        for kept in self.files.values():
            kept.named = True

    def truncate(self, fd: int, size: int) -> None:
        del self.files[self.opened[fd]].shown[size:]

    def rewrite(self, path: str, offset: int, content: bytes) -> None:
        kept = self.files[path]
        kept.shown[offset : offset + len(content)] = content
        kept.dirty.append((offset, offset + len(content)))
        self.flush(kept)

    def close(self, fd: int) -> None:
        """Nothing to close."""

    def lock(self, path: str) -> Lock | Refused:
        if path in self.locks:
            return Refused("This run is open already")
        self.locks.add(path)
        self.opened.append(path)
        return Lock(len(self.opened) - 1)

    def unlock(self, lock: Lock) -> None:
        self.locks.discard(self.opened[lock.fd])

    def names(self, folder: str) -> tuple[str, ...]:
        return tuple(sorted(os.path.basename(path) for path in self.files if os.path.dirname(path) == folder))


STEPS = (
    "make_folder", "create", "open_write", "make_room", "write", "sync", "sync_whole", "sync_folder", "truncate",
    "rewrite", "lock",
)  # fmt: skip
"""What changes something, and can fail."""

Fault = Callable[[Callable[..., Any], tuple[Any, ...]], Any]
"""What happens instead of a step: it gets the step and its arguments."""


class FaultyDisk:
    """Another disk, of which the Nth step goes wrong. The steps that were asked for are written down."""

    def __init__(self, disk: Io, at: int, fault: Fault, steps: tuple[str, ...] = STEPS) -> None:
        self.disk, self.at, self.fault, self.steps = disk, at, fault, steps
        self.log: list[str] = []
        self.counted = 0

    def __getattr__(self, name: str) -> Any:
        real = getattr(self.disk, name)
        if name not in STEPS:
            return real

        def step(*arguments: Any) -> Any:
            self.log.append(name)
            if name in self.steps:
                self.counted += 1
                if self.counted == self.at:
                    return self.fault(real, arguments)
            return real(*arguments)

        return step


def failing(code: int) -> Fault:
    """The step is not done, and says why."""

    def fault(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
        raise OSError(code, os.strerror(code))

    return fault


def dropping(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """A sync of a `MemoryDisk` that fails, and of which the system forgets that it failed."""
    real.__self__.drop(*arguments)  # type: ignore[attr-defined] # a bound method
    raise OSError(errno.EIO, os.strerror(errno.EIO))


def short(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """A write of which the disk takes a third."""
    fd, content, offset = arguments
    return real(fd, content[: len(content) // 3], offset)


def dying(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """The process is killed in the middle of the step: a write is half done, anything else not at all."""
    if len(arguments) == 3 and isinstance(arguments[1], bytes):
        real(arguments[0], arguments[1][: len(arguments[1]) // 2], arguments[2])
    os.kill(os.getpid(), signal.SIGKILL)


def dying_after(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """The process is killed when the step is done, before anybody is told."""
    real(*arguments)
    os.kill(os.getpid(), signal.SIGKILL)


class LazyDisk(Disk):
    """The disk of this machine without waiting for it: for tests of what is written, not of what survives."""

    def sync(self, fd: int) -> None:
        """Not waited for."""

    def sync_whole(self, fd: int) -> None:
        """Not waited for."""

    def sync_folder(self, path: str) -> None:
        """Not waited for."""
