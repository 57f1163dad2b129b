"""Another terminal on the same run: the pages here follow it, and an act here counts only for what was on the screen."""

import random
import threading
from collections.abc import Callable

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.intents import Refusal, Wanted
from runner.screen.app import Terminal
from runner.screen.elsewhere import NOT_COUNTED, changed, follow_own
from runner.screen.keys import KEYS
from runner.screen.plain import run_plain
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, MemoryRun, Person, compiled
from tests.screen.test_plain import Lines
from tests.screen.test_second import FIRST, leaks

Watcher = Callable[[str, tuple[ev.Event, ...]], None]
DIED = "The terminal that keeps the record does not answer any more."


class SharedRun(MemoryRun):
    """A run that others share: `elsewhere` does something at another terminal."""

    lost = ""
    joined = True

    def watch(self, watcher: Watcher) -> None:
        """Be told of it."""
        self.watcher: Watcher = watcher

    def elsewhere(self, person: Person | None, *intents: Wanted) -> None:
        """Somebody does something at the other terminal."""
        for intent in intents:
            before = len(self.events)
            done = self.submit(intent)
            assert not isinstance(done, Refusal), done
            if person is None:
                self.watcher("", tuple(self.events[before:]))
            else:
                changed(person.shell, "", tuple(self.events[before:]))
                person.shell.picture()


def to_both_lists(run: MemoryRun) -> None:
    """The phase with two lists comes up."""
    words = "begin/done/begin/done/read/hold/S. Lind/1/tick/release/begin/done/begin/6.2/no/done/begin/done"
    lines = Lines(run, words.replace("/", "\n"))
    run_plain(run, lines.ask, lines.written.append)


def at_both_lists() -> tuple[SharedRun, Person]:
    """The phase with two lists is on, and a person looks at the second one."""
    run = SharedRun(compiled(), CREW, INPUTS)
    to_both_lists(run)
    person = Person(run)
    person.shell.lane = 1
    return run, person


THREAD = want.BeginStep("N. Petrov", "thread-unwind")


def test_what_is_done_in_the_other_list_is_told_and_leaves_what_is_typed_here() -> None:
    run, person = at_both_lists()
    person.press("f2", "2")
    subject = person.shell.subject
    run.elsewhere(person, THREAD)
    assert person.shell.subject == subject
    assert "At the other terminal: step" in person.shell.message
    assert "N. Petrov" in person.shell.message


def test_what_is_done_at_the_step_on_the_screen_takes_away_what_is_typed_and_makes_a_key_too_soon() -> None:
    run = SharedRun(compiled("twice"), (("unwind", "N. Petrov"), ("lead", "S. Lind")), ())
    person = Person(run).press("enter")
    for letter in "5.3":
        person.shell.key(letter, letter)
        run.tick += 1
    assert person.shell.typed.text == "5.3"
    run.elsewhere(person, want.GiveAnswer("N. Petrov", run.procedure.phases[0].lists[0].steps[0].id, "gap", FIRST[0]))
    assert person.shell.typed.text == ""
    assert person.shell.key("enter", None) is None
    assert "too soon" in person.shell.message


def test_the_first_answer_of_an_independent_look_shows_at_neither_terminal() -> None:
    run = SharedRun(compiled("twice"), (("unwind", "N. Petrov"), ("lead", "S. Lind")), ())
    step = run.procedure.phases[0].lists[0].steps[0].id
    person = Person(run)
    run.elsewhere(person, want.BeginStep("N. Petrov", step), want.GiveAnswer("N. Petrov", step, "gap", FIRST[0]))
    assert run.state.values["gap"].shown.startswith(FIRST[0])
    assert "hidden" in person.shell.message
    assert not leaks(person.screen())
    lines: list[str] = []
    other = SharedRun(compiled("twice"), (("unwind", "N. Petrov"), ("lead", "S. Lind")), ())

    def ask(_: str) -> str:
        if not other.count(ev.StepBegun):
            other.elsewhere(
                None, want.BeginStep("N. Petrov", step), want.GiveAnswer("N. Petrov", step, "gap", FIRST[0])
            )
            return "again"
        raise EOFError

    run_plain(other, ask, lines.append)
    assert any("At the other terminal" in line for line in lines)
    assert not leaks("\n".join(lines))


