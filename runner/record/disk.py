"""The only module that opens, locks, writes and syncs files of records. It decides nothing.

Each method of `Disk` is one step that can fail, and raises OSError when it does; callers take the whole of `Io` as an
argument, so that tests make the Nth step fail. Links, pipes and devices are refused, never followed. Where a system
lacks a call the nearest one stands in, and the docstring says what is lost.
"""

import errno
import os
import socket
import stat
import sys
from contextlib import suppress
from dataclasses import dataclass
from typing import BinaryIO, Protocol

from runner.record.refused import Refused, words_of
from runner.say.text import say

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

FILE_MODE = 0o640
"""Of every file, whatever the umask: the owner writes, the group reads."""
FOLDER_MODE = 0o750

PLAIN = 0
for flag in ("O_CLOEXEC", "O_NOFOLLOW", "O_NONBLOCK", "O_BINARY", "O_NOINHERIT"):
    PLAIN |= getattr(os, flag, 0)
"""Not for a program started from here, no links, no waiting at a pipe, bytes as they are: as far as a system has it."""

LOCK_SUFFIX = ".lock"
HOLDER_LENGTH = 300


@dataclass(frozen=True, slots=True)
class Lock:
    """Held as long as its file is open; the system lets go of it when the process ends, however it ends."""

    fd: int


class Io(Protocol):
    """What a journal needs of a disk. Every method may raise OSError."""

    def make_folder(self, path: str) -> None: ...
    def create(self, path: str) -> int: ...
    def open_write(self, path: str) -> int: ...
    def open_read(self, path: str) -> BinaryIO: ...
    def make_room(self, fd: int, offset: int, size: int) -> None: ...
    def write(self, fd: int, content: bytes, offset: int) -> int: ...
    def sync(self, fd: int) -> None: ...
    def sync_whole(self, fd: int) -> None: ...
    def sync_folder(self, path: str) -> None: ...
    def truncate(self, fd: int, size: int) -> None: ...
    def rewrite(self, path: str, offset: int, content: bytes) -> None: ...
    def close(self, fd: int) -> None: ...
    def lock(self, path: str) -> Lock | Refused: ...
    def unlock(self, lock: Lock) -> None: ...
    def names(self, folder: str) -> tuple[str, ...]: ...


