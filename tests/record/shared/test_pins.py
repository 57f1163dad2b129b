"""PINs where two terminals share a run: checked by the keeper, kept nowhere, and each terminal asks for its own."""

from dataclasses import fields
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.intents import Refusal
from runner.record.clock import SystemClock
from runner.record.run import Run
from runner.record.shared.joined import Joined
from runner.record.shared.keeper import Keeper
from runner.record.store import Store
from tests.record.shared.bench import events_of, joined, until
from tests.record.test_identity import SITE, UMA
from tests.record.test_run import PROCEDURE, begin_intent

BEGIN, END = want.BeginStep("Uma", "off"), want.EndStep("Uma", "off")


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Keeper, Joined]:
    """Two terminals on a run whose people give PINs."""
    run = Run.begin(Store(str(tmp_path)), PROCEDURE, begin_intent(), SystemClock(), site=SITE)
    assert isinstance(run, Run)
    here = Keeper(run).open()
    return here, joined(here.path)


def pin_of(answer: object) -> str:
    """Whose PIN is asked for."""
    assert isinstance(answer, Refusal), answer
    return answer.pin_of


def test_a_pin_is_checked_where_the_record_is_kept_and_stands_nowhere_in_it(pair: tuple[Keeper, Joined]) -> None:
    here, there = pair
    assert pin_of(there.submit(BEGIN)) == "Uma"
    wrong = there.submit(want.WithPin(BEGIN, (("Uma", "8642"),)))
    assert isinstance(wrong, Refusal)
    assert "not the PIN of Uma" in wrong.reason
    assert not isinstance(there.submit(want.WithPin(BEGIN, (("Uma", UMA),))), Refusal)
    events = events_of(here.path)
    kinds = [type(event) for event in events]
    assert ev.PinRefused in kinds
    assert ev.IdentityGiven in kinds
    said = [
        str(getattr(event, one.name)) for event in events for one in fields(event) if one.name not in ("at", "digest")
    ]  # moments and digests may hold any four digits
    assert not [text for text in said if UMA in text or "8642" in text]
    there.close()
    here.close()


def test_a_pin_given_at_one_terminal_counts_for_nothing_at_another(pair: tuple[Keeper, Joined]) -> None:
    here, there = pair
    assert not isinstance(there.submit(want.WithPin(BEGIN, (("Uma", UMA),))), Refusal)
    assert pin_of(here.submit(END)) == "Uma"
    assert not isinstance(there.submit(END), Refusal)
    begin = want.BeginStep("Uma", "open")
    assert not isinstance(here.submit(want.WithPin(begin, (("Uma", UMA),))), Refusal)
    until(lambda: there.head == here.head)
    assert not isinstance(there.submit(want.EndStep("Uma", "open")), Refusal)
    there.close()
    here.close()


def test_after_an_interruption_only_who_resumed_is_known_and_only_at_their_terminal(
    pair: tuple[Keeper, Joined],
) -> None:
    here, there = pair
    assert not isinstance(here.submit(want.WithPin(BEGIN, (("Uma", UMA),))), Refusal)
    look = want.LookAt("Uma", "guard", "closed")
    assert not isinstance(there.submit(want.WithPin(look, (("Uma", UMA),))), Refusal)
    here.submit(want.Pause("Uma", "go on"))
    assert not isinstance(there.submit(want.WithPin(want.Resume("Uma"), (("Uma", UMA),))), Refusal)
    assert pin_of(here.submit(END)) == "Uma"
    assert not isinstance(there.submit(END), Refusal)
    there.close()
    here.close()
