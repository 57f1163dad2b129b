"""`changeover times` as a user has it: over records of runs of shipped procedures, live, dry and played."""

import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from runner.record.clock import SteppedClock
from runner.record.index.base import NAME
from runner.record.run import Run
from runner.record.store import Store
from runner.training.played import Player
from tests.procedures.plays import answers_of, intent_for
from tests.procedures.shipped import procedure_of

from .command import PROCEDURES, changeover, play

DAYS = ("2026-11-02", "2026-11-03", "2026-11-04")


def record(folder: Path, name: str, run: str, mode: str, began: str, answers: str = "") -> str:
    """A run as people make it, by an injected clock; the path of its journal."""
    clock = SteppedClock(f"{began}T08:00:00.000Z")
    intent = replace(intent_for(name, {}), run=run, mode=mode, played=False)
    # in a folder of its own: what stayed open in a run would hold up the next one there
    begun = Run.begin(Store(str(folder / f"{run}-alone")), procedure_of(name), intent, clock)
    assert isinstance(begun, Run), begun
    player = Player(begun, clock, answers_of(answers or name))
    assert player.play() == "finished", player.stopped
    begun.close()
    path = folder / Path(begun.path).relative_to(folder / f"{run}-alone")
    path.parent.mkdir(parents=True, exist_ok=True)
    return str(Path(begun.path).rename(path))


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three live runs of change-roll, one of web-break, a dry one and a played one."""
    folder = tmp_path_factory.mktemp("records")
    for at, began in enumerate(DAYS):
        record(folder, "change-roll", f"roll-{at}", "live", began, "change-roll-troubles" if at == 1 else "")
    record(folder, "web-break", "break-0", "live", DAYS[0])
    record(folder, "change-roll", "dry-0", "dry", DAYS[0])
    assert play("web-break", folder).code == 0
    return folder


def people() -> set[str]:
    """Everybody in the crews of the shipped jobs, and parts of their names."""
    names = {person for name in ("change-roll", "web-break") for _, person in intent_for(name, {}).crew}
    assert len(names) >= 3
    return names | {part for name in names for part in name.split()}


def test_real_runs_alone_count_and_what_is_left_out_is_said(records: Path) -> None:
    data = changeover("times", "--records", records, "--json").data
    assert {one["procedure"]: [row["run"] for row in one["runs"]] for one in data["procedures"]} == {
        "change-roll": ["roll-0", "roll-1", "roll-2"], "web-break": ["break-0"],
    }  # fmt: skip
    assert list(data["left_out"].values()) == [1]
    assert not data["dry"]
    assert not data["played"]
    text = changeover("times", "--records", records).out
    assert "1 run: played from a file" in text


def test_dry_and_played_runs_come_when_asked_for_and_are_marked(records: Path) -> None:
    dry = changeover("times", "--dry", "--records", records)
    assert [row["run"] for one in changeover("times", "--dry", "--records", records, "--json").data["procedures"]
            for row in one["runs"]] == ["dry-0"]  # fmt: skip
    assert "DRY RUN" in dry.out
    played = changeover("times", "web-break", "--played", "--records", records)
    assert "PLAYED FROM A FILE" in played.out
    assert (
        len(changeover("times", "web-break", "--played", "--records", records, "--json").data["procedures"][0]["runs"])
        == 2
    )


@pytest.mark.parametrize(
    ("options", "runs"),
    [
        (("change-roll", "--since", DAYS[1]), ["roll-1", "roll-2"]),
        (("change-roll", "--until", DAYS[1]), ["roll-0", "roll-1"]),
        (("change-roll", "--since", DAYS[1], "--until", DAYS[1]), ["roll-1"]),
        (("change-roll", "--last", "2"), ["roll-1", "roll-2"]),
        ((PROCEDURES / "web-break.procedure.yaml",), ["break-0"]),
        (("no-such-procedure",), []),
    ],
)
def test_a_choice_narrows_the_runs(options: tuple[str, ...], runs: list[str], records: Path) -> None:
    data = changeover("times", *options, "--records", records, "--json").data
    assert [row["run"] for one in data["procedures"] for row in one["runs"]] == runs


def test_the_figures_of_the_runs_hang_together(records: Path) -> None:
    (one,) = changeover("times", "change-roll", "--records", records, "--json").data["procedures"]
    stood = [row["stood_s"] for row in one["runs"]]
    assert one["standstill"]["median_s"] == sorted(stood)[1]
    assert one["chart"]["mean_s"] == pytest.approx(sum(stood) / 3)
    assert all(row["stood_s"] < row["whole_s"] for row in one["runs"])
    assert {row["press"] for row in one["steps"]} == {"running", "stopped"}
    assert one["exceptions"][-1]["share_up_to_here"] == pytest.approx(1)
    assert one["exceptions"]
    assert sum(row["took_s"] + row["gap_before_s"] for row in one["chain"]) <= one["runs"][-1]["whole_s"]


@pytest.mark.parametrize("form", ["text", "html", "json", "csv", "markdown"])
def test_no_output_names_a_person(form: str, records: Path) -> None:
    for options in ((), ("--dry",)):
        done = changeover("times", *options, "--records", records, "--format", form)
        assert done.code == 0, done.err
        found = {name for name in people() if name in done.out}
        assert found == set()


def test_an_answer_can_go_to_a_file_and_csv_is_a_table_a_part(records: Path, tmp_path: Path) -> None:
    path = tmp_path / "times.csv"
    done = changeover("times", "change-roll", "--csv", "--output", path, "--records", records)
    assert (done.code, done.out) == (0, "")
    heads = [part.split("\n")[0].split(",") for part in path.read_text(encoding="utf-8").split("\n\n")]
    assert all(head[:2] == ["procedure", "table"] for head in heads)
    assert [part.split("\n")[1].split(",")[1] for part in path.read_text(encoding="utf-8").split("\n\n")] == [
        "causes", "runs", "chain", "steps", "waits", "exceptions",
    ]  # fmt: skip


def test_a_damaged_record_is_named_left_out_and_ends_with_5(tmp_path: Path) -> None:
    whole, torn = (Path(record(tmp_path, "web-break", f"break-{at}", "live", DAYS[at])) for at in range(2))
    lines = torn.read_bytes().splitlines(keepends=True)
    lines[6] = lines[6].replace(b'"by":"', b'"by":"X', 1)
    torn.write_bytes(b"".join(lines))
    done = changeover("times", "--records", tmp_path, "--json")
    assert done.code == 5
    assert torn.name in done.err
    assert [row["run"] for row in done.data["procedures"][0]["runs"]] == [whole.stem]
    assert list(done.data["left_out"].values()) == [1]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--since", "yesterday"), "2026-11-25"),
        (("--until", "2026-13-01"), "2026-11-25"),
        (("--last", "0"), "1 or more"),
        (("nowhere.procedure.yaml",), "no such file"),
    ],
)
def test_what_cannot_be_understood_ends_with_2_and_says_what_to_write(
    options: tuple[str, ...], words: str, tmp_path: Path
) -> None:
    done = changeover("times", *options, "--records", tmp_path)
    assert done.code == 2
    assert words in done.err
    assert "Traceback" not in done.err


def test_an_empty_folder_is_no_fault(tmp_path: Path) -> None:
    done = changeover("times", "--records", tmp_path / "none")
    assert done.code == 0
    assert "There is no run to speak of." in done.out


def test_text_can_be_plain_ascii_and_drawings_as_wide_as_asked_for(records: Path) -> None:
    plain = changeover("times", "change-roll", "--ascii", "--width", "60", "--records", records).out
    assert plain.isascii()
    assert "*" in plain
    wide = changeover("times", "change-roll", "--width", "120", "--records", records).out
    axes = [
        [len(line) for line in out.splitlines() if line.lstrip().startswith(sign)]
        for out, sign in ((plain, "+--"), (wide, "└──"))
    ]
    assert max(axes[0]) <= 60
    assert 100 < max(axes[1]) <= 120
    assert not wide.isascii()


def test_an_answer_from_the_index_is_the_same_as_the_first(records: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(records, tmp_path / "copy"))
    (folder / NAME).unlink(missing_ok=True)
    first = changeover("times", "--played", "--json", "--records", folder).out
    assert (folder / NAME).is_file()
    assert changeover("times", "--played", "--json", "--records", folder).out == first
    with sqlite3.connect(folder / NAME) as base:  # the chain alone is lost: it is read from the record again
        base.execute("update record set more = 'nonsense'")
    assert changeover("times", "--played", "--json", "--records", folder).out == first