class Disk:
    """The disk of this machine."""

    def make_folder(self, path: str) -> None:
        """Make a folder with all above it, and sync each one's place in the one above."""
        if os.path.isdir(path):
            return
        above = os.path.dirname(path)
        if above and above != path:
            self.make_folder(above)
        try:
            os.mkdir(path, FOLDER_MODE)
        except FileExistsError as error:
            if not os.path.isdir(path):
                raise NotADirectoryError(errno.ENOTDIR, say("{path} is no folder", path=path)) from error
            return
        os.chmod(path, FOLDER_MODE)
        self.sync_folder(above or ".")

    def create(self, path: str) -> int:
        """A new file for writing; FileExistsError where there is one, or anything else of that name."""
        fd = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | PLAIN, FILE_MODE)
        if sys.platform != "win32":
            os.fchmod(fd, FILE_MODE)
        return fd

    def open_write(self, path: str) -> int:
        """An existing file, for writing. Without O_APPEND, under which Linux writes at the end whatever the offset."""
        refuse_unless_file(path)
        return os.open(path, os.O_WRONLY | PLAIN)

    def open_read(self, path: str) -> BinaryIO:
        """An existing file, for reading."""
        refuse_unless_file(path)
        return open(os.open(path, os.O_RDONLY | PLAIN), "rb", buffering=1 << 16)

    def make_room(self, fd: int, offset: int, size: int) -> None:
        """Give a file space that reads as zeros: a write into it then changes no size, which makes its sync cheaper.

        OSError where the system or the file system has no such call, or no space; some of the room may be there then.
        """
        if not hasattr(os, "posix_fallocate"):
            raise OSError(errno.EOPNOTSUPP, os.strerror(errno.EOPNOTSUPP))
        os.posix_fallocate(fd, offset, size)

    def write(self, fd: int, content: bytes, offset: int) -> int:
        """One write at an offset; how many bytes the system took, which may be fewer."""
        if sys.platform == "win32":
            os.lseek(fd, offset, os.SEEK_SET)
            return os.write(fd, content)
        return os.pwrite(fd, content, offset)

    def sync(self, fd: int) -> None:
        """Returns when the content is on the disk: fdatasync, F_FULLFSYNC on macOS, fsync elsewhere.

        OSError as well where the file has no name any more: what is written to it is kept for nobody.
        """
        if sys.platform != "win32" and os.fstat(fd).st_nlink == 0:
            raise FileNotFoundError(errno.ENOENT, "the file was taken away from its folder")
        if sys.platform == "darwin":
            fcntl.fcntl(fd, fcntl.F_FULLFSYNC)
        elif hasattr(os, "fdatasync"):
            os.fdatasync(fd)
        else:
            os.fsync(fd)

    def sync_whole(self, fd: int) -> None:
        """Returns when content and size are on the disk: fsync, F_FULLFSYNC on macOS."""
        if sys.platform == "darwin":
            fcntl.fcntl(fd, fcntl.F_FULLFSYNC)
        else:
            os.fsync(fd)

    def sync_folder(self, path: str) -> None:
        """Returns when the names in a folder are on the disk. Windows has no such call; there a new name may be lost."""
        if sys.platform != "win32":
            fd = os.open(path or ".", os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
            try:
                os.fsync(fd)
            finally:
                os.close(fd)

    def truncate(self, fd: int, size: int) -> None:
        """Cut a file to a size."""
        os.ftruncate(fd, size)

    def rewrite(self, path: str, offset: int, content: bytes) -> None:
        """Write the same bytes over themselves and sync them. A crash in the middle of it changes nothing."""
        fd = self.open_write(path)
        try:
            if self.write(fd, content, offset) != len(content):
                raise OSError(errno.EIO, say("the disk took only a part of what was written"))
            self.sync(fd)
        finally:
            os.close(fd)

    def close(self, fd: int) -> None:
        """Close without a sync."""
        os.close(fd)

    def lock(self, path: str) -> Lock | Refused:
        """The one writer's lock of a journal, on a file beside it that is never deleted; or who has it.

        flock(2), not fcntl(2): closing any other descriptor of the file would drop the latter.
        """
        name = path + LOCK_SUFFIX
        refuse_unless_file(name, may_lack=True)
        fd = os.open(name, os.O_RDWR | os.O_CREAT | PLAIN, FILE_MODE)
        try:
            take_lock(fd)
        except OSError as error:
            words = holder_words(holder_of(fd))
            os.close(fd)
            if error.errno in BUSY:
                return Refused(words)
            raise
        try:
            if sys.platform != "win32":
                os.fchmod(fd, FILE_MODE)
            os.ftruncate(fd, 0)
            os.write(fd, this_process())
        except OSError as error:  # the text is for a message only; the lock holds without it
            if error.errno not in {errno.ENOSPC, errno.EDQUOT, errno.EPERM}:
                os.close(fd)
                raise
        return Lock(fd)

    def unlock(self, lock: Lock) -> None:
        """Let go."""
        os.close(lock.fd)

    def names(self, folder: str) -> tuple[str, ...]:
        """The names in a folder, sorted; none where there is no such folder."""
        try:
            return tuple(sorted(os.listdir(folder)))
        except (FileNotFoundError, NotADirectoryError):
            return ()


DISK = Disk()
"""It holds nothing, so one is enough."""

BUSY = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK}


