"""What is still open at a press comes quickly from the index and is what the journals say, whatever becomes of either."""

import os
from pathlib import Path

import pytest

from runner.record import left_behind as read_slowly
from runner.record.index import look
from runner.record.index.base import NAME, Index
from runner.record.left_behind import NOTHING, LeftBehind, Noted, as_text, from_text
from runner.record.still_open import left_open, still_open
from runner.record.store import Store
from tests.record.test_still_open import DENT, LATCH, PRESS, ended


def both(folder: Path) -> tuple[list[str], list[str]]:
    """Words of what is open: through the index, and from the journals alone."""
    slow = Store(str(folder))
    quick = Store(str(folder), index=lambda: Index(slow.folder))
    assert still_open(quick) == still_open(slow)
    assert left_open(quick, PRESS) == left_open(slow, PRESS)
    return [one.left.words for one in still_open(quick)], [one.left.words for one in still_open(slow)]


def test_it_is_what_the_journals_say_when_the_index_is_new_and_when_it_is_not(tmp_path: Path) -> None:
    assert both(tmp_path) == ([], [])
    ended(tmp_path, "r1", DENT, LATCH)
    for _ in (1, 2):
        assert both(tmp_path)[0] == ["Core is dented", "Latch does not close"]
    ended(tmp_path, "r2", DENT, mode="dry")
    ended(tmp_path, "r3", DENT)
    assert both(tmp_path)[0] == ["Core is dented", "Latch does not close", "Core is dented"]


def test_no_journal_is_read_again_that_still_fits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ended(tmp_path, "r1", DENT)
    ended(tmp_path, "r2", LATCH)
    read: list[str] = []

    def counted(path: str, io: object) -> LeftBehind:
        read.append(os.path.basename(path))
        return read_slowly.left_behind(path, Store(str(tmp_path)).io)

    monkeypatch.setattr(look, "left_behind", counted)
    quick = Store(str(tmp_path), index=lambda: Index(str(tmp_path)))
    assert len(still_open(quick)) == 2
    assert len(still_open(quick)) == 2
    assert sorted(read) == ["r1.journal", "r2.journal"]
    Path(next(quick.paths("live"))).touch()
    assert len(still_open(quick)) == 2
    assert len(read) == 3


@pytest.mark.parametrize("how", ["garbage", "other words", "gone", "flipped"])
def test_a_broken_index_hides_nothing_and_invents_nothing(how: str, tmp_path: Path) -> None:
    made = ended(tmp_path, "r1", DENT, LATCH)
    wanted = ["Core is dented", "Latch does not close"]
    assert both(tmp_path)[0] == wanted
    path = tmp_path / NAME
    match how:
        case "garbage":
            path.write_bytes(b"no database" * 999)
        case "other words":
            path.write_bytes(path.read_bytes().replace(b"Core is dented", b"Core is mended"))
        case "gone":
            path.unlink()
        case _:
            Path(made.path).write_bytes(
                Path(made.path).read_bytes().replace(b"Core is dented", b"Core is d\xffnted", 1)
            )
            wanted = wanted[1:]
    assert both(tmp_path)[0] == wanted


def test_a_record_that_was_taken_away_leaves_nothing_open(tmp_path: Path) -> None:
    made = ended(tmp_path, "r1", DENT)
    assert both(tmp_path)[0] == ["Core is dented"]
    Path(made.path).unlink()
    assert both(tmp_path) == ([], [])


def test_as_text_and_back_it_is_the_same() -> None:
    one = Noted(3, "equipment", "serious", 'Latch\u2028 \\ "closes"', "Lena", True, "Uma", "2026-11-25T08:00:00.000Z")
    for left in (
        NOTHING,
        LeftBehind("r1", "t", "p", (one,), (("r0", 2), ("r1", 3))),
        NOTHING._replace(closed=(("r", 1),)),
    ):
        assert from_text(as_text(left)) == left
    assert as_text(NOTHING) == ""
