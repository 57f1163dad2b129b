"""What each page looks like at both sizes, as the app itself draws it, compared with a file in `snapshots/`.

`python -m tests --update-golden` (it sets UPDATE_GOLDEN=1) writes the files anew; look at them in a browser before they
are committed. What differs from one library to the next (names of classes, fonts) is taken out of the files.
"""

import os
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from runner.screen.app import Terminal
from runner.screen.keys import KEYS, PAGES
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.scenes import SCENES, gauge

FOLDER = Path(__file__).parent / "snapshots"
SIZES = {"80x24": (80, 24), "120x40": (120, 40)}
NAMES = (*SCENES, "run-gauge")
FONT = re.compile(r"\s*@font-face \{.*?\}", re.DOTALL)
NAMED = re.compile(r"terminal-\d+")


def steady(svg: str) -> str:
    """The picture without what hangs on the library: no font is fetched, and names are always the same."""
    text = NAMED.sub("t", FONT.sub("", svg))
    return "\n".join(line.strip() for line in text.splitlines() if line.strip()) + "\n"


def scene(name: str, folder: Path) -> Shell:
    """A scene made anew."""
    return gauge(folder) if name == "run-gauge" else SCENES[name]()


@asynccontextmanager
async def drawn(size: tuple[int, int]) -> AsyncIterator[Terminal]:
    """An app of a size, in which one scene after the other is put."""
    app = Terminal(SCENES["help"]())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield app


async def picture(app: Terminal, shell: Shell) -> str:
    """The app's own picture of a scene."""
    shell.size = (app.size.width, app.size.height)
    app.shell = shell
    app.canvas.lines = ()
    app.draw()
    app.canvas.refresh()
    return steady(app.export_screenshot(title="changeover"))


@pytest.mark.parametrize("size", SIZES)
async def test_every_page_looks_as_it_was_looked_at(size: str, tmp_path: Path) -> None:
    differ = []
    async with drawn(SIZES[size]) as app:
        for name in NAMES:
            svg = await picture(app, scene(name, tmp_path / name))
            path = FOLDER / f"{name}.{size}.svg"
            if os.environ.get("UPDATE_GOLDEN"):
                path.write_text(svg, encoding="utf-8")
            if not path.exists() or path.read_text(encoding="utf-8") != svg:
                differ.append(path.name)
    assert not differ, "look at them, then write them with `python -m tests --update-golden`"


def test_every_page_of_the_table_of_keys_has_its_picture_and_none_is_left_over(tmp_path: Path) -> None:
    shown = {scene(name, tmp_path / name).sheet().page for name in NAMES}
    assert set(PAGES) - shown == set(), "a page without a scene"
    assert {path.name for path in FOLDER.iterdir()} == {f"{name}.{size}.svg" for name in NAMES for size in SIZES}


@pytest.mark.parametrize("name", NAMES)
def test_a_scene_is_of_the_page_that_it_is_named_for(name: str, tmp_path: Path) -> None:
    assert scene(name, tmp_path).sheet().page == name.split("-", maxsplit=1)[0]


@pytest.mark.parametrize("name", [name for name in NAMES if name != "run-far"])
@pytest.mark.parametrize("size", SIZES)
def test_no_page_has_more_than_eight_keys_and_their_words_do_not_run_together(
    name: str, size: str, tmp_path: Path
) -> None:
    shell = scene(name, tmp_path)
    shell.size = SIZES[size]
    lines = [text_of(line) for line in shell.picture().lines[-2:]]
    caps = re.compile(r"(?:^|(?<=\s))(?:" + "|".join(key.cap for key in KEYS) + r")(?= )")
    found = sum(len(caps.findall(line)) for line in lines)
    assert found == len(shell.sheet().keys)
    assert found <= 8
    assert ".." not in "".join(lines), "a word of a key is cut"