def take_lock(fd: int) -> None:
    """Lock or raise OSError at once. On Windows the first byte of the file is locked, which nobody else can read then."""
    if sys.platform == "win32":
        os.lseek(fd, 0, os.SEEK_SET)
        msvcrt.locking(fd, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)


def refuse_unless_file(path: str, may_lack: bool = False) -> None:
    """OSError unless it is an ordinary file. O_NOFOLLOW and O_NONBLOCK cover the moment between this and the opening."""
    try:
        mode = os.lstat(path).st_mode
    except FileNotFoundError:
        if may_lack:
            return
        raise
    if stat.S_ISLNK(mode):
        raise OSError(errno.ELOOP, say("it is a link, and records are not followed through links"))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, say("it is no ordinary file"))


def read_small(path: str) -> str:
    """The first line of something the system tells in a file, in ASCII; empty where it does not tell."""
    try:
        with open(path, encoding="ascii") as file:
            return file.readline(64).strip()
    except (OSError, UnicodeDecodeError):
        return ""


def write_private(path: str, text: str) -> None:
    """A small new file that only its owner reads; one that stands there from before goes first. Raises OSError."""
    refuse_unless_file(path, may_lack=True)
    with suppress(FileNotFoundError):
        os.unlink(path)
    fd = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | PLAIN, 0o600)
    try:
        os.write(fd, text.encode("ascii"))
    finally:
        os.close(fd)


def read_private(path: str) -> str:
    """What `write_private` wrote. OSError where there is no such file, or where others could have written it."""
    refuse_unless_file(path)
    fd = os.open(path, os.O_RDONLY | PLAIN)
    try:
        found = os.fstat(fd)
        if sys.platform != "win32" and (found.st_uid != os.getuid() or found.st_mode & 0o077):
            raise OSError(errno.EPERM, say("it is not kept from others"))
        return os.read(fd, HOLDER_LENGTH).decode("ascii", errors="replace")
    finally:
        os.close(fd)


def this_process() -> bytes:
    """Who holds a lock: for the message to others, and nothing else."""
    tty = ""
    if sys.platform != "win32":
        for fd in (0, 1, 2):
            with suppress(OSError):
                tty = tty or os.ttyname(fd)
    return f"process {os.getpid()} on {socket.gethostname()}, {tty or 'no terminal'}\n".encode(errors="replace")


def holder_of(fd: int) -> bytes:
    """What the holder wrote into the lock file; nothing where that cannot be read (a locked byte on Windows)."""
    try:
        return os.read(fd, HOLDER_LENGTH)
    except OSError:
        return b""


def holder_words(holder: bytes) -> str:
    """Who has the run open; the text comes from a file, so only printable ASCII of it is shown."""
    text = "".join(c for c in holder.decode("ascii", errors="ignore").strip() if c.isprintable())
    who = text or say("another program")
    return say("This run is open already, by {who}. Close it there first; two terminals never write one run.", who=who)


def trouble_words(what: str, path: str, error: OSError) -> str:
    """What could not be done to which file, and why."""
    return f"{what} {path}: {words_of(error)}."


def size_and_time(path: str) -> tuple[int, int]:
    """Bytes, and the moment in ns at which an ordinary file was written last; (-1, -1) for anything else. Raises OSError."""
    known = os.lstat(path)
    return (known.st_size, known.st_mtime_ns) if stat.S_ISREG(known.st_mode) else (-1, -1)


def bytes_at(path: str, offset: int, size: int) -> bytes:
    """At most so many bytes of an ordinary file, from an offset. Raises OSError."""
    fd = os.open(path, os.O_RDONLY | PLAIN)
    try:
        if hasattr(os, "pread"):
            return os.pread(fd, size, offset)
        os.lseek(fd, offset, os.SEEK_SET)
        return os.read(fd, size)
    finally:
        os.close(fd)


def remove_derived(path: str) -> None:
    """Take away a file that can be made again from records. A link is taken away itself. Raises OSError."""
    os.unlink(path)
