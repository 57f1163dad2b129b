"""The run page says, before a step is begun, what the lifting gear carries and when the shift ends; plain mode says the same."""

from pathlib import Path

import pytest

from runner.engine import intents as want
from runner.engine.intents import Refusal
from runner.procedure.site import Site
from runner.procedure.site_facts import Facts
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.screen.plain import page_text
from runner.screen.shell import Shell
from tests.record.test_site_of_press import BEAM, CRANE, done, open_run, site


@pytest.fixture(autouse=True)
def utc(monkeypatch: pytest.MonkeyPatch) -> None:
    import time

    monkeypatch.setenv("TZ", "UTC0")
    time.tzset()


def page(run: Run) -> str:
    shell = Shell.over(run)
    shell.plain = True
    return " ".join(page_text(shell, shell.sheet()).split())


def test_the_end_of_the_shift_is_said_before_a_step_and_not_while_it_is_done(tmp_path: Path) -> None:
    clock = SteppedClock("2026-11-25T13:40:00.000Z")
    run = open_run(tmp_path, site(shift_ends=("06:00", "14:00")), clock)
    assert "shift The shift ends at 14:00, in 20 min." in page(run)
    assert not isinstance(run.submit(want.BeginStep("Uma", "fetch")), Refusal)
    assert "shift ends" not in page(run)


def test_nothing_is_said_where_the_shift_is_long_enough(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(shift_ends=("22:00",)), SteppedClock("2026-11-25T13:40:00.000Z"))
    assert "shift ends" not in page(run)


def test_a_lift_says_what_the_gear_carries_and_why_it_is_refused(tmp_path: Path) -> None:
    clock = SteppedClock("2026-11-25T23:50:00.000Z")
    run = open_run(tmp_path, site(gear=(CRANE, BEAM)), clock)
    done(run, "fetch", "strip", "hang")
    assert "lift roll mass 800 kg on: Crane of Line 3 carries 1000 kg" in page(run)
    assert "no lift" not in page(run)
    clock.advance(1200)
    assert "no lift Crane of Line 3 is past its inspection" in page(run)


def test_the_facts_of_a_site_without_any_say_nothing() -> None:
    assert not Facts().said
    assert Facts(gear=()).said


def test_who_is_not_qualified_is_told_until_the_first_step_is_begun(tmp_path: Path) -> None:
    run = open_run(tmp_path, Site((), "allowed", needs_qualification="tell"))
    assert f"told The register does not have Uma for {run.procedure.title} (hang):" in page(run)
    done(run, "fetch")
    assert "told" not in page(run)
