"""Whether a PDF can be printed here: the library draws with others of the system's, and with the fonts that it finds.

Where it cannot, tests of the PDF are passed over with the reason; what the program says then is tested everywhere.
"""

from functools import cache
from io import BytesIO

import pytest

from runner.report.document import Document, Note
from runner.report.formats.format import Missing


@cache
def why_not() -> str:
    """Why no PDF can be printed and read back here; empty where one can."""
    from pypdf import PdfReader

    from runner.report.formats.pdf import render

    try:
        written = render(Document("Title", (Note("Some words."),)))
    except Missing:
        return "what weasyprint draws with (pango, harfbuzz) is not on this machine"
    found = " ".join(page.extract_text() for page in PdfReader(BytesIO(written)).pages)
    return "" if "Some words." in found else "there is no font on this machine"


def needs_print(form: str = "pdf") -> None:
    """Pass a test of a format over where it cannot be printed."""
    if form == "pdf" and why_not():
        pytest.skip(why_not())
