"""Every value of the job says on record how it came: from the job file, the command line, the answers file, or typed."""

from argparse import Namespace
from pathlib import Path

from runner.cli.beginning import COMMAND_LINE, JOB_FILE, TYPED, Ticket
from runner.cli.leading import Beginner, brought
from runner.engine import events as ev
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.shared.keeper import Keeper
from runner.record.store import Store
from tests.cli.command import PROCEDURES, changeover
from tests.engine.bench import compiled
from tests.engine.held_pieces import TEXT

CREW = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "Lena"))


def test_a_played_run_names_job_file_command_line_and_answers_file(tmp_path: Path) -> None:
    answers = tmp_path / "none.answers.yaml"
    answers.write_text(
        "answers: 1\nprocedure: change-roll\nunlisted: refuse\ninputs: {tension: 151}\n", encoding="utf-8"
    )
    done = changeover(
        "run", PROCEDURES / "change-roll.procedure.yaml", "--job", PROCEDURES / "change-roll.job.yaml",
        "--set", "run_speed=150", "--answers", answers, "--records", tmp_path, "--json",
    )  # fmt: skip
    given: dict[str, str] = {}

    def take(entry: Entry) -> None:
        if isinstance(entry.event, ev.InputGiven):
            given[entry.event.name] = entry.event.origin

    read_journal(done.data["journal"], take)
    assert given.pop("tension") == "answers file"
    assert given.pop("run_speed") == "command line"
    assert set(given.values()) == {"job file"}


def test_a_value_that_was_changed_before_the_run_began_is_a_typed_one(tmp_path: Path) -> None:
    ticket = Ticket(
        compiled("", TEXT), Store(str(tmp_path)), "dry", {"width": "1200", "tension": "150"}, dict(CREW),
        {"width": JOB_FILE, "tension": COMMAND_LINE},
    )  # fmt: skip
    run = Beginner(ticket)(CREW, (("width", "1200"), ("tension", "160")))
    assert isinstance(run, Keeper), run
    events = [entry.event for entry in run.entries()]
    run.close()
    given = {event.name: event.origin for event in events if isinstance(event, ev.InputGiven)}
    assert given == {"width": JOB_FILE, "tension": TYPED}


def test_the_start_page_is_told_the_name_of_the_job_file(tmp_path: Path) -> None:
    ticket = Ticket(
        compiled("", TEXT), Store(str(tmp_path)), "dry", {"width": "1200", "tension": "150"}, dict(CREW),
        {"width": JOB_FILE, "tension": COMMAND_LINE},
    )  # fmt: skip
    assert brought(Namespace(job=str(tmp_path / "night.job.yaml")), ticket) == (
        ("width", "1200", "from night.job.yaml"),
        ("tension", "150", "command line"),
    )
