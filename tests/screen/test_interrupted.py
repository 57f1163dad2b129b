"""What an interruption, a late correction and a wrong person leave on the screen, driven by keys over the real engine."""

from runner.engine import events as ev
from runner.engine.evolve import replay
from runner.engine.intents import NoteException, Pause, Resume
from runner.screen.blocks import Sheet
from runner.screen.keys import PAGES
from runner.screen.widgets.bars import key_lines
from runner.screen.widgets.lines import text_of
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import through_to_threading, to_lift


def flat(person: Person) -> str:
    return " ".join(person.screen().split())


def after_a_kill(run: MemoryRun) -> Person:
    """The program ended; what is on record is all there is."""
    run.state = replay(run.procedure, run.events)
    run.interrupted = True
    return Person(run)


def test_rollers_that_were_ticked_are_ticked_after_a_kill_with_the_name() -> None:
    run = MemoryRun(compiled())
    through_to_threading(run).press("enter", "enter", "enter")
    assert run.count(ev.RollerThreaded) == 2
    person = after_a_kill(run)
    assert "roller 2 ticked" in flat(person)
    person.press("enter", "enter", "escape")
    assert "2 of 3 ticked" in person.screen()
    assert "[x] 2 entry idler: under (N. Petrov)" in flat(person)


def test_the_last_tick_is_taken_back_from_what_is_not_as_expected() -> None:
    run = MemoryRun(compiled())
    person = through_to_threading(run).press("enter", "enter", "enter")
    assert "F2 takes the last back" in person.screen()
    person.press("f2", "1", "enter")
    assert run.count(ev.RollerTakenBack) == 1
    assert "1 of 3 ticked" in person.screen()
    assert "Taken back: entry idler: under." in flat(person)


def test_a_wrong_name_at_a_hold_is_told_before_anything_is_ticked_and_is_on_record() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter").type("T. Oduya")
    assert "Only Shift lead (S. Lind)" in flat(person)
    assert run.last(ev.ActRefused).by == "T. Oduya"
    assert run.count(ev.ConfirmationTicked) == 0
    assert "T. Oduya_" not in person.screen(), "the next person begins with an empty line"


def test_a_tick_of_a_hold_is_taken_back_by_its_number() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter")
    assert "F5 releases the hold" in person.screen()
    person.press("1")
    assert "Enter take back" in person.screen()
    person.press("enter")
    assert run.count(ev.ConfirmationTakenBack) == 1
    assert "F5 releases the hold" not in person.screen()


def looking(run: MemoryRun) -> Person:
    """Somebody who has resumed after a kill: three states are to be looked at."""
    to_lift(run)
    person = after_a_kill(run).press("enter", "enter")
    assert len(run.state.unconfirmed) == 3
    return person


def test_after_a_resume_each_state_is_one_digit_and_what_it_was_is_told_after() -> None:
    run = MemoryRun(compiled())
    person = looking(run)
    assert "unwind drive: what do you see?" in flat(person)
    assert "as it was" not in flat(person)
    person.press("1")
    seen = run.last(ev.StateSeen)
    assert isinstance(seen, ev.StateSeen)
    assert (seen.state, seen.value, seen.was) == ("drive", "stopped", "stopped")
    assert "You confirm: drive stopped, as it was before." in flat(person)
    for state in run.procedure.states[1:]:
        person.press(str(state.of.index(run.state.unconfirmed[state.name]) + 1))
    assert not run.state.unconfirmed
    assert run.count(ev.ExceptionNoted) == 0


def test_after_a_resume_enter_alone_looks_at_nothing() -> None:
    run = MemoryRun(compiled())
    person = looking(run).press(*["enter"] * 20)
    assert len(run.state.unconfirmed) == 3
    assert "Enter alone confirms nothing" in flat(person)


