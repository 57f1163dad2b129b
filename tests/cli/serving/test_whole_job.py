"""The whole change of a roll on a page: through the socket alone, and in a headless Chromium; the tab closed half-way.

Every key goes to the page and to the same pages in memory; what the page shows must be what they draw.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

pytest.importorskip("textual_serve", reason="needs the extra `web`")

from runner.record.verify import verify_bytes
from tests.cli.serving.page import CHROMIUM, BrowserPage, Loop, Page, Served, SocketPage, command
from tests.screen.terminal import ENTER, Terminal
from tests.screen.test_whole_job import TIMES, Worker

pytestmark = [pytest.mark.long, pytest.mark.skipif(sys.platform == "win32", reason="pipes are read as on Unix here")]


@pytest.fixture
def loop() -> Iterator[Loop]:
    found = Loop()
    yield found
    found.close()


class PageWorker(Worker):
    """Leads the run on a page."""

    def __init__(self, loop: Loop, kind: type[Page], name: str, records: Path, cut_off_at: int) -> None:
        self.loop, self.kind = loop, kind
        self.served: list[Served] = []
        self.pages: list[Page] = []
        super().__init__(name, records, cut_off_at)

    def child(self, what: str, *more: str) -> Terminal:
        """A server of its own for each, so that its process begins or resumes; then a page of it."""
        whole = command("tests.screen.whole_job", what, str(self.records), self.name, str(TIMES), *more)
        self.served.append(Served(self.loop, *whole))
        self.pages.append(self.kind(self.loop, self.served[-1].port))
        self.pages[-1].until("Enter")
        self.person.shell.size = self.pages[-1].size
        self.person.shell.picture()
        return PageTerminal(self.pages[-1])

    def kill(self, old: Terminal) -> None:  # noqa: ARG002 - it is the newest page
        """The tab is closed."""
        self.pages[-1].close()
        self.served[-1].close()

    def close(self) -> None:
        """Everything."""
        self.pages[-1].close()
        self.served[-1].close()


class PageTerminal(Terminal):
    """A page with the face of a terminal."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def read(self, seconds: float) -> None:
        """Let time pass."""
        self.page.read(seconds)

    def press(self, keys: str, pause: float = 0.12) -> None:
        """Keys after a pause."""
        self.page.press(keys, pause)

    @property
    def text(self) -> str:
        """What is on the screen."""
        return self.page.text


@pytest.mark.parametrize(
    "kind",
    [
        SocketPage,
        pytest.param(BrowserPage, marks=pytest.mark.skipif(not CHROMIUM, reason="there is no Chromium here")),
    ],
)
def test_the_whole_job_is_done_on_a_page_and_survives_a_closed_tab(
    kind: type[Page], loop: Loop, tmp_path: Path
) -> None:
    worker = PageWorker(loop, kind, "change-roll", tmp_path, 230)
    worker.work()
    assert worker.run.state.outcome == "finished"
    page = worker.pages[-1]
    page.until("FINISHED")
    page.press(ENTER, 0.3)
    if isinstance(page, BrowserPage):
        assert not page.faults
        assert all(url.startswith((f"http://127.0.0.1:{page.port}/", "data:", "about:")) for url in page.asked)
        page.picture(str(tmp_path / "page.png"))
    worker.close()
    (journal,) = tmp_path.rglob("*.journal")
    found = verify_bytes(journal.read_bytes())
    assert found.whole
    assert found.outcome == "finished"
