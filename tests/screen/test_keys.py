"""The table of keys: at most eight on the run page, one meaning each, nothing that a barcode reader sends releases."""

from runner.screen.keys import KEYS, PAGES, Action, action_for_word, action_of, key_for

SENT_BY_READERS = {"enter", "tab", *"0123456789"}
"""What a keyboard-wedge barcode reader types and ends with. Common practice, no source."""


def test_the_run_page_has_at_most_eight_keys() -> None:
    assert len(PAGES["run"]) <= 8


def test_every_page_has_at_most_eight_keys() -> None:
    assert max(len(keys) for keys in PAGES.values()) <= 8


def test_keys_words_and_labels_are_one_each() -> None:
    for field in ("key", "cap", "action", "word"):
        values = [getattr(key, field) for key in KEYS]
        assert len(values) == len(set(values)), field
    assert {key.action for key in KEYS} == set(Action)


def test_no_two_keys_of_a_page_share_a_place_in_the_footer() -> None:
    for page, actions in PAGES.items():
        slots = [key_for(action).slot for action in actions]
        assert len(slots) == len(set(slots)), page


def test_a_barcode_reader_cannot_release_a_hold() -> None:
    assert key_for(Action.RELEASE).key not in SENT_BY_READERS


def test_enter_is_not_the_key_that_releases() -> None:
    assert action_of("enter") is Action.GO_ON
    assert key_for(Action.RELEASE).key != "enter"
    assert [page for page, actions in PAGES.items() if Action.RELEASE in actions] == ["hold"]


def test_stop_and_make_safe_is_on_every_page_of_an_open_run() -> None:
    closed = {"over", "review", "broken", "start", "home"}
    assert all(Action.SAFE in actions for page, actions in PAGES.items() if page not in closed)


def test_labels_fit_their_place_in_the_footer_at_eighty_columns() -> None:
    assert all(len(key.cap) + 1 + len(key.label) <= 19 for key in KEYS)


def test_every_key_has_help_and_a_word() -> None:
    for key in KEYS:
        assert key.help.endswith(".")
        assert action_for_word(key.word) is key.action
