"""The server: the page, its files, and a socket for each page that is open. The gate is asked before each of them.

It needs the extra `web`: textual-serve for the terminal in the page, and aiohttp, which comes with it.
"""

import asyncio
import logging
import os
import socket
import sys
from collections.abc import Awaitable, Callable, Sequence

import textual_serve  # type: ignore[import-not-found, unused-ignore]  # of the extra `web`
from aiohttp import WSMessage, WSMsgType, web  # type: ignore[import-not-found, unused-ignore]  # the same

from runner.cli.serving.gate import Asked, Gate, headers, kept_out, same
from runner.cli.serving.page import SCRIPT, STYLE, page
from runner.cli.serving.session import Session, Size, size_of

MOST = 8
"""Pages at once: a process each."""
HEARTBEAT_S = 10.0
"""A page that has not answered for so long is gone, and its run may be opened elsewhere."""

Answer = Callable[[web.Request], Awaitable[web.StreamResponse]]

STATIC = os.path.join(os.path.dirname(textual_serve.__file__), "static")


class Plain(logging.Handler):
    """Faults of the server in a line each."""

    def emit(self, record: logging.LogRecord) -> None:
        """Say it, without what a request holds."""
        if record.levelno >= logging.ERROR:
            fault = record.exc_info[1] if record.exc_info else None
            what = type(fault).__name__ if fault is not None else record.name
            print(
                f"changeover: a page was not served ({what}). Set CHANGEOVER_DEBUG=1 for the details.", file=sys.stderr
            )


class Server:
    """What is served, and to whom."""

    def __init__(self, command: Sequence[str], gate: Gate, port: int, title: str) -> None:
        self.command = tuple(command)
        self.gate = gate
        self.cookie = f"changeover_{port}"
        self.title = title
        self.open: set[web.WebSocketResponse] = set()

    def app(self) -> web.Application:
        """The routes, behind the gate."""

        async def gate(request: web.Request, handler: Answer) -> web.StreamResponse:  # called by these names
            return await self.guarded(request, handler)

        app = web.Application(middlewares=[web.middleware(gate)], client_max_size=1 << 16)
        app.add_routes(
            [
                web.get("/", self.index),
                web.get("/page.css", self.style),
                web.get("/page.js", self.script),
                web.get("/ws", self.socket),
                web.static("/static", STATIC),
            ]
        )
        app.on_response_prepare.append(self.head)
        app.on_shutdown.append(self.shut)
        return app

    async def guarded(self, request: web.Request, answer: Answer) -> web.StreamResponse:
        """The gate; a right token in the address goes into a cookie and out of the address."""
        given = request.query.get("token", "")
        socket = request.path == "/ws"
        cookie = request.cookies.get(self.cookie, "")
        asked = Asked(request.host, request.headers.get("Origin", ""), cookie)
        if self.gate.token and request.path == "/" and given and same(given, self.gate.token):
            status, why = kept_out(self.gate, asked._replace(token=given))
            if not status:
                moved = web.HTTPSeeOther("/")
                moved.set_cookie(self.cookie, given, httponly=True, samesite="Lax", path="/", secure=request.secure)
                raise moved
        else:
            status, why = kept_out(self.gate, asked, socket)
        if status:
            return web.Response(status=status, text=why + "\n")
        return await answer(request)

    async def head(self, request: web.Request, response: web.StreamResponse) -> None:
        """Headers of every answer, a refusal too."""
        known = kept_out(self.gate._replace(token=""), Asked(request.host))[0] == 0
        plain = all(sign.isalnum() or sign in ".-:[]" for sign in request.host)
        response.headers.update(headers(request.host if known and plain else ""))
        response.headers["Server"] = "changeover"

    async def index(self, request: web.Request) -> web.Response:
        """The page."""
        scheme = "wss" if request.secure else "ws"
        return web.Response(text=page(self.title, f"{scheme}://{request.host}/ws"), content_type="text/html")

    async def style(self, _request: web.Request) -> web.Response:
        """How the page looks."""
        return web.Response(text=STYLE, content_type="text/css")

    async def script(self, _request: web.Request) -> web.Response:
        """The row of keys."""
        return web.Response(text=SCRIPT, content_type="text/javascript")

    async def socket(self, request: web.Request) -> web.StreamResponse:
        """A page that is open, until it or its process goes."""
        if len(self.open) >= MOST:
            return web.Response(status=503, text=f"{MOST} pages are open already. Close one.\n")
        socket = web.WebSocketResponse(heartbeat=HEARTBEAT_S, max_msg_size=1 << 20)
        await socket.prepare(request)
        self.open.add(socket)
        size = size_of(request.query.get("width", 80), request.query.get("height", 24)) or Size()
        session = await Session.begin(self.command, size)
        showing = asyncio.create_task(self.shown(session, socket))
        try:
            async for message in socket:
                if message.type == WSMsgType.TEXT:
                    await self.told(session, socket, message)
        finally:
            self.open.discard(socket)
            showing.cancel()
            await asyncio.gather(showing, return_exceptions=True)
            await asyncio.shield(session.end())
        return socket

    async def shown(self, session: Session, socket: web.WebSocketResponse) -> None:
        """Everything that is drawn; then the page is closed."""
        await session.show(socket.send_bytes)
        await socket.close()

    async def told(self, session: Session, socket: web.WebSocketResponse, message: WSMessage) -> None:
        """A message of the page; what is none is dropped."""
        try:
            said = message.json()
        except ValueError:
            return
        match said:
            case ["ping", str() as when]:
                await socket.send_json(["pong", when[:32]])
            case _:
                await session.tell(said)

    async def shut(self, _app: web.Application) -> None:
        """The server stops: every page is closed, and with it its process leaves."""
        for each in tuple(self.open):
            await each.close(message=b"the server stops")


def serve(server: Server, host: str, port: int, say: Callable[[], None]) -> None:
    """Until a signal; `say` is called once the address is had. Raises OSError where it is not to be had."""
    if not os.environ.get("CHANGEOVER_DEBUG"):
        faults = logging.getLogger("aiohttp")
        faults.addHandler(Plain())
        faults.propagate = False
    listening = socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)
    say()
    web.run_app(server.app(), sock=listening, print=None, access_log=None, shutdown_timeout=8.0)
