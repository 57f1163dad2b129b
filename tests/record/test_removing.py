"""A record taken away on purpose: said in the register, told from then on, and no excuse for anything else."""

from pathlib import Path

import pytest

from runner.record.line import Mark
from runner.record.refused import Refused
from runner.record.register import NAME, REMOVED, Finding, Known, Register, gone
from runner.record.registering import enter, rebuild, register_at, runs_there
from runner.record.removing import LONGEST, remove
from tests.record.sample import RUN, actions, content, moment

UTC = "2036-11-25T08:00:00.000Z"
OTHER = "20261125-0900-abcd"


def known(count: int, kind: str = "closed", run: str = RUN) -> Known:
    return Known(kind, run, "live", f"{count:064x}", count, moment(count).utc)


def there(folder: Path) -> Register:
    register = register_at(str(folder))
    assert isinstance(register, Register)
    assert register.flaw == ""
    return register


def missing(folder: Path) -> list[tuple[str, Finding]]:
    return list(gone(there(folder), runs_there(str(folder))))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    assert enter(str(tmp_path), (known(2, "opened"), known(9), known(7, run=OTHER))) is None
    return tmp_path


def said(folder: Path, *runs: str, by: str = "Lena Fictive", why: str = "ten years are over") -> object:
    found = remove(str(folder), runs, by, why, UTC)
    return found.words if isinstance(found, Refused) else [(one.run, one.count) for one in found]


def test_who_took_it_away_when_and_why_is_told_for_good_and_is_no_contradiction(folder: Path) -> None:
    assert [(run, one.kind, one.grave) for run, one in missing(folder)] == [(RUN, "gone", True), (OTHER, "gone", True)]
    assert said(folder, RUN) == [(RUN, 9)]
    (run, first), (_, second) = missing(folder)
    assert (run, first.kind, first.grave, second.kind) == (RUN, REMOVED, False, "gone")
    assert first.words == f"Lena Fictive said {UTC} that its record of 9 lines was taken away: ten years are over"
    newest = there(folder).runs()[RUN]
    assert (newest.by, newest.why, newest.head) == ("Lena Fictive", "ten years are over", known(9).head)


def test_several_are_entered_together_or_none_of_them(folder: Path) -> None:
    assert "does not know a run r9" in str(said(folder, RUN, "r9"))
    assert len(there(folder).lines) == 4
    assert said(folder, RUN[:-1], OTHER, OTHER) == [(RUN, 9), (OTHER, 7)]


def test_a_record_that_lies_there_is_not_taken_away(folder: Path) -> None:
    path = folder / "live" / "2026" / "11" / f"{RUN}.journal"
    path.parent.mkdir(parents=True)
    path.write_bytes(content(actions(1)))
    assert f"lies at {path}. Take it away first" in str(said(folder, RUN))


@pytest.mark.parametrize(("by", "why"), [("", "x"), (" ", "x"), ("x", ""), ("x", "y" * (LONGEST + 1)), ("\udcff", "x")])
def test_without_a_name_and_a_reason_nothing_is_entered(by: str, why: str, folder: Path) -> None:
    assert str(said(folder, RUN, by=by, why=why)).startswith("Say w")
    assert len(there(folder).lines) == 4


def test_it_is_said_once_and_what_comes_after_it_counts_again(folder: Path) -> None:
    said(folder, RUN)
    assert "was said already: by Lena Fictive" in str(said(folder, RUN))
    assert enter(str(folder), (known(11),)) is None
    assert missing(folder)[0][1].kind == "gone"
    assert said(folder, RUN) == [(RUN, 11)]


def test_one_that_fits_two_runs_and_a_register_that_is_not_there_or_damaged_are_refused(folder: Path) -> None:
    assert "fits 2 runs" in str(said(folder, "2026"))
    register = folder / NAME
    register.write_bytes(register.read_bytes().replace(b'"count":9', b'"count":8'))
    assert "--rebuild" in str(said(folder, RUN))
    register.unlink()
    assert "no register of heads" in str(said(folder, RUN))


def test_a_register_that_is_rebuilt_still_says_it(folder: Path) -> None:
    said(folder, RUN)
    path = folder / "live" / "2026" / "11" / f"{OTHER}.journal"
    path.parent.mkdir(parents=True)
    path.write_bytes(content(actions(1, mark=Mark(OTHER, "live"))))
    assert rebuild(str(folder), UTC) == 1
    assert [(one.kind, one.run) for one in there(folder).lines] == [("rebuilt", ""), ("found", OTHER), (REMOVED, RUN)]
    assert [(run, one.kind) for run, one in missing(folder)] == [(RUN, REMOVED)]
