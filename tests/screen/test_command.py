"""The command as it is used, led through the whole change of a roll at both sizes, and killed on the way.

From the start page over the run, a kill and `changeover resume` to the end; only its clock goes faster than real. What
the terminal shows is compared with what the same pages draw in memory, at the wider size without the column beside them,
in which times go on.
"""

import json
import sys
from pathlib import Path

import pytest

from runner.record.verify import verify_bytes
from tests.procedures.shipped import path_of
from tests.screen.terminal import ENTER, Terminal
from tests.screen.test_whole_job import PAUSE, TIMES, Both, Worker

pytestmark = [pytest.mark.long, pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")]

SIZES = [(80, 24), (120, 40)]


class Using(Worker):
    """Uses the command."""

    size: tuple[int, int]

    def __init__(self, name: str, records: Path, cut_off_at: int, size: tuple[int, int]) -> None:
        self.size = size
        super().__init__(name, records, cut_off_at)

    def fitted(self, person: Both) -> Both:
        """Somebody at a terminal of the size."""
        person.shell.size = self.size
        person.shell.picture()
        return person

    def child(self, what: str, *more: str) -> Terminal:
        """The command; at the beginning with its start page."""
        self.fitted(self.person)
        command = ["-m", "tests.screen.quick_command", str(TIMES)]
        if what == "resume":
            return Terminal.of_size(self.size, *command, "resume", "--records", str(self.records))
        job = self.records.parent / "job.yaml"
        given = json.loads(more[0])
        ticket = {"job": 1, "procedure": self.name, "inputs": dict(given["inputs"]), "crew": dict(given["crew"])}
        job.write_text(json.dumps(ticket), encoding="utf-8")  # JSON is YAML too
        terminal = Terminal.of_size(
            self.size, *command, "run", path_of(self.name), "--job", str(job), "--records", str(self.records)
        )
        terminal.until("Before you begin")
        for _ in range(20):
            if "LIVE RUN" in terminal.screen.display[0]:
                break
            terminal.press(ENTER, PAUSE)
            terminal.read(0.3)
        return terminal


@pytest.mark.parametrize("size", SIZES)
def test_the_command_leads_through_the_whole_change_at_both_sizes_and_past_a_kill(
    size: tuple[int, int], tmp_path: Path
) -> None:
    worker = Using("change-roll", tmp_path / "records", 230, size)
    worker.work()
    assert worker.run.state.outcome == "finished"
    terminal = worker.person.terminal
    terminal.until("FINISHED")
    terminal.press(ENTER, 0.2)
    assert terminal.ended(10) == 0
    assert b"Traceback" not in terminal.raw
    (journal,) = tmp_path.rglob("*.journal")
    found = verify_bytes(journal.read_bytes())
    assert found.whole
    assert found.outcome == "finished"