def test_after_a_resume_a_digit_that_is_held_down_looks_at_one_state_at_most() -> None:
    for gap in (0.03, 0.06, 0.1, 0.2):
        run = MemoryRun(compiled())
        person = looking(run)
        person.press("1")
        person.pause = gap
        person.press(*["1"] * 40)
        assert run.count(ev.StateSeen) == 1, gap


def test_after_a_resume_a_scan_looks_at_nothing() -> None:
    for gap in (0.002, 0.01, 0.04):
        for text in ("12", "121", "4012345", "1"):
            run = MemoryRun(compiled())
            person = looking(run)
            person.pause = gap
            person.press(*text, "enter")
            run.tick += 1.0
            person.take(person.shell.due())
            assert run.count(ev.StateSeen) == 0, (gap, text)


def test_arrows_choose_which_state_is_looked_at_next() -> None:
    run = MemoryRun(compiled())
    person = looking(run).press("down")
    assert "what do you see?" in person.screen()
    assert "unwind drive: what" not in person.screen()
    person.press("1")
    seen = run.last(ev.StateSeen)
    assert isinstance(seen, ev.StateSeen)
    assert seen.state == run.procedure.states[1].name


def test_a_state_that_differs_is_one_key_too_and_is_told() -> None:
    run = MemoryRun(compiled())
    person = looking(run).press("2")
    seen = run.last(ev.StateSeen)
    assert isinstance(seen, ev.StateSeen)
    assert (seen.state, seen.value) == ("drive", "automatic")
    assert "it was stopped before" in flat(person)
    assert run.count(ev.ExceptionNoted) == 1


def test_a_run_is_abandoned_over_its_make_safe_list() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("f3", "3", "enter")
    assert "Before the run ends" in flat(person)
    person.press("enter")
    assert run.state.halted == "make-safe"
    person.press("4", "enter")
    if "Who stopped" in person.screen():
        person.press("enter", "4", "enter")
    assert "First each act" in flat(person)
    person.press("1", "enter")
    person.press("5", "enter", "1", "enter").type("nothing hangs there")
    assert run.count(ev.SafeActNotNeeded) == 1
    assert "[-] Set down what hangs on the crane. (not needed)" in flat(person)
    person.press("4", "enter").type("the press is needed")
    assert run.state.outcome == "abandoned"


def test_a_hand_over_to_one_who_has_a_role_is_doubted_with_the_steps_that_would_stand() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("f3", "2", "enter", "1", "enter").type("S. Lind")
    assert "S. Lind is Shift lead already" in flat(person)
    assert "step 2.1" in flat(person)
    person.press("enter")
    assert "reads back" in person.screen()


def test_a_hand_over_is_not_doubted_over_steps_that_are_done_already() -> None:
    person = through_to_threading(MemoryRun(compiled())).press("f3", "2", "enter", "1", "enter").type("S. Lind")
    assert "2.1" not in flat(person).partition("Hand over")[2]


def test_the_second_person_is_refused_before_they_have_typed_what_they_saw() -> None:
    run = MemoryRun(compiled())
    person = through_to_threading(run).press("tab", "enter", "1", "enter", "enter").type("T. Oduya")
    assert "is for Shift lead (S. Lind)" in flat(person)
    assert run.count(ev.ActRefused) == 1
    assert "Is the web square" not in person.screen() or "2 of" not in person.screen()


def test_what_a_trouble_says_to_do_stands_on_the_page_until_the_step_begins() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter", "enter", "enter")
    )
    person.type("7.4").type("7.5")
    assert run.count(ev.TroubleMet) == 1
    person.press("f1", "escape")
    assert "first The chuck leaks. Bleed it and inflate it again." in flat(person)
    person.press("enter")
    assert "Bleed it" not in person.screen()


def test_the_end_page_names_the_record_so_that_the_command_finds_it() -> None:
    run = MemoryRun(compiled(change=((MAKE_SAFE, ""),)))
    person = Person(run).press("f3", "3", "enter").type("no more")
    assert run.state.outcome == "abandoned"
    assert "changeover report a/run.journal" in person.screen()


