"""Two processes on one run, one of them killed at a moment by chance: what was told as kept is there, once."""

import random
import signal
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.record.shared.keeper import Keeper
from tests.cli.command import ROOT
from tests.record.shared.bench import events_of, opened_again

COUNT = 150


def sit(*arguments: str) -> subprocess.Popen[str]:
    """A terminal as a process."""
    return subprocess.Popen(
        [sys.executable, "-m", "tests.record.shared.sitting", *arguments, str(COUNT)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT,
    )  # fmt: skip


def first(process: subprocess.Popen[str]) -> str:
    """The path that it says first."""
    assert process.stdout is not None
    word, path = process.stdout.readline().split()
    assert word == "path"
    return path


def until_taken(process: subprocess.Popen[str], count: int) -> str:
    """What it says until it was told of so many as kept."""
    assert process.stdout is not None
    return "".join(process.stdout.readline() for _ in range(count))


def rest(process: subprocess.Popen[str]) -> str:
    """What it says until it ends."""
    assert process.stdout is not None
    said = process.stdout.read()
    process.wait(30)
    return said


def taken(said: str) -> list[str]:
    """What a terminal was told as kept; a torn last line counts for nothing."""
    return [line.split()[1] for line in said.split("\n")[:-1] if line.startswith("taken ")]


@pytest.mark.parametrize("victim", ["keeper", "joined"])
@pytest.mark.parametrize("seed", range(5))
def test_whoever_is_killed_nothing_told_is_lost_and_nothing_is_doubled(tmp_path: Path, victim: str, seed: int) -> None:
    keeper = sit("keep", str(tmp_path), "A")
    path = first(keeper)
    other = sit("join", path, "B")
    first(other)
    for process in (keeper, other):
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    dead, left = (keeper, other) if victim == "keeper" else (other, keeper)
    said_dead = until_taken(dead, random.Random(seed).randint(0, COUNT // 3))
    dead.send_signal(signal.SIGKILL)
    said_dead += rest(dead)
    said_left = rest(left)
    assert said_left.endswith("left\n"), said_left
    again = opened_again(path)
    assert isinstance(again, Keeper), again
    again.close()
    found = Counter(event.words for event in events_of(path) if isinstance(event, ev.ExceptionNoted))
    told = taken(said_dead) + taken(said_left)
    assert len(taken(said_dead)) < COUNT, "it was killed too late to show anything"
    assert len(taken(said_left)) == COUNT
    assert {words: found[words] for words in told} == dict.fromkeys(told, 1)
    assert max(found.values()) == 1
