"""How documents become bytes: one format a file. Invariant: what a format writes acts on no terminal and no browser."""

from collections.abc import Mapping

from runner.report.formats import csv, html, json, markdown, pdf, text, xlsx
from runner.report.formats.format import Format

FORMATS: Mapping[str, Format] = {
    form.name: form
    for form in (
        html.FORMAT,
        text.FORMAT,
        json.FORMAT,
        markdown.FORMAT,
        csv.FORMAT,
        xlsx.FORMAT,
        pdf.FORMAT,
    )
}
"""The one list of formats, by name."""
