"""Whether the head tells what changed: revision, line of history, retraining."""

import pytest

from runner.lint.diff.change import Weight
from tests.lint.diff.written import small_diff

WEAKER = ("within: [10, 100]}", "within: [5, 100]}")
ASKED = ("ask: Force,", "ask: Force of the web,")


def untold(*edits: tuple[str, str]) -> list[str]:
    return [change.kind for change in small_diff(*edits).of(Weight.UNTOLD)]


def raised(retrain: str) -> tuple[str, str]:
    line = f"  - {{revision: 2, date: 2026-11-25, why: A change., retrain: {retrain}}}\n"
    return ("revision: 1\n", f"revision: 2\nchanges:\n{line}")


def test_a_change_of_meaning_without_a_new_revision_is_told() -> None:
    assert untold(ASKED) == ["revision-not-raised"]


def test_no_change_needs_no_revision() -> None:
    assert untold() == []
    assert untold(raised("none")) == []


def test_a_lower_revision_is_told() -> None:
    assert small_diff(("revision: 1\n", "revision: 1\n")).changes == ()
    from runner.lint.diff.differ import diff
    from tests.lint.diff.written import small

    found = diff(small(("revision: 1\n", "revision: 3\n")), small()).of(Weight.UNTOLD)
    assert [change.kind for change in found] == ["revision-lower"]


def test_a_new_revision_without_its_line_is_told() -> None:
    assert untold(ASKED, ("revision: 1\n", "revision: 2\n")) == ["change-line-missing"]


@pytest.mark.parametrize(("retrain", "told"), [("none", ["retraining-too-low"]), ("read", []), ("demonstrate", [])])
def test_a_matter_of_safety_has_to_be_read_at_least(retrain: str, told: list[str]) -> None:
    assert untold(WEAKER, raised(retrain)) == told


def test_what_touches_no_safety_needs_no_retraining() -> None:
    assert untold(ASKED, raised("none")) == []
