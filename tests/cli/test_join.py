"""`changeover join`: a second terminal on a run that is open, line by line, and what is said where none can be joined."""

import json
from pathlib import Path

from runner.engine import events as ev
from runner.engine import intents as want
from tests.cli.command import changeover
from tests.record.shared.bench import events_of, kept


def test_what_is_typed_at_the_joined_terminal_is_done_by_the_keeper_and_the_run_stays_open(tmp_path: Path) -> None:
    here = kept(tmp_path)
    done = changeover(
        "join", "--plain", "--records", tmp_path, "--name", "rewind side", "--json", given="begin\ndone\n"
    )
    assert done.code == 4
    last = done.out.strip().split("\n")[-1]
    assert json.loads(last) == {"run": here.state.run, "journal": here.path, "outcome": "unfinished"}
    assert "This terminal has left; the run stays open at this place." in done.out + done.err
    assert f"go on with: changeover join {here.path}" in done.err
    events = [event for event in events_of(here.path) if isinstance(event, ev.StepBegun | ev.StepDone)]
    assert [(type(event), event.terminal) for event in events] == [
        (ev.StepBegun, "rewind side"), (ev.StepDone, "rewind side"),
    ]  # fmt: skip
    assert not here.state.halted
    here.close()


def test_a_run_is_named_by_the_beginning_of_its_id_too(tmp_path: Path) -> None:
    here = kept(tmp_path)
    done = changeover("join", here.state.run[:8], "--plain", "--records", tmp_path, given="again\n")
    assert done.code == 4
    assert "LIVE RUN" in done.out
    here.close()


def test_a_finished_run_ends_as_finished_at_the_joined_terminal_too(tmp_path: Path) -> None:
    here = kept(tmp_path)
    here.submit(want.Abandon("Uma", "no roll"))
    done = changeover("join", here.path, "--plain", "--records", tmp_path, given="leave\n")
    assert "abandoned" in done.err
    assert done.code == 4
    here.close()


def test_resume_of_a_run_that_is_open_says_the_command_to_join_it(tmp_path: Path) -> None:
    here = kept(tmp_path)
    done = changeover("resume", "--plain", "--records", tmp_path)
    assert done.code == 2
    assert "This run is open already" in done.err
    assert f"join it from here with: changeover join {here.path}" in done.err
    here.close()
    assert "join" not in changeover("resume", "--plain", "--records", tmp_path, given="again\n").err


def test_what_cannot_be_joined_is_said_with_what_to_do(tmp_path: Path) -> None:
    assert changeover("join", "--records", tmp_path).err == "changeover: no terminal here; use --plain\n"
    assert "There is no unfinished run" in changeover("join", "--plain", "--records", tmp_path).err
    here = kept(tmp_path)
    side = changeover("join", "--plain", "--records", tmp_path, "--side", "captain")
    assert side.code == 2
    assert "There is no list of captain here." in side.err
    here.close()
    closed = changeover("join", "--plain", "--records", tmp_path)
    assert closed.code == 2
    assert "Nobody has this run open at another terminal" in closed.err
    with open(here.path, "r+b") as file:
        file.seek(200)
        file.write(b"#")
    assert changeover("join", "--plain", "--records", tmp_path, here.path).code == 5
