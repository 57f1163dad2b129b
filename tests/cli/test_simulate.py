"""The command: what it prints, keeps and refuses."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from tests.cli.command import PROCEDURES, ROOT, changeover

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


def test_more_processes_print_the_same() -> None:
    one, two = (changeover("simulate", WEB, "--runs", "90", "--seed", "4", "--json", "--jobs", jobs) for jobs in "12")
    assert one.code == two.code == 0
    assert one.out == two.out


def test_the_page_is_one_file(tmp_path: Path) -> None:
    page = tmp_path / "runs.html"
    done = changeover("simulate", WEB, "--runs", "5", "--format", "html", "--output", page)
    assert (done.code, done.out, done.err) == (0, "", "")
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert changeover("simulate", WEB, "--replay", "4-2", "--format", "html").code == 2
    assert changeover("simulate", WEB, "--jobs", "-1").code == 2


def test_breaking_off_ends_all_processes_at_once() -> None:
    """The signal reaches the first process alone, as from a service; the others must not play on."""
    command = [sys.executable, "-m", "runner", "simulate", str(WEB), "--runs", "100000", "--jobs", "2"]
    begun = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)}
    )
    time.sleep(4.0)  # long enough for the others to have begun; the runs take much longer
    begun.send_signal(signal.SIGINT)
    out, err = begun.communicate(timeout=60)  # the pipes close when the last of the processes has ended
    assert begun.returncode == 128 + signal.SIGINT
    assert out == ""
    assert "Traceback" not in err
