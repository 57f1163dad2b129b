"""Line by line in another language: the same run by the same words, every text looked up."""

import pytest

from runner.engine import events as ev
from runner.say.language import spoken
from runner.screen.keys import KEYS
from tests.say.walk import plain_words
from tests.screen.test_plain import WHOLE, played

WORDS = "begin done read tick second other finish leave again over square act notes"
"""Commands of plain mode, which are the same in every language, as keys are."""
ASK_ALL = "?\nnot\n?\nback\npause\n?\nback\nsteps\n?\nback\nvalues\nside\nback\nhelp\nback\n"


@pytest.mark.parametrize("language", ["de", "pseudo"])
def test_the_same_words_lead_to_the_end_in_every_language(language: str) -> None:
    with spoken(language):
        run, lines, outcome = played(WHOLE)
    assert outcome == "finished"
    assert run.count(ev.Finished) == 1
    assert ("Sie bestätigen" in lines.text) == (language == "de")


def test_no_line_of_ours_stands_there_that_was_not_looked_up() -> None:
    with spoken("pseudo"):
        _, lines, _ = played(ASK_ALL + WHOLE)
    assert plain_words(lines.text.split("\n"), f"{WORDS} {' '.join(key.word for key in KEYS)}") == []
