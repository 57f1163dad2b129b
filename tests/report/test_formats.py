"""The list of formats is whole, and every format shows the mark and the caution first and last."""

from pathlib import Path

import pytest

import runner.report.formats as formats_package
from runner.report.contents.marks import DRY, PLAYED
from runner.report.contents.run_record import CAUTION
from runner.report.formats import FORMATS
from tests.report.documents import plain, without_end

READABLE = ("html", "text")


def test_every_format_in_the_folder_is_listed() -> None:
    files = {path.stem for path in Path(formats_package.__file__).parent.glob("*.py")}
    listed = {form.render.__module__.rpartition(".")[2] for form in FORMATS.values()}
    assert listed == files - {"__init__", "format"}


def test_formats_are_listed_under_their_names() -> None:
    assert all(name == form.name and form.suffix.startswith(".") and form.doc for name, form in FORMATS.items())


@pytest.mark.parametrize("name", READABLE)
def test_the_mark_of_a_dry_run_stands_first_and_last(name: str) -> None:
    shown = FORMATS[name].render(without_end()).decode()
    body = shown[shown.index("<body>") :] if name == "html" else shown
    tenth = len(body) // 10
    for mark in (DRY, PLAYED):
        assert mark.words in body[:tenth]
        assert mark.words in body[-tenth:]


def test_the_mark_of_a_dry_run_stands_in_the_plain_data() -> None:
    assert DRY.words in str(without_end().data)


@pytest.mark.parametrize("name", READABLE)
def test_a_plain_live_run_has_no_mark(name: str) -> None:
    shown = FORMATS[name].render(plain()).decode()
    assert DRY.words not in shown
    assert '<p class="mark">' not in shown
    assert not shown.startswith("#")


@pytest.mark.parametrize("name", READABLE)
def test_the_caution_stands_twice(name: str) -> None:
    shown = " ".join(FORMATS[name].render(plain()).decode().replace("&#39;", "'").split())
    assert shown.count(CAUTION) == 2
