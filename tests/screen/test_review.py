"""The review on the screen and line by line, over a run that lies on the disk: decided, signed with PIN, and sealed anew."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine.intents import Abandon, BeginRun, MakeSafe, NoteException, Refusal, SkipSafeAct
from runner.procedure.site import Person, Site
from runner.record.clock import SteppedClock
from runner.record.pins import hash_of
from runner.record.reading import verify_journal
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.store import Store
from runner.screen.desk import Begin
from runner.screen.pages.over import OverPage
from runner.screen.pages.review import ReviewPage
from runner.screen.plain import run_plain
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, compiled

LEAD, PIN = "S. Lind", "zzk2v"
SITE = Site(
    (
        Person("N. Petrov", ("unwind",), hash_of("other1"), None),
        Person("T. Oduya", ("rewind",), hash_of("other2"), None),
        Person(LEAD, ("lead",), hash_of(PIN), None),
    ),
    "refused",
)


def ended(folder: Path, site: Site | None) -> str:
    """The journal of a run with two exceptions that was abandoned."""
    clock = SteppedClock()
    intent = BeginRun(CREW[0][1], "run-1", "live", False, CREW, INPUTS, "test")
    run = Run.begin(Store(str(folder)), compiled(), intent, clock, site=site)
    assert isinstance(run, Run), run
    doer = CREW[0][1]
    for intent_ in (
        NoteException(doer, "", "equipment", "minor", "crane creaks"), NoteException(doer, "", "other", "note", "cold"),
        MakeSafe(doer), SkipSafeAct(doer, 0, "stands"), SkipSafeAct(doer, 1, "empty"), Abandon(doer, "no roll"),
    ):  # fmt: skip
        clock.advance(1)
        assert not isinstance(run.submit(intent_), Refusal)
    run.close()
    return run.path


class Reviewer:
    """Somebody at the keys."""

    def __init__(self, path: str, site: Site | None = None) -> None:
        self.clock = SteppedClock("2026-11-26T07:00:00.000Z", boot="next-day")
        run = Run.resume(path, self.clock, site=site, after_end=True)
        assert isinstance(run, Run), run
        self.run = run
        self.shell = Shell.over(run)
        self.shell.pages.append(ReviewPage())
        self.shell.settle()
        self.shell.picture()

    def press(self, *keys: str) -> None:
        for key in keys:
            self.clock.advance(3)
            wanted = self.shell.key(key, key if len(key) == 1 else None)
            assert not isinstance(wanted, Begin)
            if wanted is not None:
                self.shell.took(self.run.submit(wanted))

    def write(self, text: str) -> None:
        self.press(*text, "enter")

    def screen(self) -> str:
        return "\n".join(text_of(line) for line in self.shell.picture().lines)

    def kept(self, kind: type[ev.Event]) -> list[ev.Event]:
        return [entry.event for entry in self.run.entries() if isinstance(entry.event, kind)]


def whole(path: str) -> bool:
    found = verify_journal(path)
    return not isinstance(found, Refused) and found.whole


def test_all_exceptions_are_decided_and_the_run_is_signed_with_the_pin_of_the_lead(tmp_path: Path) -> None:
    path = ended(tmp_path, SITE)
    person = Reviewer(path, SITE)
    assert "2 exceptions to decide about" in person.screen()
    person.press("3", "enter", "1", "enter")  # the same about all; accepted as is
    person.write("seen, harmless")
    person.write(LEAD)
    assert f"PIN of {LEAD}" in person.screen()
    assert person.kept(ev.ExceptionDisposed) == []
    person.write(PIN)
    assert "Something is decided about each exception" in person.screen()
    assert [event.how for event in person.kept(ev.ExceptionDisposed) if isinstance(event, ev.ExceptionDisposed)] == [
        "verified by PIN"
    ] * 2
    head, count = person.run.head, person.run.journal.number
    person.press("3", "enter", "2", "enter")  # sign; reviewed by
    person.write("all in order")
    person.write(LEAD)
    person.write(PIN)
    (signed,) = person.kept(ev.RunSigned)
    assert isinstance(signed, ev.RunSigned)
    assert (signed.head, signed.count, signed.how) == (head, count, "verified by PIN")
    assert "reviewed by S. Lind" in person.screen()
    person.run.close()
    assert whole(path)


def test_a_signature_is_bound_to_the_line_that_it_names(tmp_path: Path) -> None:
    # 21 CFR 11.70 (from memory): signatures are linked to their records
    path = ended(tmp_path, None)
    person = Reviewer(path)
    person.press("4", "enter", "1", "enter")
    person.write("mine")
    person.write(CREW[0][1])
    (signed,) = person.kept(ev.RunSigned)
    assert isinstance(signed, ev.RunSigned)
    hashes = {entry.number: entry.hash for entry in person.run.entries()}
    assert hashes[signed.count] == signed.head


def test_who_the_site_does_not_have_as_the_lead_decides_nothing(tmp_path: Path) -> None:
    site = Site((*SITE.people, Person("P. Ek", ("unwind",), hash_of(PIN), None)), "allowed")
    person = Reviewer(ended(tmp_path, site), site)
    person.press("1", "enter", "1", "enter")
    person.write("fine")
    person.write("P. Ek")
    assert "P. Ek is not Shift lead" in " ".join(person.screen().split())
    person.press(*["backspace"] * 9)
    person.write("A. Stranger")
    assert "not in the site file" in " ".join(person.screen().split())
    assert person.kept(ev.ExceptionDisposed) == []


def test_something_added_after_a_signature_stands_out(tmp_path: Path) -> None:
    person = Reviewer(ended(tmp_path, None))
    person.press("3", "enter", "5", "enter")
    person.write("all harmless")
    person.write(LEAD)
    person.press("3", "enter", "2", "enter")
    person.write("x")
    person.write(LEAD)
    assert "sign again" not in person.screen()
    person.press("1", "enter", "4", "enter")
    person.write("no good after all")
    person.write(LEAD)
    assert "1 thing added since: sign again" in " ".join(person.screen().split())


def test_a_value_is_corrected_after_the_end_with_a_reason_and_the_old_one_stays(tmp_path: Path) -> None:
    path = ended(tmp_path, None)
    person = Reviewer(path)
    person.press("8", "enter", "1", "enter")  # below: two exceptions, all of them, sign, two to close, note
    person.write("1200")
    person.write("misread the ticket")
    person.write(LEAD)
    (corrected,) = person.kept(ev.AnswerCorrected)
    assert isinstance(corrected, ev.AnswerCorrected)
    assert (corrected.old, corrected.shown, corrected.reason) == ("1250 mm", "1200 mm", "misread the ticket")
    assert "REVIEW" in person.screen()
    person.run.close()
    assert whole(path)


def test_esc_leads_from_the_review_to_the_page_of_the_end_and_f2_back(tmp_path: Path) -> None:
    person = Reviewer(ended(tmp_path, None))
    person.press("escape")
    assert isinstance(person.shell.pages[-1], OverPage)
    assert "sign the record" in " ".join(person.screen().split())
    person.press("f2")
    assert isinstance(person.shell.pages[-1], ReviewPage)


def test_line_by_line_the_same_is_possible(tmp_path: Path) -> None:
    path = ended(tmp_path, None)
    clock = SteppedClock("2026-11-26T07:00:00.000Z", boot="next-day")
    run = Run.resume(path, clock, after_end=True)
    assert isinstance(run, Run)
    lines = iter(["3", "1", "seen", LEAD, "3", "2", "in order", LEAD, "back", "leave"])
    written: list[str] = []
    run_plain(run, asking(lines), written.append, first=ReviewPage())
    assert [signature.meaning for signature in run.state.signatures] == ["reviewed by"]
    assert "-- REVIEW --" in "\n".join(written)
    run.close()
    assert whole(path)


def asking(lines: Iterator[str]):  # type: ignore[no-untyped-def]
    def ask(_: str) -> str:
        line = next(lines, None)
        if line is None:
            raise EOFError
        return line

    return ask


def test_an_open_run_is_not_reviewed(tmp_path: Path) -> None:
    clock = SteppedClock()
    intent = BeginRun(CREW[0][1], "run-1", "live", False, CREW, INPUTS, "test")
    run = Run.begin(Store(str(tmp_path)), compiled(), intent, clock)
    assert isinstance(run, Run)
    run.close()
    refused = Run.resume(run.path, clock, after_end=True)
    assert isinstance(refused, Refused)
    assert "has not ended" in refused.words


@pytest.mark.parametrize("key", ["f4", "f3", "f5"])
def test_keys_of_an_open_run_do_nothing_here(tmp_path: Path, key: str) -> None:
    person = Reviewer(ended(tmp_path, None))
    before = person.run.journal.number
    person.press(key)
    assert person.run.journal.number == before
