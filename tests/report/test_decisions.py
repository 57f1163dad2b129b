"""The page of decisions: every matter once, exceptions first, and what a signature does not cover."""

from dataclasses import replace
from typing import Any

import pytest

from runner.engine import events as ev
from runner.report.contents.decisions import LONGEST, MOST, ONE, within_run
from runner.report.contents.names import names_from_events
from runner.report.contents.run_record import review_sections, run_record
from runner.report.document import Document, Note, Table
from tests.report import sample
from tests.report.documents import full, plain
from tests.report.sample import BO, CY, late, moment


def of(entries: sample.Entries) -> Document:
    return run_record(entries, sample.checked(entries), sample.procedure())


def data_of(document: Document) -> dict[str, Any]:
    assert isinstance(document.data, dict)
    return document.data


def table(document: Document, caption: str) -> Table:
    return next(block for block in document.blocks if isinstance(block, Table) and block.caption == caption)


def test_exceptions_come_first_and_those_decided_say_what_and_by_whom() -> None:
    rows = table(full(), "To decide").rows
    assert [row[0] for row in rows[:4]] == ["Exception"] * 4
    assert rows[0][3] == "reworked: Crane brake adjusted and tried (Kim Cedar)"
    assert set(str(rows[3][3])) == {"_"}


def test_what_nobody_may_miss_comes_before_the_rest() -> None:
    shown = table(full(), "To decide")
    marked = [at in shown.marks for at in range(4, len(shown.rows))]
    assert marked == sorted(marked, reverse=True)
    assert any(marked)


def test_what_does_not_fit_is_counted() -> None:
    total = sum(len(s.rows) for s in review_sections_of(sample.full_run()))
    assert len(table(full(), "To decide").rows) == MOST
    assert any(isinstance(b, Note) and b.text.startswith(f"{total - MOST} more to decide") for b in full().blocks)


def review_sections_of(entries: sample.Entries):  # type: ignore[no-untyped-def]
    from runner.report.contents.holds import hold_rows
    from runner.report.contents.steps import step_rows

    names = names_from_events(entries)
    return review_sections(entries, names, step_rows(entries, names), hold_rows(entries, names))


def test_every_kind_of_matter_has_a_short_name() -> None:
    assert {section.key for section in review_sections_of(sample.full_run())} <= ONE.keys()


def test_a_long_matter_is_cut_and_says_so() -> None:
    entries = sample.full_run()
    at = next(i for i, (_, event) in enumerate(entries) if isinstance(event, ev.ExceptionNoted))
    number, event = entries[at]
    assert isinstance(event, ev.ExceptionNoted)
    entries[at] = number, replace(event, words="very " * 60)
    said = str(table(of(entries), "To decide").rows[0][1])
    assert len(said) <= LONGEST
    assert said.endswith("…")


def test_a_plain_run_asks_for_no_decision_and_has_three_places_for_names() -> None:
    assert any(isinstance(b, Note) and b.text == "Nothing in this run asks for a decision." for b in plain().blocks)
    assert [row[0] for row in table(plain(), "To be signed").rows] == ["done by", "reviewed by", "approved by"]


def test_a_signature_says_what_was_added_after_it() -> None:
    (row,) = data_of(full())["signatures"]
    assert (row["meaning"], row["count"], row["added"]) == ("done by", 96, 1)
    shown = table(full(), "Signatures")
    assert shown.marks == {0}
    assert "NOT SIGNED" in str(shown.rows[0])


def test_a_signature_that_covers_all_is_not_marked() -> None:
    entries = sample.numbered([sample.begun_run(), ev.Abandoned(BO, moment(9), "no film"),
                               ev.RunSigned(CY, late(80000), "reviewed by", "lead", "", "verified by PIN", "ab" * 32, 2)])  # fmt: skip
    assert table(of(entries), "Signatures").marks == frozenset()
    assert [row[0] for row in table(of(entries), "To be signed").rows] == ["done by", "approved by"]


def test_a_review_on_another_day_does_not_make_the_run_longer() -> None:
    entries = sample.full_run()
    assert isinstance(within_run(entries)[-1][1], ev.Abandoned)
    assert data_of(of(entries))["times"]["total_s"] == 2700.0


def test_the_newest_decision_about_an_exception_counts() -> None:
    entries = sample.full_run()
    newer = ev.ExceptionDisposed(CY, late(90000), 1, "rejected", "It swings again", "lead", "verified by PIN")
    entries.append((entries[-1][0] + 1, newer))
    first = data_of(of(entries))["exceptions"][0]
    assert first["disposition"]["disposition"] == "rejected"


@pytest.mark.parametrize("number", [99, 0])
def test_a_decision_about_an_exception_that_is_not_there_is_no_matter(number: int) -> None:
    entries = sample.plain_run()
    entries.append((99, ev.ExceptionDisposed(CY, late(9), number, "rejected", "?", "lead", "")))
    assert data_of(of(entries))["exceptions"] == []
