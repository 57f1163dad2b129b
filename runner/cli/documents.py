"""A document in one of the report formats, to a file or to standard output."""

import sys

from runner.cli.files import write_out
from runner.report.document import Document
from runner.report.formats.format import Format, Missing


def write_document(form: Format, document: Document, path: str | None) -> str:
    """Write it; gives what stood against it, empty where nothing did."""
    if form.binary and path is None and sys.stdout.isatty():
        return f"{form.name} is no text for a terminal: say --output FILE{form.suffix}"
    try:
        content = form.render(document)
    except Missing as missing:
        return str(missing)
    return write_out(content, path)
