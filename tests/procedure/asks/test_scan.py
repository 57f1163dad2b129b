"""Scans: a text from a barcode reader, stripped, bounded, and equal to the ticket where that is asked for."""

import pytest

from runner.procedure.asks.ask import Judged
from runner.procedure.asks.scan import same_letters
from tests.procedure.asks.built import judged, printed, prompted, verdict

LABEL = "scan: {label: {ask: Label on the core, match: roll_number}}"
FREE = "scan: {label: {ask: Label on the core}}"


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("R-20417", "in"),
        ("  R-20417\t", "in"),
        ("r-20417", "in"),  # a reader that is set to small letters, or a person without the shift key
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
    assert prompted(LABEL, roll_number="R-1").limits == "as roll number: R-1"
    assert prompted(FREE).shape == "text"
    assert printed(FREE) == "Label on the core: ________________"


def test_capitals_do_not_matter_and_the_ticket_s_spelling_is_the_value() -> None:
    found = judged(LABEL, "r-20417", roll_number="R-20417")
    assert isinstance(found, Judged)
    assert (found.value, found.shown) == ("R-20417", "r-20417")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("K-1", "\u212a-1"),  # the sign of kelvin is no letter K, though Unicode gives both one small letter (UAX 21)
        ("s-1", "\u017f-1"),  # the long s
        ("\u00b5-1", "\u03bc-1"),  # micro sign and Greek mu
        ("stra\u00dfe", "STRASSE"),
        ("l-1", "I-1"),
        ("O-1", "0-1"),
    ],
)
def test_no_letter_passes_for_another(one: str, other: str) -> None:
    assert not same_letters(one, other)
    assert not same_letters(other, one)
