"""The turns of all that have joined, in one thread that waits for none of them.

A bad line, too long a silence before the Hello or too slow a reader ends that connection only. Loaded when the thread
starts: a terminal that nobody joins has its first page on the screen before.
"""

import selectors
import socket
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from runner.record.clock import steady
from runner.record.shared.address import Place, is_ours, leave
from runner.record.shared.guests import Guests, Led, Standing
from runner.record.shared.messages import (
    JOINED,
    Bad,
    Broken,
    Closed,
    FromKeeper,
    Grown,
    Lines,
    TooLongError,
    decode,
    encode,
)

if TYPE_CHECKING:
    from runner.record.shared.keeper import Keeper

HELLO_S = 3.0
"""So long a connection may be silent before its Hello."""
TICK_S = 1.0
UNSENT = 1 << 20
"""Bytes that may wait for a slow reader."""
PART = 1 << 16
MOST_STRANGERS = 16
"""Connections at a time, with those that have not said Hello."""


@dataclass(slots=True)
class Connection:
    """One that was made."""

    socket: socket.socket
    since: float
    lines: Lines = field(default_factory=Lines)
    unsent: bytes = b""


class Turns:
    """Connections of a keeper, by their file number."""

    def __init__(self, keeper: "Keeper", place: Place, woken: socket.socket) -> None:
        self.keeper, self.place, self.woken = keeper, place, woken
        self.connections: dict[int, Connection] = {}
        self.guests = Guests(keeper.name, place.token, keeper.do)
        self.told_broken = False
        self.selector = selectors.DefaultSelector()
        self.selector.register(place.socket, selectors.EVENT_READ)
        self.selector.register(woken, selectors.EVENT_READ)

    def serve(self) -> None:
        """Until the keeper closes."""
        keeper = self.keeper
        told = keeper.newest
        while not keeper.closing:
            for key, _ in self.selector.select(TICK_S):
                if key.fileobj is self.woken:
                    with suppress(OSError):
                        self.woken.recv(PART)
                elif key.fileobj is self.place.socket:
                    self.accept(self.place.socket)
                else:
                    self.turn(key.fd)
                told = self.grown(told)
            told = self.grown(told)
            self.break_off()
            self.drop_silent()
        for fd in tuple(self.guests.here):
            self.send(fd, Closed())
        for fd in tuple(self.connections):
            self.end(fd)
        self.selector.close()
        leave(self.place)

    def grown(self, told: tuple[int, bool]) -> tuple[int, bool]:
        """Tell all of the newest line, where they do not know it."""
        newest = self.keeper.newest
        if newest != told:
            for fd in tuple(self.guests.here):
                self.send(fd, Grown(*newest))
        return newest

    def break_off(self) -> None:
        """Tell all that nothing more is taken."""
        if self.keeper.poisoned and not self.told_broken:
            self.told_broken = True
            for fd in tuple(self.guests.here):
                self.send(fd, Broken(self.keeper.poisoned))
            self.keeper.tell("")

    def accept(self, listening: socket.socket) -> None:
        """Let in, of this user only."""
        try:
            connection, _ = listening.accept()
        except OSError:
            return
        if len(self.connections) >= MOST_STRANGERS or not is_ours(connection):
            connection.close()
            return
        connection.setblocking(False)
        self.connections[connection.fileno()] = Connection(connection, steady())
        self.selector.register(connection, selectors.EVENT_READ)

    def turn(self, fd: int) -> None:
        """Read what has come and write what waits."""
        connection = self.connections.get(fd)
        if connection is None:
            return
        self.flush(fd, connection)
        try:
            content = connection.socket.recv(PART)
        except BlockingIOError:
            return
        except OSError:
            content = b""
        lines = connection.lines.take(content) if content else Bad("has ended")
        if isinstance(lines, Bad):
            self.end(fd)
            return
        for line in lines:
            message = decode(line, JOINED)
            if isinstance(message, Bad) or fd not in self.connections:
                self.end(fd)
                return
            standing = Standing(self.keeper.state.run, *self.keeper.newest)
            self.follow(fd, self.guests.came(fd, message, standing))

    def follow(self, fd: int, led: Led) -> None:
        """Do what a message led to."""
        for other in led.drop:
            self.end(other)
        if self.keeper.kept[1]:
            for guest in tuple(self.guests.here):
                self.send(guest, Grown(*self.keeper.newest))  # before the answer, which counts on it
            self.keeper.kept = (0, 0)
        for reply in led.replies:
            self.send(fd, reply)
        self.spread(fd, led)
        if led.end:
            self.end(fd)

    def spread(self, fd: int, led: Led) -> None:
        """What all others and the terminal here are told."""
        for other in tuple(self.guests.here):
            if other != fd:
                for message in led.others:
                    self.send(other, message)
        if led.notice:
            self.keeper.tell(led.notice)

    def send(self, fd: int, message: FromKeeper) -> None:
        """Send now or as soon as the other reads; drop who reads too slowly."""
        connection = self.connections.get(fd)
        if connection is None:
            return
        try:
            connection.unsent += encode(message)
        except TooLongError:
            self.end(fd)
            return
        self.flush(fd, connection)
        if len(connection.unsent) > UNSENT:
            self.end(fd)

    def flush(self, fd: int, connection: Connection) -> None:
        """Write what the system takes."""
        try:
            while connection.unsent:
                connection.unsent = connection.unsent[connection.socket.send(connection.unsent) :]
        except BlockingIOError:
            pass
        except OSError:
            connection.unsent = b""  # its end is read next
        wanted = selectors.EVENT_READ | (selectors.EVENT_WRITE if connection.unsent else 0)
        if fd in self.connections:
            with suppress(KeyError, ValueError):
                self.selector.modify(connection.socket, wanted)

    def end(self, fd: int) -> None:
        """Close one connection; nobody else notices but by word."""
        connection = self.connections.pop(fd, None)
        if connection is None:
            return
        with suppress(KeyError, ValueError):
            self.selector.unregister(connection.socket)
        connection.socket.close()
        if not self.keeper.closing:
            self.spread(fd, self.guests.gone(fd))

    def drop_silent(self) -> None:
        """End connections that have said no Hello."""
        for fd, connection in tuple(self.connections.items()):
            if fd not in self.guests.here and steady() - connection.since > HELLO_S:
                self.end(fd)
