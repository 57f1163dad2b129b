"""The far view: what it says, how large, that any key leads back from it and none but stopping acts."""

import pytest

from runner.engine.intents import MakeSafe
from runner.engine.shown import prompt_for
from runner.engine.state import StepStatus
from runner.screen.blocks import Far, Ink
from runner.screen.far import far_of, values
from runner.screen.view import step_view, view
from runner.screen.widgets.far import LEADS_BACK, far_lines, upper
from runner.screen.widgets.letters import CELLS, HALVES, HEIGHT, SHAPES, cells_high, cells_wide, drawn, points
from runner.screen.widgets.lines import Line, text_of, width_of
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_second import leaks, measured
from tests.screen.test_view import through_to_threading, to_lift

SIZES = [(60, 18), (80, 24), (120, 40), (200, 60)]


def far_now(person: Person) -> Far:
    """What the far view of a run says."""
    desk = person.shell.desk()
    return far_of(view(desk.procedure, desk.state, desk.now, desk.lane), desk.state, desk.interrupted)


def in_letters(text: str, lines: list[str], plain: bool) -> int:
    """The largest scale at which a text stands in the lines in large letters; -1 where it does not."""
    for scale in reversed(range(len(HALVES))):
        rows = drawn(text, scale, plain)
        for top in range(len(lines) - len(rows) + 1):
            at = lines[top].find(rows[0])
            if at >= 0 and all(lines[top + row][at : at + len(part)] == part for row, part in enumerate(rows)):
                return scale
    return -1


def test_number_state_act_and_the_value_to_set_are_what_it_says() -> None:
    person = to_lift(MemoryRun(compiled()))
    assert far_now(person) == Far(
        "2.1",
        "DANGER, read the cautions",
        "Lift the roll of 785 kg into the chucks.",
        (("roll mass", "785 kg"),),
        loud=True,
        mark="!",
    )
    person.press("enter")
    assert (far_now(person).state, far_now(person).loud) == ("HELD", True)
    person.press("f4")
    assert far_now(person) == Far("", "STOP, MAKE SAFE", "Set the unwind speed to zero.", loud=True, mark="!")


def test_a_reading_shows_what_is_allowed_where_the_act_names_no_value() -> None:
    person = to_lift(MemoryRun(compiled()))
    procedure, state, now = person.run.procedure, person.run.state, person.run.now()
    lists = (steps for phase in procedure.phases for steps in phase.lists)
    step = next(step for steps in lists for step in steps.steps if step.id == "pressure")
    (ask,) = (ask for ask in step.asks if ask.kind == "read")
    prompt = prompt_for(procedure, state, ask)
    assert prompt.limits
    shown = step_view(procedure, state, step, now)._replace(prompt=prompt)
    assert values(shown, state) == (("allowed", prompt.limits),)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("mode", ["live", "dry"])
def test_it_fills_the_screen_with_number_state_and_value_in_large_letters(
    size: tuple[int, int], plain: bool, mode: str
) -> None:
    person = to_lift(MemoryRun(compiled(), mode=mode)).press("enter", "f8")
    person.shell.size, person.shell.ascii = size, plain
    lines = person.screen().split("\n")
    assert len(lines) == size[1]
    assert {width_of(line) for line in lines} == {size[0]}
    assert in_letters("2.1 ! HELD", lines, plain) >= 0
    assert LEADS_BACK in lines[-1]
    if size != (60, 18):
        least = 1 if size[0] >= 80 else 0
        assert in_letters("785 kg", lines, plain) >= least
        assert in_letters("2.1 ! HELD", lines, plain) >= least
    dry = mode == "dry"
    assert ("DRY RUN" in lines[0], "DRY RUN" in lines[-1]) == (dry, dry)
    assert (in_letters("DRY RUN", lines, plain) >= 0) == dry
    if dry:
        assert all(line[0] == line[-1] == "/" for line in lines)


def test_it_grows_with_the_terminal() -> None:
    person = to_lift(MemoryRun(compiled())).press("enter", "f8")
    scales = []
    for size in SIZES[1:]:
        person.shell.size = size
        scales.append(in_letters("785 kg", person.screen().split("\n"), plain=False))
    assert scales == sorted(scales)
    assert scales[0] < scales[-1]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("plain", [False, True])
def test_a_long_act_is_cut_with_two_points_and_never_hides_number_or_value(size: tuple[int, int], plain: bool) -> None:
    act = "Turn the handwheel of the tension bar until the pointer stands at the mark and hold it there. " * 8
    far = Far("12b.10", "in progress", act, (("tension of the web", "385 N"),))
    lines = [text_of(line) for line in far_lines(far, "", *size, plain)]
    assert len(lines) == size[1]
    assert max(map(width_of, lines)) <= size[0]
    assert in_letters("385 N", lines, plain) >= 0
    assert in_letters("12B.10", lines, plain) >= 0 or "12B.10" in "".join(lines)


