"""Which key presses count. The 0.66 s pause before a held key repeats is the X server's usual setting, from memory."""

import pytest

from runner.screen.guard import BURST, HELD, TOO_SOON, Guard, act, letter, screen_changed, stray


def test_a_fresh_key_counts() -> None:
    guard, why = act(Guard(), "enter", 10.0)
    assert why == ""
    assert act(guard, "enter", 11.0)[1] == ""


def test_a_key_right_after_the_screen_changed_does_not_count() -> None:
    guard = screen_changed(Guard(), 10.0)
    assert act(guard, "enter", 10.29)[1] == TOO_SOON
    assert act(guard, "enter", 10.31)[1] == ""


@pytest.mark.parametrize(("pause", "rate"), [(0.25, 0.033), (0.5, 0.033), (0.66, 0.04), (0.4, 0.1)])
def test_a_held_key_acts_once_however_long_it_is_held(pause: float, rate: float) -> None:
    guard, acts, at = Guard(), 0, 100.0
    times = [at, *(at + pause + n * rate for n in range(300))]
    for time in times:
        guard, why = act(guard, "enter", time)
        if not why:
            acts += 1
            guard = screen_changed(guard, time + 0.01)
    assert acts == 1


def test_after_letting_go_the_key_counts_again() -> None:
    guard, _ = act(Guard(), "enter", 10.0)
    guard, why = act(guard, "enter", 10.5)
    assert why == HELD
    assert act(guard, "enter", 10.9)[1] == ""


def test_enter_behind_a_burst_of_letters_where_nothing_is_typed_is_no_act() -> None:
    guard = Guard()
    for n in range(40):
        guard = stray(guard, 10 + n * 0.0005)
    assert act(guard, "enter", 10.0205)[1] == BURST


def test_a_number_that_picked_a_line_may_have_its_enter_as_soon_as_a_person_types_it() -> None:
    guard = stray(Guard(), 10.0)
    assert act(guard, "enter", 10.15, picked=True)[1] == ""
    assert act(guard, "enter", 10.15)[1] == BURST, "where the digit picked nothing it is no answer"
    assert act(guard, "enter", 10.1, picked=True)[1] == BURST


def test_a_scan_over_a_list_is_no_pick_however_late_its_enter_comes() -> None:
    guard = Guard()
    for n in range(4):
        guard = stray(guard, 10 + n * 0.01)
    assert act(guard, "enter", 10.2, picked=True)[1] == BURST


def test_an_entry_that_was_scanned_is_given_at_once_and_the_next_scan_glued_to_it_is_dropped_whole() -> None:
    guard = Guard()
    for n in range(8):
        guard, why = letter(guard, 10 + n * 0.0005)
        assert why == ""
    guard, why = act(guard, "enter", 10.005, typed=True)
    assert why == ""
    guard = screen_changed(guard, 10.01)
    for n in range(8):
        guard, why = letter(guard, 10.011 + n * 0.0005)
        assert why == BURST
    assert act(guard, "enter", 10.016)[1] == BURST


def test_a_person_who_types_on_quickly_after_enter_loses_no_letter() -> None:
    guard, _ = act(Guard(), "enter", 10.0, typed=True)
    guard = screen_changed(guard, 10.01)
    for n in range(4):
        guard, why = letter(guard, 10.08 + n * 0.08)
        assert why == ""
