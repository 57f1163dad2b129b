"""From state to what is shown, without a terminal."""

from runner.engine.intents import LookAt, MeetTrouble, Pause, Resume
from runner.screen.view import Stage, hidden, states_view, view
from tests.screen.bench import MemoryRun, Person, compiled


def seen(run: MemoryRun, lane: int = 0) -> Stage | None:
    step = view(run.procedure, run.state, run.now(), lane).step
    return step.stage if step else None


def to_lift(run: MemoryRun) -> Person:
    return Person(run).press("enter", "enter", "enter", "enter")


def test_a_step_with_cautions_and_a_hold_goes_through_its_stages_in_order() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run)
    stages = [seen(run)]
    person.press("enter")
    stages.append(seen(run))
    person.press("enter").type("S. Lind").press("enter", "enter", "f5")
    stages.append(seen(run))
    person.press("enter")
    stages.append(seen(run))
    assert stages == [Stage.CAUTIONS, Stage.HOLD, Stage.BEGIN, Stage.END]


def test_a_revoked_release_brings_a_step_in_progress_back_to_its_hold() -> None:
    run = MemoryRun(compiled())
    to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter")
    assert seen(run) is Stage.END
    run.submit(LookAt("N. Petrov", "guard", "closed"))
    assert seen(run) is Stage.HOLD


def test_what_blocks_a_step_is_named() -> None:
    run = MemoryRun(compiled())
    Person(run).press("enter", "enter")
    run.submit(LookAt("N. Petrov", "drive", "automatic"))
    step = view(run.procedure, run.state, run.now()).step
    assert step is not None
    assert step.blocked == ("unwind drive must be stopped; it is automatic",)


def test_the_gravest_caution_is_first() -> None:
    run = MemoryRun(compiled())
    to_lift(run)
    step = view(run.procedure, run.state, run.now()).step
    assert step is not None
    assert [caution.signal for caution in step.cautions] == ["danger", "caution"]


def test_begun_done_and_again_are_told_apart_on_the_trail() -> None:
    run = MemoryRun(compiled())
    to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter")
    assert view(run.procedure, run.state, run.now()).trails[0].cells[0].mark == "( )"
    run.submit(MeetTrouble("N. Petrov", "lift", "swings"))
    assert view(run.procedure, run.state, run.now()).trails[0].cells[0].mark == "(<)"


def test_after_an_interruption_states_are_unconfirmed_until_looked_at() -> None:
    run = MemoryRun(compiled())
    to_lift(run)
    run.submit(Pause("N. Petrov", "lift"))
    run.submit(Resume("N. Petrov"))
    board = {state.name: state for state in states_view(run.procedure, run.state)}
    assert not board["guard"].known
    assert board["guard"].before == "open"
    run.submit(LookAt("N. Petrov", "guard", "open"))
    assert view(run.procedure, run.state, run.now()).unconfirmed == 2


def test_a_draft_says_in_a_live_run_that_it_is_not_approved() -> None:
    live, dry = MemoryRun(compiled()), MemoryRun(compiled(), mode="dry")
    assert "NOT APPROVED" in view(live.procedure, live.state, live.now()).revision
    assert view(dry.procedure, dry.state, dry.now()).mode == "DRY RUN"
    assert view(dry.procedure, dry.state, dry.now()).dry


def test_first_answers_are_hidden_until_the_second_person_has_looked() -> None:
    run = MemoryRun(compiled())
    assert "square" not in hidden(run.procedure, run.state)
    person = through_to_threading(run)
    person.press("tab", "enter", "1", "enter")
    assert seen(run, 1) is Stage.SECOND
    assert hidden(run.procedure, run.state) == {"square"}
    assert "Is the web square on the core: square" not in person.screen()
    person.press("f7")
    assert "square: square" not in person.screen()
    person.press("escape", "enter").type("S. Lind").press("1", "enter")
    assert seen(run, 1) is Stage.END
    assert hidden(run.procedure, run.state) == frozenset()


def through_to_threading(run: MemoryRun) -> Person:
    person = to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter", "enter")
    person.press("enter").type("6.2").press("1", "enter", "enter")
    return person.press("enter", "enter")
