"""Roles and the register of qualifications: told and on record, refused, or not looked at, as the site file says."""

from dataclasses import replace
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.intents import Refusal
from runner.procedure.qualified import Qualification
from runner.procedure.site import Site
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from tests.record.test_identity import LENA, PEOPLE, refused, taken, to_the_hold
from tests.record.test_run import PROCEDURE, begin_intent, on_disk

UMA = Qualification("Uma", PROCEDURE.id, PROCEDURE.revision, "perform", "2026-10-01", "", "Lena")


def site(wanted: str, *register: Qualification) -> Site:
    return Site(PEOPLE, "refused", needs_qualification=wanted, register=register)


def begun(folder: Path, here: Site, mode: str = "live", played: bool = False) -> Run | Refusal:
    intent = replace(begin_intent(mode=mode), played=played)
    return Run.begin(Store(str(folder)), PROCEDURE, intent, SteppedClock(), site=here)


def missing(run: Run) -> list[tuple[str, str]]:
    return [(e.role, e.name) for e in on_disk(run) if isinstance(e, ev.QualificationMissing)]


def test_a_site_that_refuses_names_everybody_whom_the_register_does_not_have(tmp_path: Path) -> None:
    refusal = begun(tmp_path, site("refuse", UMA))
    assert isinstance(refusal, Refusal)
    assert refusal.reason.startswith(f"The register does not have Lena for {PROCEDURE.title} (lift): ")
    assert list(tmp_path.iterdir()) == []
    run = begun(tmp_path, site("refuse", UMA, UMA._replace(person="lena")))
    assert isinstance(run, Run)
    assert missing(run) == []


def test_a_site_that_tells_puts_it_on_record_and_goes_on(tmp_path: Path) -> None:
    run = begun(tmp_path, site("tell", UMA))
    assert isinstance(run, Run)
    assert missing(run) == [("lead", "Lena")]


def test_a_role_that_is_taken_later_is_told_as_well(tmp_path: Path) -> None:
    run = begun(tmp_path, site("tell", UMA))
    assert isinstance(run, Run)
    to_the_hold(run)
    hand_over = want.HandOver("Uma", "unwind", "Lena", "guard open")
    assert refused(run, hand_over).pin_of == "Lena"
    assert missing(run) == [("lead", "Lena")]
    taken(run, hand_over, ("Lena", LENA))
    assert missing(run) == [("lead", "Lena"), ("unwind", "Lena")]


@pytest.mark.parametrize(
    ("wanted", "mode", "played"), [("off", "live", False), ("refuse", "dry", False), ("tell", "live", True)]
)
def test_without_the_key_and_in_dry_and_played_runs_nobody_asks(
    tmp_path: Path, wanted: str, mode: str, played: bool
) -> None:
    run = begun(tmp_path, site(wanted), mode, played)
    assert isinstance(run, Run), run
    assert missing(run) == []


def test_an_intent_that_brings_its_own_words_is_not_believed(tmp_path: Path) -> None:
    run = begun(tmp_path, site("tell", UMA, UMA._replace(person="Lena")))
    assert isinstance(run, Run)
    to_the_hold(run)
    taken(run, want.LookAt("Uma", "drive", "stopped", told=(("lead", "Lena", "nothing"),)))
    assert missing(run) == []
