"""Pages that are open: a run begun, a tab closed, the run refused to a second page and resumed by a third."""

import asyncio
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("textual_serve", reason="needs the extra `web`")

import aiohttp  # type: ignore[import-not-found, unused-ignore]  # of the extra `web`

from runner.record.verify import verify_bytes
from tests.cli.command import PROCEDURES
from tests.cli.serving.page import CHROMIUM, BrowserPage, Loop, Served, SocketPage, command
from tests.cli.serving.test_gate import TOKEN
from tests.screen.terminal import ENTER

DOWN = "\x1b[B"


pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pipes are read as on Unix here")


@pytest.fixture
def loop() -> Iterator[Loop]:
    found = Loop()
    yield found
    found.close()


def home(records: Path) -> tuple[str, ...]:
    """The process behind a page."""
    return command(
        "runner", "home", "--procedures", str(PROCEDURES / "web-break.procedure.yaml"), "--records", str(records)
    )


def get(loop: Loop, port: int, path: str = "/", **headers: str) -> tuple[int, dict[str, str], str]:
    """An answer of the server; moves are not followed."""

    async def getting() -> tuple[int, dict[str, str], str]:
        async with (
            aiohttp.ClientSession() as session,
            session.get(f"http://127.0.0.1:{port}{path}", headers=headers, allow_redirects=False) as answer,
        ):
            return answer.status, dict(answer.headers), await answer.text()

    return loop.do(getting())


def until(what: Any, seconds: float = 12.0) -> None:
    """Wait for something to become true."""
    end = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < end
        time.sleep(0.05)


def test_a_second_page_joins_a_run_and_takes_it_over_when_the_tab_of_the_first_is_closed(
    loop: Loop, tmp_path: Path
) -> None:
    served = Served(loop, *home(tmp_path))
    first = SocketPage(loop, served.port)
    first.until("Recover from a web break")
    first.press(DOWN)
    first.press(ENTER)
    first.until("Before you begin")
    for _ in range(12):
        if "LIVE RUN" in first.text and "Before you begin" not in first.text:
            break
        first.press(ENTER, 0.8)
    until(lambda: list(tmp_path.rglob("*.journal")))
    (journal,) = tmp_path.rglob("*.journal")

    second = SocketPage(loop, served.port)
    second.until("Unfinished runs")
    second.press(DOWN)
    second.press(ENTER)
    second.until("LIVE RUN")
    assert first.ended is False
    assert verify_bytes(journal.read_bytes()).whole

    first.close()
    until(lambda: len(served.server.open) == 1)
    assert verify_bytes(journal.read_bytes()).whole
    second.until("NOBODY KEEPS THE RECORD")
    second.press(ENTER)
    second.until("LIVE RUN")
    second.close()
    served.close()
    found = verify_bytes(journal.read_bytes())
    assert found.whole
    assert found.outcome == ""


def test_a_page_that_is_left_is_closed_by_the_server(loop: Loop, tmp_path: Path) -> None:
    served = Served(loop, *home(tmp_path))
    page = SocketPage(loop, served.port)
    page.until("Recover from a web break")
    page.press("\x1b", 0.5)
    until(lambda: page.ended)
    page.close()
    served.close()


def test_pages_of_other_sites_and_people_without_the_token_start_no_process(loop: Loop, tmp_path: Path) -> None:
    served = Served(loop, *home(tmp_path), token=TOKEN)
    address = f"127.0.0.1:{served.port}"
    status, headers, text = get(loop, served.port)
    assert status == 401
    assert "token" in text
    assert headers["X-Frame-Options"] == "DENY"
    assert get(loop, served.port, "/?token=wrong")[0] == 401
    assert get(loop, served.port, "/static/js/textual.js")[0] == 401
    assert get(loop, served.port, Host="elsewhere.example")[0] == 403
    with pytest.raises(aiohttp.WSServerHandshakeError):
        SocketPage(loop, served.port)
    status, headers, _ = get(loop, served.port, f"/?token={TOKEN}")
    assert (status, headers["Location"]) == (303, "/")
    cookie = headers["Set-Cookie"]
    for part in ("HttpOnly", "SameSite=Lax", "Path=/"):
        assert part in cookie
    pair = cookie.split(";")[0]
    assert get(loop, served.port, Cookie=pair)[0] == 200
    assert get(loop, served.port, "/static/js/textual.js", Cookie=pair)[0] == 200
    assert get(loop, served.port, "/ws", Cookie=pair, Origin="http://elsewhere.example")[0] == 403
    page = SocketPage(loop, served.port, cookie=pair)
    page.until("Recover from a web break")
    page.close()
    served.close()
    assert address


def test_a_server_that_stops_leaves_no_process_behind(loop: Loop, tmp_path: Path) -> None:
    served = Served(loop, *home(tmp_path))
    page = SocketPage(loop, served.port)
    page.until("Recover from a web break")
    before = asyncio.run_coroutine_threadsafe(children(), loop.loop).result(5)
    assert before
    served.close()
    until(lambda: not asyncio.run_coroutine_threadsafe(children(), loop.loop).result(5))
    page.close()


async def children() -> list[int]:
    """Processes of this one that are alive."""
    import os

    found = []
    me = os.getpid()
    for name in os.listdir("/proc") if os.path.isdir("/proc") else []:
        try:
            with open(f"/proc/{name}/stat", encoding="utf-8") as file:
                state, parent = file.read().rsplit(")", 1)[1].split()[:2]
        except (OSError, IndexError):
            continue
        if int(parent) == me and state != "Z":
            found.append(int(name))
    return found


@pytest.mark.skipif(not CHROMIUM, reason="there is no Chromium here")
def test_in_a_browser_keys_of_the_keyboard_and_of_the_row_act_and_nothing_is_asked_from_elsewhere(
    loop: Loop, tmp_path: Path
) -> None:
    served = Served(loop, *home(tmp_path))
    page = BrowserPage(loop, served.port)
    page.until("Recover from a web break")
    page.press(DOWN, 0.6)
    page.press(ENTER, 0.6)
    page.until("Before you begin")
    time.sleep(0.5)
    page.value("document.querySelector('nav button[data-key=F1]').click()")
    page.until("What you see and what the keys do")
    page.value("document.querySelector('nav button[data-key=Escape]').click()")
    page.until("Have ready")
    assert not page.faults
    assert all(url.startswith((f"http://127.0.0.1:{page.port}/", "data:", "about:")) for url in page.asked)
    page.close()
    served.close()
