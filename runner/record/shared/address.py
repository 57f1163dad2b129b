"""Where two terminals on one run meet: a socket beside the journal, which only its owner may connect to.

Where that path is too long for a socket it lies in the user's runtime folder; where the system has no such sockets, or
no place takes one, it is a port of this machine alone, and a file that only the owner reads holds its number and a token.
Who keeps the record has its lock, so a socket that stands in the way is a dead one's.
"""

import os
import socket
import stat
import struct
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from typing import NamedTuple

from runner.record.disk import read_private, write_private
from runner.record.refused import Refused, words_of
from runner.say.text import mark, say

SOCKET_SUFFIX = ".socket"
PORT_SUFFIX = ".port"
LONGEST_PATH = 100
"""Bytes; a socket's path has 104 on some systems and 108 on Linux (unix(7)), its closing zero among them."""
BACKLOG = 64
CONNECT_S = 2.0
NOBODY = mark("Nobody has this run open at another terminal of this machine and user.")


class Place(NamedTuple):
    """Where the keeper listens."""

    socket: socket.socket
    path: str
    """Of the socket, or of the file with port and token; gone once the place is left."""
    token: str = ""


def socket_paths(journal: str) -> Iterator[str]:
    """Where the socket of a journal may lie, in the order of trying."""
    if not hasattr(socket, "AF_UNIX"):
        return
    journal = os.path.realpath(journal)
    name = sha256(os.fsencode(journal)).hexdigest()[:24] + SOCKET_SUFFIX
    beside = journal + SOCKET_SUFFIX
    if len(os.fsencode(beside)) <= LONGEST_PATH:
        yield beside
    elsewhere = os.path.join(runtime_folder(), name)
    if len(os.fsencode(elsewhere)) <= LONGEST_PATH:
        yield elsewhere


def runtime_folder() -> str:
    """The folder of this user for things that live as long as a process."""
    given = os.environ.get("XDG_RUNTIME_DIR", "")
    if given:
        return os.path.join(given, "changeover")
    import tempfile  # slow to load, and seldom needed

    return os.path.join(tempfile.gettempdir(), f"changeover-{os.getuid() if hasattr(os, 'getuid') else 'user'}")


def listen(journal: str) -> Place | Refused:
    """A place to be met at. Only for who has the lock of the journal."""
    why = ""
    for path in socket_paths(journal):
        try:
            return Place(listen_at(path, private=path != os.path.realpath(journal) + SOCKET_SUFFIX), path)
        except OSError as error:
            why = words_of(error)
    path = os.path.realpath(journal) + PORT_SUFFIX
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.bind(("127.0.0.1", 0))
        listening.listen(BACKLOG)
        token = os.urandom(32).hex()
        write_private(path, f"{listening.getsockname()[1]} {token}\n")
    except OSError as error:
        listening.close()
        return Refused(say("No other terminal can join this run: {why}.", why=why or words_of(error)))
    return Place(listening, path, token)


def listen_at(path: str, private: bool) -> socket.socket:
    """A socket at a path, for its owner alone. `private` asks for a folder that is the owner's alone as well."""
    if private:
        make_private(os.path.dirname(path))
    with suppress(FileNotFoundError):
        if not stat.S_ISSOCK(os.lstat(path).st_mode):
            raise FileExistsError(17, "something else stands where the socket belongs")
        os.unlink(path)
    listening = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    try:
        listening.bind(path)
        os.chmod(path, 0o600)  # nobody could connect before: it does not listen yet
        listening.listen(BACKLOG)
    except OSError:
        listening.close()
        raise
    return listening


def make_private(folder: str) -> None:
    """Make a folder of this user's alone; OSError where it is somebody else's."""
    os.makedirs(os.path.dirname(folder), exist_ok=True)
    with suppress(FileExistsError):
        os.mkdir(folder, 0o700)
    found = os.lstat(folder)
    if not stat.S_ISDIR(found.st_mode) or found.st_uid != os.getuid() or found.st_mode & 0o077:
        raise PermissionError(13, f"{folder} is not this user's alone")


def leave(place: Place) -> None:
    """Be met no more."""
    place.socket.close()
    with suppress(OSError):
        os.unlink(place.path)


class Line(NamedTuple):
    """A connection to the keeper."""

    socket: socket.socket
    token: str = ""


def call(journal: str) -> Line | Refused:
    """A connection to who keeps the record of a journal."""
    for path in socket_paths(journal):
        with suppress(OSError):
            found = os.lstat(path)
            if not stat.S_ISSOCK(found.st_mode) or found.st_uid != os.getuid():
                continue
            calling = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
            calling.settimeout(CONNECT_S)
            try:
                calling.connect(path)
                if is_ours(calling):
                    return Line(calling)
            except OSError:
                calling.close()
                continue
            calling.close()
    return call_port(os.path.realpath(journal) + PORT_SUFFIX)


def is_kept(journal: str) -> bool:
    """Whether a terminal has the run open and can be joined."""
    line = call(journal)
    if isinstance(line, Refused):
        return False
    line.socket.close()
    return True


def call_port(path: str) -> Line | Refused:
    """The same by port and token."""
    try:
        port, _, token = read_private(path).strip().partition(" ")
        calling = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    except OSError:
        return Refused(say(NOBODY))
    try:
        calling.settimeout(CONNECT_S)
        calling.connect(("127.0.0.1", int(port) if port.isdecimal() and len(port) < 6 else -1))
    except (OSError, OverflowError):
        calling.close()
        return Refused(say(NOBODY))
    return Line(calling, token)


def is_ours(connection: socket.socket) -> bool:
    """Whether the same user is at the other end; True where the system does not say, where the file modes must do."""
    if sys.platform != "linux" or connection.family != socket.AF_UNIX:
        return True
    size = struct.calcsize("3i")
    _, user, _ = struct.unpack("3i", connection.getsockopt(socket.SOL_SOCKET, socket.SO_PEERCRED, size))
    return bool(user == os.getuid())
