"""Each edit that makes a text weaker is told as that and as nothing else; the way back is told as stronger."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.lint.diff.change import Weight
from runner.lint.diff.differ import diff
from tests.lint.diff.weakening import WEAKENING
from tests.lint.diff.written import Edit, diff_of, edited, plain

NAMES = [f"{number}-{edit.kind}" for number, edit in enumerate(WEAKENING)]


@pytest.mark.parametrize("edit", WEAKENING, ids=NAMES)
def test_a_weakening_edit_is_weaker_and_nothing_else(edit: Edit) -> None:
    told = [change for change in diff_of(edit).changes if change.weight is not Weight.UNTOLD]
    assert [(change.kind, change.weight) for change in told] == [(edit.kind, Weight.WEAKER)] * edit.times
    for change in told:
        assert change.reason
        assert change.old_place is not None
        assert change.new_place is not None
        assert change.was or change.now


@pytest.mark.parametrize("edit", WEAKENING, ids=NAMES)
def test_the_way_back_is_stronger_and_nothing_else(edit: Edit) -> None:
    told = [change for change in diff(edited(edit), plain()).changes if change.weight is not Weight.UNTOLD]
    if edit.kind == "answer-accepted":
        assert all(change.weight in (Weight.STRONGER, Weight.MAYBE, Weight.CHANGED) for change in told)
        return
    assert [(change.kind, change.weight) for change in told] == [(edit.kind, Weight.STRONGER)] * edit.times


def overlap(one: Edit, other: Edit) -> bool:
    """Whether two edits touch the same place."""
    if one.file != other.file:
        return False
    try:
        edited(one, other)
        edited(other, one)
    except AssertionError:
        return True
    return False


@settings(max_examples=12, deadline=None)
@given(st.sets(st.integers(0, len(WEAKENING) - 1), min_size=2, max_size=4))
def test_several_edits_are_all_told(numbers: set[int]) -> None:
    chosen: list[Edit] = []
    for number in sorted(numbers):
        if not any(overlap(WEAKENING[number], other) for other in chosen):
            chosen.append(WEAKENING[number])
    kinds = {change.kind for change in diff_of(*chosen).of(Weight.WEAKER)}
    assert {edit.kind for edit in chosen} <= kinds
