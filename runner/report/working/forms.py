"""The formats of the arithmetic, by name: from what was asked, and what a terminal can show, to bytes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from runner.report.working.asked import Asked
from runner.report.working.look import Look


@dataclass(frozen=True, slots=True)
class Form:
    """One way to write the answer."""

    name: str
    render: Callable[[Asked, Look], bytes]
    drawn: bool
    """True where curves are needed."""
    doc: str


def as_text(asked: Asked, look: Look) -> bytes:
    """For the terminal."""
    from runner.report.working.text import render

    return render(asked, look)


def as_csv(asked: Asked, _: Look) -> bytes:
    """For spreadsheets."""
    from runner.report.working.csv import render

    return render(asked)


def as_json(asked: Asked, _: Look) -> bytes:
    """For other programs."""
    import json

    from runner.report.working.data import data_of

    return (json.dumps(data_of(asked), indent=2, allow_nan=False) + "\n").encode("ascii")


def as_html(asked: Asked, _: Look) -> bytes:
    """For browsers and paper."""
    from runner.report.working.page import render

    return render(asked)


FORMS: Mapping[str, Form] = {
    form.name: form
    for form in (
        Form("text", as_text, True, "tables and plots in characters"),
        Form("csv", as_csv, False, "a table for spreadsheets (RFC 4180)"),
        Form("json", as_json, False, "plain data for other programs"),
        Form("html", as_html, True, "one page with drawings, for browsers and paper"),
    )
}
"""The one list of them; each loads what it needs when it is asked."""
