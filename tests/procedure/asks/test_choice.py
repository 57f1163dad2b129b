"""Choices: an answer by its text or its number, accepted or not, equal to the ticket or not."""

import pytest

from runner.procedure.asks.ask import Judged, Misread
from tests.procedure.asks.built import judged, printed, prompted, verdict

WINDING = "choose: {winding: {ask: Winding, of: [print side out, print side in], accept: [print side out]}}"
SUBSTRATE = "choose: {found: {ask: Substrate, of: [kraft paper, BOPP film], match: substrate}}"
DIGITS = 'choose: {lane: {ask: Lane, of: ["3", "1", "2"]}}'


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("print side out", "in"),
        ("  Print  Side OUT ", "in"),
        ("1", "in"),
        ("2", "out"),
        ("print side in", "out"),
        ("0", "misread"),
        ("3", "misread"),
        ("print", "misread"),
        ("", "misread"),
        ("¹", "misread"),
    ],
)
def test_a_typed_answer_is_judged(typed: str, expected: str) -> None:
    assert verdict(WINDING, typed) == expected


def test_the_answer_is_the_text_of_the_author() -> None:
    found = judged(WINDING, "PRINT SIDE OUT")
    assert isinstance(found, Judged)
    assert (found.value, found.shown, found.magnitude) == ("print side out", "print side out", None)


def test_an_answer_must_equal_what_it_is_matched_with() -> None:
    assert verdict(SUBSTRATE, "1", substrate="kraft paper") == "in"
    assert verdict(SUBSTRATE, "2", substrate="kraft paper") == "out"
    assert isinstance(judged(SUBSTRATE, "1"), Misread)
    assert prompted(SUBSTRATE, substrate="kraft paper").limits == "as substrate: kraft paper"


def test_an_answer_that_is_a_digit_goes_before_its_number() -> None:
    for typed in ("1", "2", "3"):
        found = judged(DIGITS, typed)
        assert isinstance(found, Judged)
        assert found.value == typed


def test_a_misread_says_what_to_type() -> None:
    found = judged(WINDING, "sideways")
    assert isinstance(found, Misread)
    assert found.message == "type one of 1 print side out, 2 print side in"


def test_a_screen_and_paper_show_the_answers() -> None:
    prompt = prompted(WINDING)
    assert (prompt.shape, prompt.choices) == ("choice", ("print side out", "print side in"))
    assert printed(WINDING) == "Winding (accepted: print side out)\n[ ] print side out\n[ ] print side in"
