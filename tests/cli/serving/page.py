"""A page of `changeover serve` as a person has it: through the socket alone, or in a headless Chromium.

Both have the face of `tests.screen.terminal.Terminal`: keys go in, a screen can be read.
"""

import asyncio
import base64
import json
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Coroutine
from contextlib import suppress
from typing import Any, TypeVar

import aiohttp  # type: ignore[import-not-found, unused-ignore]  # of the extra `web`
import pyte
from aiohttp import web  # type: ignore[import-not-found, unused-ignore]  # the same

from runner.cli.serving.gate import gate_of
from runner.cli.serving.server import Server
from tests.screen.terminal import ENTER, F2, F3, F4, F5, F6, F7

T = TypeVar("T")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome") or ""
CODES = {ENTER: ("Enter", 13), "\t": ("Tab", 9), "\x1b": ("Escape", 27)} | {
    key: (f"F{number}", 111 + number) for number, key in enumerate((F2, F3, F4, F5, F6, F7), 2)
}
"""Bytes of a terminal's key: the name and the code of it in a browser."""


def free_port() -> int:
    """A port that nobody has at this moment."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


class Loop:
    """An event loop in a thread of its own, called from plain tests."""

    def __init__(self) -> None:
        self.loop = asyncio.new_event_loop()
        self.thread = threading.Thread(target=self.loop.run_forever, daemon=True)
        self.thread.start()
        self.left: list[BrowserPage] = []
        """Browsers that are open, to be ended with the test however it ends."""

    def do(self, what: Coroutine[Any, Any, T], seconds: float = 30.0) -> T:
        """Run it to its end."""
        return asyncio.run_coroutine_threadsafe(what, self.loop).result(seconds)

    def close(self) -> None:
        """End the thread."""
        for page in tuple(self.left):
            page.close()
        self.loop.call_soon_threadsafe(self.loop.stop)
        self.thread.join(5)
        self.loop.close()


class Served:
    """The server in this process, over a command of the test's own."""

    def __init__(self, loop: Loop, *command: str, token: str = "") -> None:
        self.loop, self.port = loop, free_port()
        gate = gate_of("127.0.0.1", self.port, token)
        self.server = Server(command, gate, self.port, "Changeover")
        self.runner = loop.do(self.start())

    async def start(self) -> web.AppRunner:
        """Listen."""
        runner = web.AppRunner(self.server.app(), shutdown_timeout=2)
        await runner.setup()
        await web.TCPSite(runner, "127.0.0.1", self.port).start()
        return runner

    def close(self) -> None:
        """Stop, and with it every page."""
        self.loop.do(self.runner.cleanup())


class Page:
    """What is drawn on a page."""

    def __init__(self, loop: Loop, port: int, size: tuple[int, int] = (80, 24)) -> None:
        self.loop, self.port, self.size = loop, port, size
        self.screen = pyte.Screen(*size)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""
        self.ended = False

    def came(self, data: bytes) -> None:
        """Something was drawn."""
        self.raw += data
        self.stream.feed(data)

    @property
    def text(self) -> str:
        """What is on the screen."""
        return "\n".join(tuple(self.screen.display))

    def read(self, seconds: float) -> None:
        """Let time pass; what comes is taken meanwhile."""
        time.sleep(seconds)

    def until(self, text: str, seconds: float = 20.0) -> str:
        """The screen as soon as a text is on it; fails the test where it does not come."""
        end = time.monotonic() + seconds
        while text not in self.text:
            assert time.monotonic() < end, f"{text!r} did not come:\n{self.text}"
            self.read(0.02)
        return self.text

    def press(self, keys: str, pause: float = 0.4) -> None:
        """Keys as bytes of a terminal, after a pause."""
        self.read(pause)
        self.send(keys)

    def send(self, keys: str) -> None:
        """Keys, at once."""
        raise NotImplementedError

    def close(self) -> None:
        """The tab is closed."""
        raise NotImplementedError


class SocketPage(Page):
    """Through the socket alone."""

    def __init__(self, loop: Loop, port: int, size: tuple[int, int] = (80, 24), cookie: str = "") -> None:
        super().__init__(loop, port, size)
        self.session, self.socket = loop.do(self.connect(cookie))
        self.taking = asyncio.run_coroutine_threadsafe(self.take(), loop.loop)

    async def connect(self, cookie: str) -> tuple[aiohttp.ClientSession, aiohttp.ClientWebSocketResponse]:
        """Open it as a page of this server."""
        session = aiohttp.ClientSession()
        address = f"127.0.0.1:{self.port}"
        width, height = self.size
        headers = {"Origin": f"http://{address}"} | ({"Cookie": cookie} if cookie else {})
        at = f"http://{address}/ws?width={width}&height={height}"
        return session, await session.ws_connect(at, headers=headers)

    async def take(self) -> None:
        """Everything that comes."""
        async for message in self.socket:
            if message.type == aiohttp.WSMsgType.BINARY:
                self.came(message.data)
        self.ended = True

    def send(self, keys: str) -> None:
        """As the terminal in the page sends them."""
        self.loop.do(self.socket.send_json(["stdin", keys]))

    def close(self) -> None:
        """As a browser does."""

        async def closing() -> None:
            await self.socket.close()
            await self.session.close()

        self.loop.do(closing())


