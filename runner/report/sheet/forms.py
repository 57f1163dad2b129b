"""The formats of a paper form: the one list, by name."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from runner.report.sheet import html, text
from runner.report.sheet.form import Sheet


class SheetFormat(NamedTuple):
    """One way to write a form."""

    name: str
    suffix: str
    render: Callable[[Sheet], bytes]
    """UTF-8."""
    doc: str


FORMS: Mapping[str, SheetFormat] = {
    form.name: form
    for form in (
        SheetFormat("text", ".txt", text.render, "80 columns, pages of 60 lines parted by form feeds"),
        SheetFormat("html", ".html", html.render, "one file for printing on A4 or Letter"),
    )
}
