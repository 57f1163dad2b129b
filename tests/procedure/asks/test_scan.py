"""Scans: a text from a barcode reader, stripped, bounded, and equal to the ticket where that is asked for."""

import pytest

from runner.procedure.asks.ask import Judged
from tests.procedure.asks.built import judged, printed, prompted, verdict

LABEL = "scan: {label: {ask: Label on the core, match: roll_number}}"
FREE = "scan: {label: {ask: Label on the core}}"


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("R-20417", "in"),
        ("  R-20417\t", "in"),
        ("r-20417", "out"),
        ("R-20418", "out"),
        ("R-20417R-20417", "out"),
        ("", "misread"),
        ("   ", "misread"),
        ("R-20417\x1d01", "misread"),  # the group separator inside a GS1 code, which glues fields together
        ("R-\x1b[2J20417", "misread"),
        ("x" * 257, "misread"),
    ],
)
def test_a_scanned_text_is_judged(typed: str, expected: str) -> None:
    assert verdict(LABEL, typed, roll_number="R-20417") == expected


def test_any_text_will_do_where_nothing_is_matched() -> None:
    found = judged(FREE, " Ω 12 ")
    assert isinstance(found, Judged)
    assert (found.value, found.verdict) == ("Ω 12", "in")
    assert verdict(FREE, "x" * 256) == "in"


def test_what_is_matched_must_be_known() -> None:
    assert verdict(LABEL, "R-20417") == "misread"


def test_a_screen_and_paper_show_what_to_scan() -> None:
    assert prompted(LABEL, roll_number="R-1").limits == "as roll_number: R-1"
    assert prompted(FREE).shape == "text"
    assert printed(FREE) == "Label on the core: ________________"
