"""The folder of records: live and dry apart, runs found by a part of their name, summaries from two lines."""

from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.procedure.clean import is_clean
from runner.record.line import Mark
from runner.record.refused import Refused
from runner.record.store import MODES, Store, mixed, mode_of_folder, summarise
from tests.record.sample import Action, actions, begun, content, moment

RUNS = (("20261125-0800-aaaa", "live"), ("20261125-0930-bbbb", "live"), ("20261124-1200-cccc", "dry"))


@pytest.fixture
def store(tmp_path: Path) -> Store:
    made = Store(str(tmp_path))
    for run, mode in RUNS:
        put(made, run, mode, actions(2, end=run.endswith("bbbb"), mark=Mark(run, mode)))
    return made


def put(store: Store, run: str, mode: str, done: list[Action], folder: str = "") -> Path:
    """A journal in the store."""
    found = store.new_path(run, folder or mode, moment(0))
    assert isinstance(found, str)
    path = Path(found)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content(done))
    return path


def test_a_new_run_lies_by_mode_year_and_month(tmp_path: Path) -> None:
    path = Store(str(tmp_path)).new_path("20261125-0800-aaaa", "dry", moment(0))
    assert path == str(tmp_path / "dry" / "2026" / "11" / "20261125-0800-aaaa.journal")
    assert not (tmp_path / "dry").exists()


@pytest.mark.parametrize("run", ["", "../x", "A", "a/b", "a.b", "-a", "a" * 65, "a\n", "ä"])
def test_a_run_is_not_called_what_is_no_name(run: str, tmp_path: Path) -> None:
    assert isinstance(Store(str(tmp_path)).new_path(run, "live", moment(0)), Refused)
    assert isinstance(Store(str(tmp_path)).new_path("a", run, moment(0)), Refused)


def test_a_run_is_found_by_id_beginning_and_path(store: Store) -> None:
    path = store.find("20261125-0930-bbbb")
    assert isinstance(path, str)
    assert store.find("20261125-09") == store.find(path) == path
    assert isinstance(store.find("20261124"), str)


@pytest.mark.parametrize(
    ("text", "words"),
    [("20261125", "fits 2 runs"), ("x", "no run x"), ("", "Name a run"), ("no/such.journal", "no journal at")],
)
def test_a_run_that_is_not_found_is_said_why(store: Store, text: str, words: str) -> None:
    refused = store.find(text)
    assert isinstance(refused, Refused)
    assert words in refused.words


def test_summaries_say_what_a_list_of_runs_shows(store: Store) -> None:
    newest = store.recent()
    assert [summary.run[-4:] for summary in newest] == ["bbbb", "aaaa", "cccc"]
    first = newest[0]
    assert (first.procedure, first.title, first.revision) == ("sample", "Change the roll, Line 3", 4)
    assert (first.mode, first.outcome, first.words, first.played) == ("live", "finished", "", False)
    assert (first.began, first.last) == (moment(0).utc, moment(180).utc)
    assert first.events == content(actions(2)).count(b"\n")
    assert [summary.run[-4:] for summary in store.recent(1)] == ["bbbb"]
    assert [summary.run[-4:] for summary in store.recent(mode="dry")] == ["cccc"]
    assert [summary.run[-4:] for summary in store.unfinished()] == ["aaaa", "cccc"]


def test_the_newest_runs_are_the_newest_of_both_modes(store: Store) -> None:
    for minute in range(5):
        mark = Mark(f"20261126-000{minute}-dddd", "dry")
        put(store, *mark, actions(1, mark=mark))
    assert [summary.run[:13] for summary in store.recent(4)] == [f"20261126-000{minute}" for minute in (4, 3, 2, 1)]
    assert store.recent(0) == ()


def test_a_long_first_and_last_line_are_read_whole(store: Store) -> None:
    mark = Mark("20261125-1000-dddd", "live")
    text = "# a long procedure\n" * 5000
    long = (ev.Abandoned("Ada", moment(60), "reason " * 10_000),)
    summary = summarise(str(put(store, *mark, [(begun(mark, text),), long])))
    assert summary is not None
    assert (summary.outcome, summary.events) == ("abandoned", 3)


def test_a_file_in_which_nothing_was_kept_is_no_run(store: Store) -> None:
    path = put(store, "20261125-1100-eeee", "live", actions(1))
    for left in (b"", path.read_bytes()[:200]):
        path.write_bytes(left)
        assert summarise(str(path)) is None
        assert len(store.recent()) == 3


def test_a_torn_tail_does_not_hide_a_run(store: Store) -> None:
    before = store.recent()
    path = Path(before[1].path)
    path.write_bytes(path.read_bytes() + b"300 0123")
    assert store.recent() == before


def test_a_damaged_run_is_listed_as_one(store: Store) -> None:
    path = put(store, "20261125-1100-eeee", "live", actions(1))
    path.write_bytes(path.read_bytes()[:-9] + b"????????\n")
    assert "damaged" in store.unfinished()[0].words


def test_a_link_among_the_journals_is_not_followed(store: Store, tmp_path: Path) -> None:
    target = tmp_path / "elsewhere.journal"
    target.write_bytes(content(actions(1)))
    link = put(store, "20261125-1100-eeee", "live", actions(1))
    link.unlink()
    link.symlink_to(target)
    assert "it is a link" in store.recent()[0].words


def test_live_and_dry_runs_are_never_mixed(store: Store) -> None:
    path = put(store, "20261125-1200-ffff", "dry", actions(1, mark=Mark("20261125-1200-ffff", "dry")), folder="live")
    assert mode_of_folder(str(path)) == "live"
    refused = mixed(str(path), "dry")
    assert refused is not None
    assert "dry run" in refused.words
    assert mixed(str(path), "live") is None
    assert "lies among the live runs" in next(s.words for s in store.recent() if s.path == str(path))


def test_the_record_of_a_run_is_not_taken_under_the_name_of_another(store: Store) -> None:
    path = put(store, "20261125-1200-ffff", "live", actions(1, mark=Mark("20261125-1200-gggg", "live")))
    refused = mixed(str(path), "live", "20261125-1200-gggg")
    assert refused is not None
    assert "the run 20261125-1200-gggg, and lies under another name" in refused.words
    assert mixed(str(path), "live", "20261125-1200-ffff") is None
    assert mixed("copy.journal", "live", "20261125-1200-gggg") is None
    assert "lies under another name" in next(s.words for s in store.recent() if s.path == str(path))


def test_a_journal_outside_a_store_belongs_to_no_mode() -> None:
    for path in ("run.journal", "/live/run.journal", "/a/live/x/11/run.journal"):
        assert mode_of_folder(path) == ""
        assert all(mixed(path, mode) is None for mode in MODES)


def test_nothing_that_acts_on_a_terminal_is_in_the_words_about_a_file(tmp_path: Path) -> None:
    refused = Store(str(tmp_path)).find("no/\x1b]0;x\x07\u202e.journal")
    assert isinstance(refused, Refused)
    assert is_clean(refused.words)
    odd = mixed(str(tmp_path / "live" / "2026" / "11" / "x.journal"), "\x1b[2J")
    assert odd is not None
    assert is_clean(odd.words)


def test_an_empty_or_absent_folder_has_no_runs(tmp_path: Path) -> None:
    store = Store(str(tmp_path / "none"))
    assert store.recent() == ()
    assert store.unfinished() == ()
