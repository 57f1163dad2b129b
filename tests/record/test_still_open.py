"""Exceptions that follow the press: found in the journals alone, carried into the next run, gone once closed."""

from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.procedure.model import Procedure
from runner.record.clock import SteppedClock
from runner.record.index.base import Index
from runner.record.run import Run
from runner.record.still_open import still_open
from runner.record.store import Store
from tests.record.test_run import PROCEDURE, begin, begin_intent, must

PRESS = PROCEDURE.equipment
OTHER = PROCEDURE._replace(equipment="Line 4, slitter")
DENT = want.NoteException("Uma", "", "material", "minor", "Core is dented")
LATCH = want.NoteException("Uma", "", "equipment", "serious", "Latch does not close")


def ended(
    folder: Path, run: str, *intents: want.AnyIntent, procedure: Procedure = PROCEDURE, mode: str = "live"
) -> Run:
    """A run that was begun, did these things and was abandoned after its make-safe list."""
    clock = SteppedClock()
    made = begin(folder, clock, intent=begin_intent(run, mode), procedure=procedure)
    must(made, *intents, want.MakeSafe("Uma"), want.Abandon("Uma", "shift is over"))
    made.close()
    return made


def words(folder: Path, equipment: str = "") -> list[str]:
    found = still_open(Store(str(folder)), equipment)
    assert still_open(Store(str(folder), index=lambda: Index(str(folder))), equipment) == found
    return [one.left.words for one in found]


def test_what_is_open_when_a_run_ends_is_carried_into_the_next_run_at_the_press(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT, LATCH)
    assert words(tmp_path, PRESS) == ["Core is dented", "Latch does not close"]
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r2"))
    carried = [entry.event for entry in run.entries() if isinstance(entry.event, ev.ExceptionCarried)]
    assert [(e.earlier_run, e.earlier_number, e.blocking) for e in carried] == [("r1", 1, False), ("r1", 2, True)]
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    assert again.state == run.state
    again.close()


def test_one_that_is_closed_in_a_later_run_does_not_come_again(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT, LATCH)
    ended(tmp_path, "r2", want.CloseException("Uma", 2, "Spring changed"))
    assert words(tmp_path, PRESS) == ["Core is dented"]
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r3"))
    assert [(e.run, e.of) for e in run.state.open_exceptions] == [("r1", 1)]
    run.close()


def test_one_that_was_only_read_or_accepted_comes_again(tmp_path: Path) -> None:
    ended(tmp_path, "r1", LATCH)
    ended(tmp_path, "r2", want.ReadExceptions("Uma"), want.AcceptException("Lena", 1, "a second latch holds"))
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r3"))
    assert [(e.run, e.accepted_by) for e in run.state.open_exceptions] == [("r1", "")]
    run.close()


def test_other_equipment_has_its_own_and_spacing_makes_no_other_press(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT)
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r2"), procedure=OTHER)
    assert run.state.exceptions == ()
    run.close()
    assert words(tmp_path, PRESS.upper().replace(" ", "  ")) == ["Core is dented"]


def test_an_open_run_keeps_its_exceptions_to_itself_until_it_ends(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r1"))
    must(run, DENT)
    run.close()
    assert words(tmp_path) == []


@pytest.mark.parametrize("mode", ["dry", "live"])
def test_a_dry_run_neither_leaves_nor_carries(mode: str, tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT, mode=mode)
    run = begin(tmp_path, SteppedClock(), intent=begin_intent("r2", "dry"))
    assert run.state.exceptions == ()
    run.close()
    assert words(tmp_path) == (["Core is dented"] if mode == "live" else [])


def test_a_record_of_before_that_names_no_equipment_is_asked_for_its_procedure(tmp_path: Path) -> None:
    made = ended(tmp_path, "r1", DENT)
    path = Path(made.path)
    first, _, rest = path.read_bytes().partition(b"\n")
    from dataclasses import replace

    from runner.record.line import GENESIS, Entry, decode, encode

    entry = decode(first + b"\n")
    assert isinstance(entry, Entry)
    assert isinstance(entry.event, ev.RunBegun)
    old, _ = encode(replace(entry.event, equipment=""), 1, GENESIS, entry.mark, entry.left, entry.of)
    path.write_bytes(old + rest)
    assert words(tmp_path, PRESS) == ["Core is dented"]


def test_a_damaged_line_hides_no_exception_of_the_others(tmp_path: Path) -> None:
    made = ended(tmp_path, "r1", DENT, LATCH)
    path = Path(made.path)
    path.write_bytes(path.read_bytes().replace(b"Core is dented", b"Core is d\xffnted", 1))
    assert words(tmp_path, PRESS) == ["Latch does not close"]


def test_a_site_says_which_severities_block(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT, LATCH)
    store = Store(str(tmp_path))
    for severities, expected in (
        ((), [False, True]),
        (("minor",), [True, False]),
        (("minor", "serious"), [True, True]),
    ):
        assert [one.left.blocking for one in still_open(store, severities=severities)] == expected
