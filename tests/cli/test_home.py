"""The home page of the command line: what is listed comes from the folders alone, and `--plain` opens what is picked."""

from pathlib import Path

from runner.cli.listing import listing_of
from runner.engine import intents as want
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from tests.cli.command import changeover
from tests.record.test_run import TO_THE_HOLD, begin, begin_intent, must
from tests.record.test_still_open import DENT, LATCH, ended

PROCEDURES = Path(__file__).parents[1] / "screen"


def begun(folder: Path, run: str, *intents: want.AnyIntent) -> Run:
    made = begin(folder, SteppedClock(), intent=begin_intent(run))
    must(made, *intents)
    made.close()
    return made


def test_an_unfinished_run_is_listed_with_its_place_since_when_and_who(tmp_path: Path) -> None:
    begun(tmp_path, "r1", *TO_THE_HOLD)
    begun(tmp_path, "r2", *TO_THE_HOLD[:2])
    begun(tmp_path, "r3")
    listed = {line.path[-10:-8]: line.words for line in listing_of(str(PROCEDURES), Store(str(tmp_path))).unfinished}
    assert listed == {
        "r1": "Lift the new roll in; at step 1.2; since 11-25 08:00; Uma, Lena",
        "r2": "Lift the new roll in; after step 1.1; since 11-25 08:00; Uma, Lena",
        "r3": "Lift the new roll in; before its first step; since 11-25 08:00; Uma, Lena",
    }


def test_a_line_is_found_by_title_id_job_date_and_person(tmp_path: Path) -> None:
    ended(tmp_path, "r1")
    (line,) = listing_of(str(PROCEDURES), Store(str(tmp_path))).recent
    whole = f"{line.words} {line.find}"
    assert all(words in whole for words in ("Lift the new roll in", "r1", "lift", "1250 mm", "2026-11-25", "Lena"))
    assert "abandoned" in line.words


def test_procedures_say_revision_and_status_and_open_exceptions_those_that_block_first(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT, LATCH)
    listed = listing_of(str(PROCEDURES), Store(str(tmp_path)))
    assert any("Change a small roll, both sides; revision 2" in line.words for line in listed.procedures)
    assert [line.words.partition(";")[0] for line in listed.still_open] == [
        "BLOCKS: Latch does not close", "minor: Core is dented",
    ]  # fmt: skip
    assert all(line.path.endswith("r1.journal") for line in listed.still_open)


def test_the_index_and_the_journals_list_the_same(tmp_path: Path) -> None:
    begun(tmp_path, "r2", *TO_THE_HOLD)
    ended(tmp_path, "r1", DENT)
    first = listing_of(str(PROCEDURES), Store(str(tmp_path)))
    assert listing_of(str(PROCEDURES), Store(str(tmp_path))) == first


def test_the_command_lists_searches_and_opens_line_by_line(tmp_path: Path) -> None:
    ended(tmp_path, "r1", DENT)
    given = "nothing like it\n/back\nabandoned\n1\n/back\n/back\n"
    done = changeover("--plain", "--records", tmp_path, "--procedures", PROCEDURES, given=given)
    assert done.code == 0, done.err
    assert "Nothing fits nothing like it." in done.out
    assert "1 Lift the new roll in; abandoned" in done.out
    assert "Core is dented" in done.out.split("1 Lift the new roll in; abandoned")[1]  # the report that was opened
