"""After a failed write: what is said before leaving is true, and the last act on record is shown on coming back."""

import pytest

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.screen import words
from runner.screen.kept import kept_words
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import to_lift

AT = Moment("2026-11-25T09:40:14.250Z", 0.0, "boot")


def test_what_became_of_the_last_act_is_not_claimed() -> None:
    assert "last act is not" not in words.BROKEN_WHAT
    assert "opened again" in words.BROKEN_WHAT


def test_a_run_that_is_opened_again_shows_the_last_act_on_record() -> None:
    run = MemoryRun(compiled())
    to_lift(run)
    run.interrupted = True
    person = Person(run)
    text = " ".join(person.screen().split())
    assert "last kept step 1.2 done (N. Petrov, 2026-11-25 09:40:14 UTC)" in text
    person.press("enter", "enter")
    assert "last kept" not in person.screen()


def test_a_record_that_cannot_be_read_back_still_opens() -> None:
    run = MemoryRun(compiled())
    run.interrupted = True

    def gone() -> None:
        raise OSError("gone")

    run.entries = gone  # type: ignore[assignment,method-assign]
    assert "INTERRUPTED" in Person(run).screen()


def test_a_state_that_was_looked_at_is_named_without_its_value() -> None:
    seen = ev.StateSeen("N. Petrov", AT, "guard", "open", "closed")
    assert "open" not in kept_words(compiled(), seen, frozenset())


@pytest.mark.parametrize("kind", ev.EVENTS)
def test_every_act_of_a_person_has_words_of_its_own(kind: type[ev.Event]) -> None:
    followed = {
        "WorkedOut", "HoldReached", "HoldRevoked", "WaitBegun", "WaitEnded", "StepNotApplicable", "TailSetAside",
        "ClockStepped", "PinRefused",
    }  # fmt: skip
    fields = {name: "x" for name in kind.__dataclass_fields__ if name not in ("by", "at")}
    told = kept_words(compiled(), kind(by="N. Petrov", at=AT, **fields), frozenset())
    assert (kind.__name__ in told) == (kind.__name__ in followed)