class BrowserPage(Page):
    """In a headless Chromium, driven over its debugging protocol: keys go to the browser, frames are read back."""

    def __init__(self, loop: Loop, port: int) -> None:
        super().__init__(loop, port)
        self.folder = tempfile.TemporaryDirectory(prefix="changeover-chromium-", ignore_cleanup_errors=True)
        self.process = subprocess.Popen(
            [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader",
             "--remote-debugging-port=0", f"--user-data-dir={self.folder.name}", "--window-size=860,800", "about:blank"],
            stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True,
        )  # fmt: skip
        loop.left.append(self)
        assert self.process.stderr is not None
        where = next(line for line in self.process.stderr if "DevTools listening on " in line)
        threading.Thread(target=self.process.stderr.read, daemon=True).start()
        self.number = 0
        self.waiting: dict[int, asyncio.Future[dict[str, Any]]] = {}
        self.faults: list[str] = []
        self.asked: list[str] = []
        loop.do(self.open(where.split("DevTools listening on ")[1].strip()))

    async def open(self, address: str) -> None:
        """Go to the page."""
        self.session = aiohttp.ClientSession()
        self.socket = await self.session.ws_connect(address, max_msg_size=0)
        self.target = ""
        self.taking = asyncio.ensure_future(self.take())
        made = await self.call("Target.createTarget", url="about:blank")
        joined = await self.call("Target.attachToTarget", targetId=made["targetId"], flatten=True)
        self.target = joined["sessionId"]
        for domain in ("Network", "Page", "Runtime", "Log"):
            await self.call(f"{domain}.enable")
        await self.call("Page.navigate", url=f"http://127.0.0.1:{self.port}/")

    async def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """One call of the protocol."""
        self.number += 1
        answer = self.waiting[self.number] = asyncio.get_running_loop().create_future()
        message = {"id": self.number, "method": method, "params": parameters}
        await self.socket.send_json(message | ({"sessionId": self.target} if self.target else {}))
        return await asyncio.wait_for(answer, 20)

    async def take(self) -> None:
        """Answers, and what goes over the page's socket."""
        async for message in self.socket:
            said = json.loads(message.data)
            if "id" in said:
                self.waiting.pop(said["id"]).set_result(said.get("result", {}))
                continue
            match said["method"], said["params"]:
                case "Network.webSocketFrameReceived", {"response": {"opcode": 2, "payloadData": data}}:
                    self.came(base64.b64decode(data))
                case "Network.webSocketFrameSent", {"response": {"payloadData": data}} if data.startswith('["resize"'):
                    size = json.loads(data)[1]
                    self.size = (size["width"], size["height"])
                    self.screen.resize(size["height"], size["width"])
                case "Network.webSocketClosed", _:
                    self.ended = True
                case "Network.requestWillBeSent", {"request": {"url": url}}:
                    self.asked.append(url)
                case "Log.entryAdded", {"entry": {"level": "error", "text": text}}:
                    self.faults.append(text)
                case "Runtime.exceptionThrown", {"exceptionDetails": {"text": text}}:
                    self.faults.append(text)

    def send(self, keys: str) -> None:
        """As a keyboard: one key down and up after the other."""
        self.loop.do(self.typed([keys] if keys in CODES else list(keys)))

    async def typed(self, keys: list[str]) -> None:
        """Each key."""
        for key in keys:
            name, code = CODES.get(key, (key, 0))
            text = "\r" if key == ENTER else key if len(key) == 1 and key.isprintable() else ""
            down = {"key": name, "code": name, "windowsVirtualKeyCode": code} | ({"text": text} if text else {})
            await self.call("Input.dispatchKeyEvent", type="keyDown", **down)
            await self.call("Input.dispatchKeyEvent", type="keyUp", key=name, code=name, windowsVirtualKeyCode=code)

    def value(self, script: str) -> Any:
        """What a script in the page gives."""
        return self.loop.do(self.call("Runtime.evaluate", expression=script, returnByValue=True))["result"].get("value")

    def picture(self, path: str) -> None:
        """A picture of the page."""
        shot = self.loop.do(self.call("Page.captureScreenshot"))
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def close(self) -> None:
        """The browser is closed."""
        if self not in self.loop.left:
            return
        self.loop.left.remove(self)

        async def closing() -> None:
            with suppress(aiohttp.ClientError, RuntimeError):
                await self.socket.close()
            await self.session.close()

        self.process.terminate()
        self.process.wait(10)
        self.loop.do(closing())
        self.folder.cleanup()


def command(*arguments: str) -> tuple[str, ...]:
    """A Python module as the process behind a page."""
    return (sys.executable, "-m", *arguments)