def test_the_whole_act_is_there_where_it_has_room() -> None:
    lines = [text_of(line) for line in far_lines(Far("1.1", "to do", "Open the unwind guard."), "", 80, 24, False)]
    assert all(in_letters(word, lines, False) >= 0 for word in ("OPEN", "UNWIND", "GUARD."))


@pytest.mark.parametrize("key", ["enter", "x", "7", "f1", "f2", "f3", "f5", "f8", "escape", "tab", "down", "ctrl+u"])
def test_any_key_leads_back_and_does_nothing_else(key: str) -> None:
    run = MemoryRun(compiled())
    person = to_lift(run)
    before, screen = len(run.events), person.screen()
    assert LEADS_BACK in person.press("f8").screen()
    person.press(key)
    assert person.screen() == screen
    assert len(run.events) == before


def test_stopping_acts_from_the_far_view_at_once() -> None:
    run = MemoryRun(compiled())
    wanted = to_lift(run).press("f8").shell.key("f4", None)
    assert isinstance(wanted, MakeSafe)


def test_a_scan_into_the_far_view_is_no_entry_and_no_act() -> None:
    person = Person(MemoryRun(compiled())).press("f2", "2", "enter", "1", "enter")
    person.press(*"lamp", "f8")
    before = len(person.run.events)
    person.pause = 0.004
    person.press(*"ROLL-4711", "enter")
    assert len(person.run.events) == before, "what is left of a scan without its first sign is another number"
    assert "OLL-4711" not in person.screen()


def test_what_was_typed_before_is_still_there() -> None:
    person = Person(MemoryRun(compiled())).press("f2", "2", "enter", "1", "enter")
    assert "> The lamp" in person.press(*"The lamp", "f8", "x").screen()


def test_there_is_none_before_a_run_and_on_a_terminal_too_small_for_it() -> None:
    person = Person(MemoryRun(compiled())).press("f8")
    person.shell.size = (40, 10)
    assert "TOO SMALL" in person.screen()
    assert LEADS_BACK not in person.screen()


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_what_the_first_person_answered_stays_hidden_from_the_second(size: tuple[int, int]) -> None:
    far = far_now(measured(size))
    assert far.state == "second look"
    assert not leaks(" ".join((far.act, *(f"{name} {shown}" for name, shown in far.values))))


def test_letters_and_digits_differ_from_each_other_and_are_five_points_high() -> None:
    assert all(len(shape.split("/")) == HEIGHT for shape in SHAPES.values())
    assert all(len(set(map(len, shape.split("/")))) == 1 for shape in SHAPES.values())
    assert len(set(SHAPES.values())) == len(SHAPES)
    assert not {*"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.,:;+-/()%=<>!?"} - SHAPES.keys()


def test_a_thousandth_and_a_million_are_not_the_same_letter() -> None:
    assert upper("set 12 mPa or 12 MPa") == "SET 12 mPa OR 12 MPa"
    assert points("mPa") != points("MPa")
    assert upper("from 3 rollers m") == "FROM 3 ROLLERS M"


@pytest.mark.parametrize("plain", [False, True])
def test_a_text_takes_the_cells_that_it_is_said_to(plain: bool) -> None:
    for scale in range(len(HALVES)):
        rows = drawn("12.5 kN", scale, plain)
        assert len(rows) == cells_high(scale, plain)
        assert set(map(len, rows)) == {cells_wide("12.5 kN", scale, plain)}
    assert len(HALVES) == len(CELLS)


def test_every_state_has_a_sign_beside_its_word() -> None:
    person = Person(MemoryRun(compiled()))
    assert (far_now(person).state, far_now(person).mark) == ("to do", ".")
    person.press("enter")
    assert (far_now(person).state, far_now(person).mark) == ("begun", "( )")
    lines = person.press("f8").screen().split("\n")
    assert in_letters("1.1 ( ) BEGUN", lines, plain=False) >= 0


def test_something_abnormal_is_abnormal_in_ink_and_word() -> None:
    def inks(lines: list[Line]) -> set[Ink]:
        return {ink for line in lines for text, ink in line if text.strip()}

    assert Ink.ABNORMAL in inks(far_lines(Far("1.1", "HELD", "Open it.", loud=True), "", 80, 24, False))
    assert Ink.ABNORMAL not in inks(far_lines(Far("1.1", StepStatus.BEGUN.value, "Open it."), "", 80, 24, False))


def test_a_step_that_threads_and_a_list_that_has_ended_have_one_too() -> None:
    person = through_to_threading(MemoryRun(compiled()))
    assert far_now(person).act
    assert LEADS_BACK in person.press("f8").screen()
