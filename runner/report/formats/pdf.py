"""A document as PDF: the page of the html format, as it prints, with page numbers, the run and its head on each page.

Nothing is loaded from anywhere: every address is refused. The same document gives the same bytes with the same fonts and
versions; no time of writing stands in the file.
"""

import re
from importlib import import_module
from typing import Any, NoReturn

from runner.report.document import Document
from runner.report.formats import html
from runner.report.formats.format import Format, Missing

VARIABLE = re.compile(r'(fill|stroke)="var\(--([a-z-]+)\)"')
PALETTE = re.compile(r"--([a-z-]+): (#[0-9a-f]{6})")


def render(document: Document) -> bytes:
    """The file's bytes."""
    try:
        library: Any = import_module("weasyprint")
    except (ImportError, OSError):  # the libraries that it draws with may be missing as well
        raise Missing("pdf", "pdf") from None
    quiet()
    page = html.render(document).decode()
    written = library.HTML(string=with_colours(page), url_fetcher=refuse, base_url=None).write_pdf()
    return bytes(written)


def with_colours(page: str) -> str:
    """The page with the colours of print in its drawings: what draws them here knows no variables. A text of the
    document cannot be taken for one, since its quotation marks are escaped."""
    palette = dict(PALETTE.findall(page[page.index("@media print") :]))
    return VARIABLE.sub(lambda found: f'{found[1]}="{palette.get(found[2], "#000000")}"', page)


def refuse(address: str, *_: object, **__: object) -> NoReturn:
    """Nothing is fetched."""
    raise ValueError(f"nothing is loaded for a report: {address[:80]}")


def quiet() -> None:
    """What the library says of style rules that it does not know is of no use to the reader of a report."""
    import logging

    for name in ("weasyprint", "fontTools"):
        logging.getLogger(name).setLevel(logging.CRITICAL)


FORMAT = Format("pdf", ".pdf", render, "pages of A4 (needs the extra pdf)", "pdf", binary=True)