UNWIND = (
    THREAD,
    want.GiveAnswer("N. Petrov", "thread-unwind", "thread_unwind_threaded", "all"),
    want.EndStep("N. Petrov", "thread-unwind"),
    want.BeginStep("N. Petrov", "close-guard"),
    want.EndStep("N. Petrov", "close-guard"),
)
REWIND = (
    want.BeginStep("T. Oduya", "stick-core"),
    want.GiveAnswer("T. Oduya", "stick-core", "square", "square"),
    want.GiveSecondLook("S. Lind", "stick-core", (("square", "square"),)),
    want.EndStep("T. Oduya", "stick-core"),
    want.BeginStep("T. Oduya", "settle"),
)


def test_when_all_lists_have_ended_the_page_here_goes_on_by_itself() -> None:
    run, person = at_both_lists()
    run.elsewhere(person, *UNWIND, *REWIND)
    run.tick += 10
    run.elsewhere(person, want.EndStep("T. Oduya", "settle"))
    assert "Nothing is missing" in person.screen()


def test_stopping_at_the_other_terminal_stops_here_and_is_said_as_a_warning() -> None:
    run, person = at_both_lists()
    run.elsewhere(person, want.MakeSafe("N. Petrov"))
    assert "Do these acts now" in person.screen()
    assert person.shell.abnormal


def test_a_warning_on_the_screen_is_not_written_over() -> None:
    run, person = at_both_lists()
    person.shell.say("OUT OF LIMITS", abnormal=True)
    run.elsewhere(person, THREAD)
    assert person.shell.message == "OUT OF LIMITS"


def test_who_is_missing_where_a_list_has_ended_is_named_with_how_far_they_are() -> None:
    run, person = at_both_lists()
    run.elsewhere(person, *UNWIND)
    person.shell.lane = 0
    text = person.screen()
    assert "This list has ended." in text
    assert "T. Oduya: 3b.1 to do" in text
    assert "1 of 2" in text


@pytest.mark.parametrize(
    ("how", "called"),
    [
        ("independent", "S. Lind is to look alone, without the first answer."),
        ("together", "S. Lind is to come and look together."),
    ],
)
def test_looking_independently_and_looking_together_are_called_for_in_different_words(how: str, called: str) -> None:
    run = SharedRun(compiled("small", (("how: independent", f"how: {how}"),)), CREW, INPUTS)
    to_both_lists(run)
    person = Person(run)
    assert "3b.1 waits" not in person.screen()
    run.elsewhere(person, *REWIND[:2])
    text = " ".join(person.screen().replace("/", " ").split())
    assert f"3b.1 waits: {called}" in text
    person.press("tab", "enter")
    text = " ".join(person.screen().split())
    assert ("Look for yourself" in text) == (how == "independent")
    assert ("Look together" in text) == (how == "together")
    answers = (("square", "square"),) if how == "independent" else ()
    run.elsewhere(person, want.GiveSecondLook("S. Lind", "stick-core", answers))
    person.shell.lane = 0
    assert "3b.1 waits" not in person.screen()


def test_the_help_page_says_how_a_second_terminal_joins() -> None:
    _, person = at_both_lists()
    person.shell.size = (120, 80)
    assert "changeover join a/run.journal" in person.press("f1").screen()


def test_a_lost_keeper_is_said_large_and_the_next_act_goes_on() -> None:
    run, person = at_both_lists()
    run.lost = DIED
    changed(person.shell, "", ())
    text = person.screen()
    assert "NOBODY KEEPS THE RECORD" in text
    assert DIED in text
    run.tick += 1
    assert person.shell.key("enter", None) == want.Resume("T. Oduya")
    run.lost, run.interrupted = "", True
    person.shell.took(())
    follow_own(person.shell)
    assert "INTERRUPTED" in person.screen()
    assert "last kept" in person.screen()


