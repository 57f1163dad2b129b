"""Feeds: the length fed must reach the length needed, and is a value from then on."""

from runner.procedure.asks.ask import Judged
from tests.procedure.asks.built import ask_of, judged, printed, prompted, verdict

FEED = "advance: 2 * roll_od"


def test_the_length_fed_must_reach_the_length_needed() -> None:
    assert [verdict(FEED, typed, roll_od=1.0) for typed in ("1.99", "2", "2.5", "200 cm")] == ["out", "in", "in", "in"]
    assert verdict(FEED, "2 kg", roll_od=1.0) == "misread"
    assert verdict(FEED, "2") == "misread"


def test_the_feed_is_in_metres_and_named_after_its_step() -> None:
    ask, _ = ask_of(FEED)
    found = judged(FEED, "8 ft", roll_od=1.0)
    assert isinstance(found, Judged)
    assert (ask.name, found.unit) == ("act_now_fed", "m")
    assert found.value == 8 * 0.3048  # exact: NIST SP 811, App. B.6


def test_a_screen_and_paper_show_the_length_needed() -> None:
    assert prompted(FEED, roll_od=1.0).limits == "at least 2 m"
    assert printed(FEED).startswith("Length fed: ________ m (at least 2")
