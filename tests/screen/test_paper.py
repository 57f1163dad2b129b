"""Entering what was done on paper: each act is asked when it was done, and shows as late."""

from dataclasses import replace

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.screen.paper import PaperDoor
from tests.screen.bench import MemoryRun, Person, compiled


class Earlier(MemoryRun):
    """A run that began an hour and more before now."""

    def __init__(self) -> None:
        super().__init__(compiled())
        self.state = replace(self.state, began=Moment("2026-11-25T08:00:00.000Z", 0.0, "boot"))


def person() -> tuple[Earlier, Person]:
    run = Earlier()
    door = PaperDoor(run)
    found = Person(run)
    found.shell.run = door
    found.run = door  # type: ignore[assignment]
    door.tick = 0.0  # type: ignore[attr-defined]

    def press(*keys: str) -> Person:
        for key in keys:
            run.tick += 1.0
            wanted = found.shell.key(key, key if len(key) == 1 else None)
            if wanted is not None:
                found.shell.took(door.submit(wanted))  # type: ignore[arg-type]
        return found

    found.press = press  # type: ignore[method-assign]
    return run, found


def test_an_act_counts_only_with_its_time_on_paper() -> None:
    run, there = person()
    there.press("enter")
    assert "FROM PAPER" in there.screen()
    assert run.count(ev.StepBegun) == 0
    there.type("08:10")
    assert run.count(ev.StepBegun) == 1
    late = run.last(ev.EnteredLate)
    assert isinstance(late, ev.EnteredLate)
    assert (late.done_at, late.at.utc) == ("2026-11-25T08:10:00.000Z", "2026-11-25T09:40:14.250Z")


def test_same_takes_the_last_time_and_now_is_as_it_is_done() -> None:
    run, there = person()
    there.press("enter").type("same")
    assert "No time was given yet" in there.screen()
    there.press(*["backspace"] * 4).type("08:10")
    there.press("enter").type("same")
    assert [e.done_at[11:16] for e in run.events if isinstance(e, ev.EnteredLate)] == ["08:10", "08:10"]
    assert run.count(ev.StepDone) == 1
    there.press("enter").type("now")
    assert run.count(ev.StepBegun) == 2
    assert run.count(ev.EnteredLate) == 2


def test_a_wrong_time_is_said_and_the_act_waits() -> None:
    run, there = person()
    there.press("enter").type("soon")
    assert "is no time" in " ".join(there.screen().split())
    assert run.count(ev.StepBegun) == 0
    there.press("escape")
    assert "FROM PAPER" not in there.screen()


def test_stopping_is_never_asked_for_a_time() -> None:
    run, there = person()
    there.press("enter", "f4")
    assert run.count(ev.MadeSafe) == 1
    assert "FROM PAPER" not in there.screen()
