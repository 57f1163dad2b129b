"""Every content in every format, compared byte for byte with a file in `golden/`.

`python -m tests --update-golden` (it sets UPDATE_GOLDEN=1) writes the files anew. Read the difference before you
commit it: a golden file is what a reviewer will hold in their hands. Of a workbook its cells are compared, of a PDF its
words: what else is in such a file belongs to the library that wrote it.
"""

import os
import re
from importlib import import_module
from io import BytesIO
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest

from runner.report.formats import FORMATS
from runner.report.formats.format import Format
from tests.report.documents import DOCUMENTS
from tests.report.printing import needs_print

GOLDEN = Path(__file__).parent / "golden"
FOOT = re.compile(r"Page \d+ of \d+")
LONG = 20
CASES = [(name, form) for name in DOCUMENTS for form in FORMATS.values()]


def cells(rendered: bytes) -> bytes:
    """The cells of a workbook, one a line, with their place and kind."""
    openpyxl: Any = import_module("openpyxl")  # it has no types
    lines = [
        f"{sheet.title}!{cell.coordinate} {cell.data_type} {cell.value!r}"
        for sheet in openpyxl.load_workbook(BytesIO(rendered)).worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    ]
    return ("\n".join(lines) + "\n").encode()


def words(rendered: bytes) -> bytes:
    """The words of a PDF, each once and in the order of the alphabet: where lines and pages break, and so what is said again on
    the next page, hangs on the fonts. Long words may be broken themselves and are left out."""
    from pypdf import PdfReader

    pages = PdfReader(BytesIO(rendered)).pages
    text = normalize("NFKC", "".join(page.extract_text() for page in pages))
    text = FOOT.sub("", text)
    return ("\n".join(sorted({word for word in text.split() if len(word) <= LONG})) + "\n").encode()


COMPARED = {"xlsx": cells, "pdf": words}


def golden(name: str, form: Format) -> Path:
    return GOLDEN / f"{name}{form.suffix}{'.txt' if form.binary else ''}"


@pytest.mark.parametrize(("name", "form"), CASES, ids=lambda case: case if isinstance(case, str) else case.name)
def test_a_document_is_rendered_as_before(name: str, form: Format) -> None:
    needs_print(form.name)
    path = golden(name, form)
    rendered = form.render(DOCUMENTS[name]())
    rendered = COMPARED[form.name](rendered) if form.name in COMPARED else rendered
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_bytes(rendered)
    assert path.exists(), "no golden file yet: write it with `python -m tests --update-golden`, then read it"
    assert rendered == path.read_bytes()


def test_no_golden_file_is_left_over() -> None:
    assert {path.name for path in GOLDEN.iterdir()} == {golden(name, form).name for name, form in CASES}
