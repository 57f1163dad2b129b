"""PDF: what must be decided is on the first page, each page says of which run it is, and nothing is loaded for it."""

import sys
from functools import cache
from io import BytesIO

import pytest
from pypdf import PdfReader

from runner.report.document import Document, Note
from runner.report.formats.format import Missing
from runner.report.formats.pdf import refuse, render, with_colours
from tests.report.documents import full, without_end
from tests.report.printing import needs_print


@pytest.fixture(autouse=True)
def _printing(request: pytest.FixtureRequest) -> None:
    if "without_the_library" not in request.node.name:
        needs_print()


@cache
def rendered() -> bytes:
    """The full run; made once, since it takes a while."""
    return render(full())


def pages(written: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(written)).pages]


def test_what_a_reviewer_decides_and_the_places_for_names_are_on_the_first_page() -> None:
    first, second, *_ = pages(rendered())
    for words in (
        "For the reviewer to decide",
        "Idler 2 runs hot",
        "To be signed",
        "approved by",
        "Signed is the record",
    ):
        assert words in first
    assert second.startswith("What happened when")


def test_each_page_names_the_run_and_its_head_and_counts_the_pages() -> None:
    found = pages(rendered())
    for number, text in enumerate(found, start=1):
        assert "20261125-093000-k7f2" in text
        assert "878C-78NN-JT3Q-GTAT-8" in text
        assert f"Page {number} of {len(found)}" in text


def test_the_mark_of_a_dry_run_is_on_each_page() -> None:
    assert all("DRY RUN" in text for text in pages(render(without_end())))


def test_pages_are_a4() -> None:
    # ISO 216: A4 is 210 mm by 297 mm; a point is 1/72 inch
    box = PdfReader(BytesIO(rendered())).pages[0].mediabox
    assert float(box.width) == pytest.approx(210 / 25.4 * 72, abs=0.1)
    assert float(box.height) == pytest.approx(297 / 25.4 * 72, abs=0.1)


def test_the_same_document_gives_the_same_bytes() -> None:
    assert render(without_end()) == render(without_end())


def test_nothing_is_fetched_whatever_stands_in_a_text() -> None:
    with pytest.raises(ValueError, match="nothing is loaded"):
        refuse("file:///etc/hostname")
    words = '<img src="file:///etc/hostname"><link rel="attachment" href="file:///etc/hostname">'
    reader = PdfReader(BytesIO(render(Document("T", (Note(words),)))))
    assert "<img" in reader.pages[0].extract_text()
    assert not reader.attachments


def test_a_text_of_the_document_is_not_taken_for_a_colour() -> None:
    page = '<style>@media print { --alarm: #8a1414; }</style>&quot;fill=&quot;var(--alarm)<path fill="var(--alarm)"/>'
    assert with_colours(page).count("#8a1414") == 2
    assert "&quot;fill=&quot;var(--alarm)" in with_colours(page)


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    with pytest.raises(Missing, match=r"pip install 'changeover-runner\[pdf\]'"):
        render(full())
