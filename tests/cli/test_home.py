"""The home page of the command line: what is listed comes from the folders alone, and `--plain` opens what is picked."""

from pathlib import Path

import pytest

from runner.cli.commands.home import FOLDER, folder_of
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


def test_scenarios_of_the_folder_and_of_the_folders_in_it_are_offered_by_name_and_say_dry_run(tmp_path: Path) -> None:
    folder = Path(__file__).parents[2] / "procedures"
    listed = listing_of(str(folder), Store(str(tmp_path))).practice
    assert [line.path for line in listed] == sorted(map(str, folder.rglob("*.scenario.yaml")))
    assert "DRY RUN; leaking-chuck; Mount the new roll; change-roll" in [line.words for line in listed]


def test_a_scenario_with_faults_is_listed_as_such(tmp_path: Path) -> None:
    (tmp_path / "half.scenario.yaml").write_text("scenario: 1\nid: half\n", encoding="utf-8")
    (line,) = listing_of(str(tmp_path), Store(str(tmp_path / "r"))).practice
    assert line.words == "DRY RUN; half.scenario.yaml; has faults; lint it"


def test_a_scenario_is_picked_by_its_name_and_is_a_dry_run(tmp_path: Path) -> None:
    folder = Path(__file__).parents[2] / "procedures"
    given = "leaking-chuck\n1\nread\n"
    done = changeover("--plain", "--procedures", folder, "--records", tmp_path, given=given)
    assert "Dry runs, with no press" in done.out
    assert "What is judged" in done.out
    assert "Mount the new roll: practice" in done.err
    assert [path.relative_to(tmp_path).parts[0] for path in tmp_path.rglob("*.journal")] == ["dry"]


def test_a_scenario_with_faults_that_is_picked_says_what_to_mend(tmp_path: Path) -> None:
    (tmp_path / "half.scenario.yaml").write_text("scenario: 1\nid: half\n", encoding="utf-8")
    done = changeover("--plain", "--procedures", tmp_path, "--records", tmp_path / "r", given="half\n1\n")
    assert "half.scenario.yaml" in done.err
    assert "Traceback" not in done.err


def test_whoever_stands_in_the_folder_of_procedures_finds_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(PROCEDURES)
    assert any(
        "Change a small roll" in line.words for line in listing_of(folder_of(FOLDER), Store(str(tmp_path))).procedures
    )
    monkeypatch.chdir(tmp_path)
    (tmp_path / FOLDER).mkdir()
    assert folder_of(FOLDER) == FOLDER
    assert folder_of("elsewhere") == "elsewhere"
