"""The index is never the truth: whatever happens to it, what is told is what the journals say."""

import os
import shutil
import sqlite3
import threading
from pathlib import Path

import pytest

from runner.cli.reading import read_records
from runner.record.index.base import NAME, PATIENCE_S, Index
from runner.record.index.kept import Kept
from runner.record.index.look import look, summaries
from runner.record.store import Store, Summary, summarise
from runner.report.times.read import Reader
from tests.bench.written_records import write_records

COUNT = 6


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("written")
    write_records(str(folder), COUNT)
    return folder


@pytest.fixture
def folder(written: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(written, tmp_path / "records"))


def plain(store: Store) -> list[Summary]:
    """What the journals say, without an index."""
    return [summary for path in store.paths() if (summary := summarise(path)) is not None]


class Counted:
    """Reads records, and counts them."""

    def __init__(self) -> None:
        self.paths: list[str] = []

    def __call__(self, paths: object) -> list[Kept | None]:
        assert isinstance(paths, list)
        self.paths += paths
        return list(read_records(paths))


def told(folder: Path, beside: str = "", extracts: str = "test") -> tuple[list[Kept], int]:
    """All rows with their extracts, and how many records were read for them."""
    counted = Counted()
    rows = look(Store(str(folder)), Index(str(folder), beside, extracts), "", counted)
    return rows, len(counted.paths)


def same(folder: Path, rows: list[Kept]) -> None:
    """Rows are what reading the journals anew gives."""
    store = Store(str(folder))
    assert [row.summary for row in rows] == plain(store)
    anew = [Reader().read(path) for path in store.paths()]
    assert [(row.extract, row.shared) for row in rows] == [(one.extract, one.shared) for one in anew if one is not None]


def test_what_was_read_once_is_not_read_again(folder: Path) -> None:
    first, read = told(folder)
    assert read == COUNT
    assert all(row.extract for row in first)
    same(folder, first)
    again, read = told(folder)
    assert read == 0
    same(folder, again)
    index = Index(str(folder), "", "test")
    assert [index.more(row) for row in again] == [row.more for row in first]


def test_summaries_alone_are_kept_and_completed_when_asked_for(folder: Path) -> None:
    store = Store(str(folder))
    assert list(summaries(store, Index(str(folder), "", "test"))) == plain(store)
    rows, read = told(folder)
    assert read == COUNT
    same(folder, rows)
    assert list(summaries(store, Index(str(folder), "", "test"))) == plain(store)


def test_a_record_that_grew_is_read_again_and_one_that_went_is_gone(folder: Path) -> None:
    paths = list(Store(str(folder)).paths())
    content = Path(paths[0]).read_bytes()
    lines = content.splitlines(keepends=True)
    Path(paths[0]).write_bytes(b"".join(lines[:50]) + bytes(4096))  # open, with room that was not used
    told(folder)
    before = os.stat(paths[0])
    grown = b"".join(lines[:51])
    grown += bytes(before.st_size - len(grown))
    Path(paths[0]).write_bytes(grown)
    os.utime(paths[0], ns=(before.st_atime_ns, before.st_mtime_ns))  # of the same size and time
    os.remove(paths[1])
    rows, read = told(folder)
    assert (read, len(rows), rows[0].summary.events) == (1, COUNT - 1, 51)
    same(folder, rows)
    with sqlite3.connect(folder / NAME) as base:
        assert base.execute("select count(*) from record").fetchone() == (COUNT - 1,)


def test_a_damaged_record_is_read_and_told_each_time(folder: Path) -> None:
    path = Path(next(Store(str(folder)).paths()))
    content = path.read_bytes()
    path.write_bytes(content[: len(content) // 2] + b"x" + content[len(content) // 2 + 1 :])
    for expected in (COUNT, 1, 1):
        rows, read = told(folder)
        assert read == expected
        assert not rows[0].extract
        assert rows[0].more.startswith("line ")


@pytest.mark.parametrize("how", ["garbage", "empty", "cut", "flipped", "folder", "link", "old", "strange"])
def test_a_broken_index_costs_a_reading_and_no_word(how: str, folder: Path, tmp_path: Path) -> None:
    told(folder)
    path = folder / NAME
    content = bytearray(path.read_bytes())
    match how:
        case "garbage":
            path.write_bytes(b"not a database at all" * 500)
        case "empty":
            path.write_bytes(b"")
        case "cut":
            path.write_bytes(content[: len(content) // 2])
        case "flipped":
            for at in range(5000, len(content), 97):
                content[at] ^= 1
            path.write_bytes(content)
        case "folder":
            path.unlink()
            path.mkdir()
        case "link":
            aim = tmp_path / "elsewhere"
            aim.write_text("somebody's words", encoding="utf-8")
            path.unlink()
            path.symlink_to(aim)
        case "old":
            with sqlite3.connect(path) as base:
                base.execute("update about set kind = 'another'")
        case "strange":
            path.unlink()
            with sqlite3.connect(path) as base:
                base.execute("create table theirs(words text)")
                base.execute("insert into theirs values('kept')")
    rows, _ = told(folder)
    same(folder, rows)
    if how == "link":
        assert (tmp_path / "elsewhere").read_text(encoding="utf-8") == "somebody's words"
    if how == "strange":
        with sqlite3.connect(path) as base:
            assert base.execute("select words from theirs").fetchall() == [("kept",)]
    rows, read = told(folder)
    same(folder, rows)
    assert read == (0 if how not in ("folder", "link", "strange") else COUNT)


def test_one_flipped_bit_anywhere_gives_no_other_figure(folder: Path) -> None:
    told(folder)
    path = folder / NAME
    whole = path.read_bytes()
    for at in range(100, len(whole), len(whole) // 40):
        content = bytearray(whole)
        content[at] ^= 4
        path.write_bytes(content)
        rows, _ = told(folder)
        same(folder, rows)


def test_where_the_folder_takes_no_file_the_cache_folder_does(folder: Path, tmp_path: Path) -> None:
    (folder / NAME).mkdir()  # nothing can be written under that name, whoever asks
    beside = tmp_path / "cache" / "deep" / "index.sqlite"
    assert told(folder, str(beside))[1] == COUNT
    assert beside.is_file()
    rows, read = told(folder, str(beside))
    assert read == 0
    same(folder, rows)


def test_where_nothing_can_be_written_the_answer_is_the_same(folder: Path) -> None:
    (folder / NAME).mkdir()
    rows, read = told(folder, "/proc/nothing/index.sqlite")
    assert read == COUNT
    same(folder, rows)


def test_figures_of_another_version_are_worked_out_anew(folder: Path) -> None:
    told(folder, extracts="one")
    rows, read = told(folder, extracts="two")
    assert read == COUNT
    same(folder, rows)


def test_many_terminals_at_once_get_the_same_answer(folder: Path) -> None:
    found: list[list[Kept]] = []

    def one() -> None:
        found.append(told(folder)[0])

    threads = [threading.Thread(target=one) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 6
    for rows in found:
        same(folder, rows)


def test_an_index_that_another_keeps_busy_stops_nobody(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told(folder)
    monkeypatch.setattr("runner.record.index.base.PATIENCE_S", PATIENCE_S / 40)
    with sqlite3.connect(folder / NAME, isolation_level=None) as busy:
        busy.execute("begin exclusive")
        rows, _ = told(folder)
        same(folder, rows)
        busy.execute("rollback")


def test_looking_at_no_records_makes_no_folder(tmp_path: Path) -> None:
    folder = tmp_path / "none"
    assert told(folder, str(tmp_path / "cache" / "index.sqlite")) == ([], 0)
    assert list(tmp_path.iterdir()) == []
