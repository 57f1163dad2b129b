"""Coming holds are announced two steps ahead, with who releases them, on both layouts and line by line."""

import pytest

from runner.engine import intents as want
from runner.screen.ahead import holds_ahead
from runner.screen.plain import run_plain
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_plain import Lines

TWO = (
    (
        "do: Inflate the core chuck.",
        "do: Inflate the core chuck.\n        hold: {release: lead, confirm: [Chuck is clean]}",
    ),
)


def test_a_hold_is_announced_two_steps_before_and_one_before_and_not_at_its_step() -> None:
    run = MemoryRun(compiled())
    coming = holds_ahead(run.procedure, run.state)
    assert [(one.number, one.steps, one.role, one.name) for one in coming] == [("2.1", 2, "Shift lead", "S. Lind")]
    for step in ("drive-off", "open-guard"):
        assert not isinstance(run.submit(want.BeginStep("N. Petrov", step)), want.Refusal)
        assert not isinstance(run.submit(want.EndStep("N. Petrov", step)), want.Refusal)
        steps = [one.steps for one in holds_ahead(run.procedure, run.state)]
        assert steps == ([1] if step == "drive-off" else [])


def test_two_coming_holds_are_both_announced() -> None:
    run = MemoryRun(compiled(change=TWO))
    run.submit(want.BeginStep("N. Petrov", "drive-off"))
    run.submit(want.EndStep("N. Petrov", "drive-off"))
    assert [(one.number, one.steps) for one in holds_ahead(run.procedure, run.state)] == [("2.1", 1), ("2.2", 2)]


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_the_screen_says_whom_to_call(size: tuple[int, int]) -> None:
    person = Person(MemoryRun(compiled(change=TWO)), size)
    assert "step 2.1 in 2 steps: call Shift lead (S. Lind) now" in person.screen()
    screen = person.press("enter", "enter").screen()
    assert "step 2.1 in 1 step: call Shift lead (S. Lind) now" in screen
    assert "step 2.2 in 2 steps: call Shift lead (S. Lind) now" in screen


def test_plain_mode_says_it_and_that_nobody_has_the_role() -> None:
    crew = (("unwind", "N. Petrov"), ("rewind", "T. Oduya"), ("lead", ""))
    run = MemoryRun(compiled(), crew)
    lines = Lines(run, "begin")
    run_plain(run, lines.ask, lines.written.append)
    assert "step 2.1 in 2 steps: call Shift lead (nobody has signed on) now" in " ".join(lines.text.split())


def test_nothing_is_announced_while_the_run_is_halted_or_at_its_end() -> None:
    run = MemoryRun(compiled())
    run.submit(want.Pause("N. Petrov", ""))
    assert holds_ahead(run.procedure, run.state) == ()
