"""The review after the end: who may decide and sign, what a signature covers, what still may be added."""

from dataclasses import replace

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.identity import act_word
from runner.engine.intents import Refusal
from runner.engine.state import DISPOSITIONS, MEANINGS, VERIFIED

from .bench import Bench, compiled, kinds

STEPS = """
  - phase: Work
    steps:
      - {id: feed, by: unwind, do: Read the gauge., read: {fed: {ask: Fed, unit: mm, within: [0, 900]}}}
      - {id: last, by: unwind, do: "Hang the web of {width}."}
"""
HEAD = "a" * 64


def ended(exceptions: int = 1) -> Bench:
    bench = Bench(compiled(STEPS))
    bench.begin(width="1000")
    for number in range(exceptions):
        bench.must(want.NoteException("Uma", "feed", "equipment", "minor", f"it creaks, {number}"))
    bench.must(want.MakeSafe("Uma"))
    bench.must(want.Abandon("Uma", "no more film"))
    assert bench.state.outcome == "abandoned"
    return bench


def sign(meaning: str, by: str = "Lee", **more: object) -> want.SignRun:
    return want.SignRun(by, meaning, head=HEAD, count=12, **more)  # type: ignore[arg-type]


def dispose(number: int = 1, by: str = "Lee", disposition: str = DISPOSITIONS[0]) -> want.DisposeExceptions:
    return want.DisposeExceptions(by, (number,), disposition, "it holds")


def test_a_run_is_reviewed_and_signed_only_after_its_end() -> None:
    bench = Bench(compiled(STEPS))
    bench.begin(width="1000")
    bench.must(want.NoteException("Uma", "", "equipment", "minor", "it creaks"))
    assert "has not ended" in bench.refused(dispose())
    assert "has not ended" in bench.refused(sign("done by", "Uma"))


def test_a_signature_says_name_meaning_time_and_the_head_that_it_covers() -> None:
    # 21 CFR 11.50 (a) and 11.70 (from memory): printed name, date and time, meaning; linked to its record.
    bench = ended(0)
    (signed,) = bench.must(sign("reviewed by"))
    assert isinstance(signed, ev.RunSigned)
    assert (signed.by, signed.meaning, signed.head, signed.count) == ("Lee", "reviewed by", HEAD, 12)
    assert signed.at.utc == "2026-11-25T09:00:00.000Z"
    assert signed.how == "identity not verified"
    assert [one.meaning for one in bench.state.signatures] == ["reviewed by"]


def test_a_pin_is_said_to_have_been_given() -> None:
    bench = ended(0)
    (signed,) = bench.must(sign("reviewed by", verified=("lee",)))
    assert isinstance(signed, ev.RunSigned)
    assert signed.how == VERIFIED


def test_nobody_reviews_a_run_in_which_they_worked_as_another_than_the_lead() -> None:
    bench = ended()
    assert "another person reviews it" in bench.refused(dispose(by="uma"))
    bench.must(dispose())
    assert "another person reviews it" in bench.refused(sign("reviewed by", "Uma"))


def test_who_had_no_role_signs_nothing_as_done() -> None:
    bench = ended(0)
    assert "no role" in bench.refused(sign("done by", "Kim"))
    (signed,) = bench.must(sign("done by", "Uma"))
    assert isinstance(signed, ev.RunSigned)
    assert signed.role == "unwind"


@pytest.mark.parametrize("meaning", MEANINGS[1:])
def test_before_a_review_is_signed_something_is_decided_about_each_exception(meaning: str) -> None:
    bench = ended(2)
    bench.must(dispose(1))
    assert "decided about each exception" in bench.refused(sign(meaning))


def test_an_approval_needs_a_review_of_the_same_record() -> None:
    bench = ended()
    bench.must(dispose())
    assert "reviewed by" in bench.refused(sign("approved by", "Kim"))
    bench.must(sign("reviewed by"))
    bench.must(sign("approved by", "Kim"))
    bench.must(want.CorrectAnswer("Lee", "", "width", "1001", "misread"))
    assert [one.added for one in bench.state.signatures] == [1, 1]
    assert "reviewed by" in bench.refused(sign("approved by", "Kim"))


def test_a_later_decision_counts_and_makes_the_signature_before_it_cover_less() -> None:
    bench = ended()
    bench.must(dispose())
    bench.must(sign("reviewed by"))
    bench.must(dispose(disposition="rejected"))
    assert bench.state.exceptions[0].disposition == "rejected"
    assert bench.state.signatures[0].added == 1


def test_a_correction_after_the_end_stands_on_record_and_works_nothing_out_anew() -> None:
    bench = ended(0)
    events = bench.must(want.CorrectAnswer("Lee", "", "width", "1200", "misread the ticket"))
    assert kinds(events)[0] == "AnswerCorrected"
    assert "WorkedOut" not in kinds(events)
    assert bench.state.values["area"].stale


def test_nothing_else_is_added_to_a_run_that_has_ended() -> None:
    bench = ended(0)
    assert "nothing is added" in bench.refused(want.BeginStep("Uma", "feed"))
    assert "nothing is added" in bench.refused(want.Resume("Uma"))


def test_a_decision_is_one_of_the_table_and_says_why() -> None:
    bench = ended()
    assert "one of" in bench.refused(dispose(disposition="fine"))
    assert "Say in a few words" in bench.refused(want.DisposeExceptions("Lee", (1,), DISPOSITIONS[0], " "))
    assert "There is no exception 9" in bench.refused(dispose(9))


def test_all_that_comes_after_an_end_is_what_the_table_says() -> None:
    bench = ended()
    before = len(bench.events)
    bench.must(want.CorrectAnswer("Lee", "", "width", "1200", "misread"))
    bench.must(want.NoteException("Lee", "", "other", "note", "seen late"))
    bench.must(want.CloseException("Lee", 1, "oiled"))
    bench.must(want.DisposeExceptions("Lee", (1, 2, 3)[: len(bench.state.exceptions)], "no action", "all is well"))
    bench.must(sign("reviewed by"))
    assert {type(event) for event in bench.events[before:]} <= ev.AFTER_SEAL


@pytest.mark.parametrize(
    "intent",
    [
        want.CorrectAnswer("Uma", "", "width", "1200", "misread"), want.NoteException("Uma", "", "other", "note", "late"),
        want.CloseException("Uma", 1, "oiled"), want.DisposeExceptions("Lee", (1,), "no action", "fine"),
        want.SignRun("Uma", "done by", head=HEAD, count=9),
    ],
)  # fmt: skip
def test_after_the_end_everybody_whom_the_site_knows_gives_a_pin_each_time(intent: want.Intent) -> None:
    bench = ended()
    bench.state = replace(
        bench.state, unknown="refused", site_people=("Uma", "Lee"), recognised=("uma", "lee"),
        identities={"uma": VERIFIED, "lee": VERIFIED},
    )  # fmt: skip
    refused = bench.attempt(intent)  # type: ignore[arg-type]
    assert isinstance(refused, Refusal)
    assert refused.pin_of == intent.by
    assert not isinstance(bench.attempt(replace(intent, verified=(intent.by,))), Refusal)  # type: ignore[arg-type]


def test_the_acts_have_words() -> None:
    assert act_word(sign("done by")) == "sign-run"
