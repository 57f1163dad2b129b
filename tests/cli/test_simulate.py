"""The command: what it prints, keeps and refuses."""

from pathlib import Path

from tests.cli.command import PROCEDURES, changeover

SLITTER = PROCEDURES / "slitter-knives.procedure.yaml"
WEB = PROCEDURES / "web-break.procedure.yaml"


def test_the_same_seed_prints_the_same(tmp_path: Path) -> None:
    first, second = (changeover("simulate", WEB, "--runs", "5", "--seed", "4", "--json") for _ in range(2))
    assert first.out == second.out
    assert first.data["runs"] == 5
    assert set(first.data["total_s"]) == {"0", "0.05", "0.25", "0.5", "0.75", "0.95", "1"}


def test_one_run_is_played_again_and_kept_as_a_dry_and_played_one(tmp_path: Path) -> None:
    done = changeover("simulate", WEB, "--replay", "4-2", "--keep", tmp_path)
    assert "4-2: " in done.out.splitlines()[-1]
    (journal,) = tmp_path.rglob("*.journal")
    assert journal.relative_to(tmp_path).parts[0] == "dry"
    assert changeover("verify", journal).code == 0
    assert changeover("simulate", WEB, "--replay", "4-2").out == done.out


def test_what_cannot_be_meant_is_refused_with_what_to_type(tmp_path: Path) -> None:
    for wrong, words in (
        (("--replay", "x"), "1-734"),
        (("--runs", "0"), "--runs takes"),
        (("--seed", "-1"), "--seed takes"),
        (("--keep", str(SLITTER)), "--keep takes a folder"),
    ):
        done = changeover("simulate", SLITTER, *wrong)
        assert done.code == 2
        assert words in done.err


def test_a_run_is_not_kept_twice_under_one_name(tmp_path: Path) -> None:
    changeover("simulate", WEB, "--replay", "4-2", "--keep", tmp_path)
    again = changeover("simulate", WEB, "--replay", "4-2", "--keep", tmp_path)
    assert again.code == 1
    assert "no job begins" in again.out
    assert "Traceback" not in again.err
