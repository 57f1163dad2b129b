"""One page, one process: what is typed in the page goes to its pipe, what it draws goes to the page.

When the page goes the process is told by the end of its pipe, and has a few seconds to leave; its record is whole at
every moment. When the process ends the page is closed.
"""

import asyncio
import json
import os
from collections.abc import AsyncIterator, Awaitable, Callable, Sequence
from typing import NamedTuple

from runner.cli.terminal import SERVED

PRELUDE = b"__GANGLION__\n"
LEAVING_S = 5.0
"""How long a process may take to leave once its page is gone."""
LARGEST = 1000
"""Columns or rows of a page; more is taken for a mistake."""
LONGEST = 1 << 16
"""Characters that a page may send at once; what goes beyond is cut off."""


class Size(NamedTuple):
    """Of the terminal in the page, in cells."""

    width: int = 80
    height: int = 24


def size_of(width: object, height: object) -> Size | None:
    """A size that a page asked for; None where it is none."""
    try:
        found = Size(int(str(width)), int(str(height)))
    except ValueError:
        return None
    return found if 1 <= found.width <= LARGEST and 1 <= found.height <= LARGEST else None


def packet(message: object) -> bytes:
    """What the process is sent for a message of the page; empty where the message means nothing to it."""
    match message:
        case ["stdin", str() as text]:
            return _packed(b"D", text[:LONGEST].encode("utf-8", "replace"))
        case ["resize", {"width": width, "height": height}]:
            size = size_of(width, height)
            told = {"type": "resize", "width": size.width, "height": size.height} if size is not None else None
            return _packed(b"M", json.dumps(told).encode()) if told else b""
        case ["focus" | "blur" as kind]:
            return _packed(b"M", json.dumps({"type": kind}).encode())
        case _:
            return b""


def _packed(kind: bytes, payload: bytes) -> bytes:
    return kind + len(payload).to_bytes(4, "big") + payload


class Session:
    """A process behind a page."""

    def __init__(self, process: asyncio.subprocess.Process) -> None:
        self.process = process

    @classmethod
    async def begin(cls, command: Sequence[str], size: Size) -> "Session":
        """Start the process, with no shell between. What it says on stderr goes where the server's goes."""
        environment = {
            **os.environ,
            SERVED: "1",
            "TEXTUAL_DRIVER": "runner.screen.served:ServedDriver",
            "TEXTUAL_COLOR_SYSTEM": "truecolor",
            "COLUMNS": str(size.width),
            "ROWS": str(size.height),
            "LINES": str(size.height),
        }
        pipe = asyncio.subprocess.PIPE
        process = await asyncio.create_subprocess_exec(*command, stdin=pipe, stdout=pipe, env=environment)
        return cls(process)

    async def tell(self, message: object) -> None:
        """Pass a message of the page on; one that comes too late is dropped."""
        data, stdin = packet(message), self.process.stdin
        if not data or stdin is None or stdin.is_closing():
            return
        try:
            stdin.write(data)
            await stdin.drain()
        except (BrokenPipeError, ConnectionResetError):
            return

    async def drawn(self) -> AsyncIterator[bytes]:
        """What the process draws, until it ends."""
        out = self.process.stdout
        if out is None:
            return
        try:
            while (line := await out.readline()) != PRELUDE:
                if not line:
                    return
            while True:
                head = await out.readexactly(5)
                payload = await out.readexactly(int.from_bytes(head[1:], "big"))
                if head[:1] == b"D":
                    yield payload
        except (asyncio.IncompleteReadError, ConnectionResetError):
            return

    async def show(self, send: Callable[[bytes], Awaitable[None]]) -> None:
        """Send what is drawn to the page until either has gone."""
        async for data in self.drawn():
            try:
                await send(data)
            except (ConnectionError, RuntimeError):
                return

    async def end(self) -> None:
        """The page has gone: let the process leave, and make sure that it does, so that its run can be opened again."""
        if self.process.stdin is not None:
            self.process.stdin.close()
        for stop in (None, self.process.terminate, self.process.kill):
            if self.process.returncode is None and stop is not None:
                stop()
            try:
                await asyncio.wait_for(self._gone(), LEAVING_S)
            except TimeoutError:
                continue
            return

    async def _gone(self) -> None:
        """Until the process has ended; what it still draws is read away, so that a full pipe does not hold it."""
        out = self.process.stdout
        while out is not None and await out.read(65536):
            pass
        await self.process.wait()
