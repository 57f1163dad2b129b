"""The text form: pages that a line printer holds, each of which says what it is of."""

import pytest
from rich.cells import cell_len

from runner.report.formats.text import WIDTH
from runner.report.sheet.form import StepForm
from runner.report.sheet.text import AID, LINES, pages_of, pieces_of, render, step_lines
from tests.report.sheet.sheets import SHEETS


def pages(name: str) -> list[list[str]]:
    return [page.removesuffix("\n").split("\n") for page in render(SHEETS[name]()).decode().split("\f")]


@pytest.mark.parametrize("name", SHEETS)
def test_every_page_has_so_many_lines_of_80_cells(name: str) -> None:
    found = pages(name)
    assert {len(page) for page in found} == {LINES}
    assert max(cell_len(line) for page in found for line in page) <= WIDTH


@pytest.mark.parametrize("name", SHEETS)
def test_every_page_says_which_of_how_many_it_is_and_that_it_is_an_aid(name: str) -> None:
    found = pages(name)
    for number, page in enumerate(found, start=1):
        assert page[-1].startswith(AID)
        assert page[-1].endswith(f"page {number} of {len(found)}")
        assert "digest" in page[-2]


@pytest.mark.parametrize("name", ["blank", "job"])
def test_a_draft_says_so_on_every_page(name: str) -> None:
    assert all("NOT APPROVED" in page[0] for page in pages(name))


@pytest.mark.parametrize("name", SHEETS)
def test_a_step_stays_on_one_page(name: str) -> None:
    whole = ["\n".join(page) for page in pages(name)]
    for block in SHEETS[name]().blocks:
        if isinstance(block, StepForm):
            step = "\n".join(line.rstrip() for line in step_lines(block))
            assert sum(step in page for page in whole) == 1


@pytest.mark.parametrize("room", [12, 20, 33, 50])
def test_pages_lose_no_line_however_short_they_are(room: int) -> None:
    pieces = list(pieces_of(SHEETS["blank"]().blocks))
    found = list(pages_of(pieces, room))
    wanted = [line for piece in pieces for line in piece.lines if line.strip()]
    kept = [line for page in found for line in page if line.strip() and not line.startswith("(goes on")]
    assert kept == wanted
    assert all(len(page) <= room for page in found)