MAKE_SAFE = """make_safe:
  - {do: Set the unwind speed to zero., makes: {drive: stopped}}
  - {do: Set down what hangs on the crane., makes: {crane: free}}
"""


def test_what_is_above_and_below_in_a_long_path_is_said() -> None:
    more = "\n".join(
        f"      - {{roller: idler {n}, at: [{2000 + 300 * n} mm, {300 + 300 * (n % 2)} mm], diameter: 100 mm, pass: {'over' if n % 2 else 'under'}}}"
        for n in range(12)
    )
    run = MemoryRun(
        compiled(
            change=(("diameter: 100 mm, pass: over}\n\nstates", f"diameter: 100 mm, pass: over}}\n{more}\n\nstates"),)
        )
    )
    person = through_to_threading(run).press("enter")
    assert "10 more below" in person.screen()
    person.press(*["enter"] * 6)
    assert "4 more above, ticked" in person.screen()
    assert "6 more below" in person.screen()


def test_a_caution_stays_in_sight_while_a_long_path_is_threaded_on_a_small_screen() -> None:
    more = "\n".join(
        f"      - {{roller: idler {n}, at: [{2000 + 300 * n} mm, {300 + 300 * (n % 2)} mm], diameter: 100 mm, pass: {'over' if n % 2 else 'under'}}}"
        for n in range(12)
    )
    change = (
        ("diameter: 100 mm, pass: over}\n\nstates", f"diameter: 100 mm, pass: over}}\n{more}\n\nstates"),
        (
            "do: Thread the unwind side.,",
            f"do: Thread the unwind side., cautions: [knife], why: {'Slack web tears. ' * 8},",
        ),
    )
    run = MemoryRun(compiled(change=change))
    person = through_to_threading(run)
    person.shell.size = (60, 18)
    person.press(*["enter"] * 3)
    for _ in range(9):
        assert "The core knife is sharp." in person.screen()
        assert "of 15 ticked" in flat(person) or "[ ]" in person.screen()
        person.press("enter")


def test_what_is_open_is_never_cut_from_the_header() -> None:
    long = "Load the new roll into the chucks of the unwind and let the crane go"
    run = MemoryRun(compiled(change=(("phase: Make safe", f"phase: {long}"),)))
    for width in (60, 80):
        person = Person(run, (width, 24))
        for number in range(12):
            run.submit(NoteException("N. Petrov", "", "other", "note", f"seen {number}"))
        run.submit(Pause("N. Petrov", ""))
        run.submit(Resume("N. Petrov"))
        assert f"! {len(run.state.open_exceptions)} open" in person.screen()
        assert "Phase 1 of 3" in person.screen()


def test_no_label_of_a_key_is_cut_on_the_smallest_screen() -> None:
    for page in PAGES:
        for width in (60, 75, 79, 80):
            lines = key_lines(Sheet(page, "", (), go="cautions read"), width)
            assert not any(".." in text_of(line) for line in lines), (page, width, lines)


def test_a_value_of_the_job_ticket_is_corrected_from_its_working_and_what_used_it_is_named() -> None:
    run = MemoryRun(compiled())
    person = through_to_threading(run).press("f7", "2", "enter")
    if "Outer diameter" not in person.screen() and "roll od" not in person.screen():
        person.press("escape", "1", "enter")
    person.press("2", "enter").type("900 mm").type("misread the ticket").press("enter")
    corrected = run.last(ev.AnswerCorrected)
    assert isinstance(corrected, ev.AnswerCorrected)
    assert corrected.name in ("roll_od", "web_width")
    used = run.last(ev.OldValueUsed)
    assert isinstance(used, ev.OldValueUsed)
    assert used.done == ("lift",)
    person.press("escape", "escape")
    assert "gone by an old value: step 2.1" in flat(person)