def test_stopping_is_possible_where_the_keeper_is_lost() -> None:
    run, person = at_both_lists()
    run.lost = DIED
    changed(person.shell, "", ())
    assert isinstance(person.shell.key("f4", None), want.MakeSafe)


def test_where_it_is_stopped_already_and_the_keeper_is_lost_stopping_takes_the_run_over() -> None:
    run, person = at_both_lists()
    run.elsewhere(person, want.MakeSafe("N. Petrov"))
    run.lost = DIED
    changed(person.shell, "", ())
    assert isinstance(person.shell.key("f4", None), want.Resume)


def test_an_act_that_crosses_with_a_stop_elsewhere_is_refused_and_the_stop_is_on_the_screen() -> None:
    run, person = at_both_lists()
    run.tick += 1
    act = person.shell.key("enter", None)
    assert isinstance(act, want.BeginStep)
    run.elsewhere(person, want.MakeSafe("N. Petrov"))
    person.shell.took(run.submit(act))
    follow_own(person.shell)
    assert "Do these acts now" in person.screen()
    assert run.count(ev.StepBegun) == run.count(ev.StepDone)


def test_a_run_that_ended_elsewhere_has_ended_here() -> None:
    run, person = at_both_lists()
    run.elsewhere(person, want.MakeSafe("N. Petrov"))
    for number in run.state.safe_acts_open:
        run.elsewhere(person, want.DoSafeAct("N. Petrov", number))
    run.elsewhere(person, want.Abandon("N. Petrov", "no roll"))
    run.lost = DIED
    changed(person.shell, "", ())
    assert "ENDED UNFINISHED" in person.screen()


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_whatever_page_is_open_it_can_be_shown_after_anything_was_done_elsewhere(
    seed: int, size: tuple[int, int]
) -> None:
    chance = random.Random(seed)
    run, person = at_both_lists()
    person.shell.size = size
    acts = (*UNWIND[:3], *REWIND[:4], want.MakeSafe("N. Petrov"), want.Abandon("N. Petrov", "enough"))
    for act in acts:
        for _ in range(3):
            key = chance.choice(KEYS).key
            if key != "f4":
                person.press(key)
        before = len(run.events)
        run.submit(act)
        changed(person.shell, "", tuple(run.events[before:]))
        assert person.screen().strip()


def test_in_plain_mode_a_line_counts_only_for_what_was_asked() -> None:
    run = SharedRun(compiled(), CREW, INPUTS)
    lines: list[str] = []
    asked = 0

    def ask(_: str) -> str:
        nonlocal asked
        asked += 1
        if asked == 1:
            run.elsewhere(None, want.BeginStep("N. Petrov", "drive-off"))
            return "begin"
        if asked == 2:
            return "done"
        raise EOFError

    run_plain(run, ask, lines.append)
    assert f"! {NOT_COUNTED}" in lines
    assert any(line.startswith("* At the other terminal") for line in lines)
    assert run.count(ev.StepBegun) == run.count(ev.StepDone) == 1
    assert run.count(ev.Paused) == 0
    assert "This terminal has left" in lines[-1]


async def test_on_the_full_screen_it_comes_up_by_itself_and_a_key_for_the_screen_before_does_not_count() -> None:
    run = SharedRun(compiled(), CREW, INPUTS)
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        told = threading.Thread(target=run.elsewhere, args=(None, want.BeginStep("N. Petrov", "drive-off")))
        told.start()
        told.join()
        await pilot.press("enter")  # meant to begin the step, and now it would end it
        await pilot.pause()
        shown = "\n".join(text_of(line) for line in app.canvas.lines)
        assert run.count(ev.StepDone) == 0
        assert "( ) begun" in shown
        assert "too soon" in shown
        run.tick += 1
        await pilot.press("enter")
        await pilot.pause()
        assert run.count(ev.StepDone) == 1
