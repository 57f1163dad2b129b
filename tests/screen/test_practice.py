"""A dry run with a scenario on the screen: what is shown and when, the keys of trainee and coach, and nothing of it elsewhere."""

from pathlib import Path

from runner.engine import intents as want
from runner.engine.intents import NoteTraining
from runner.screen.blocks import Dial, Rows, Say
from runner.screen.keys import KEYS, LESSON, PAGES, Action
from runner.screen.pages.criteria import keys_told
from runner.screen.practice import has_gone_dark, practice_of, to_look_at
from runner.screen.shell import Shell
from tests.training.lessons import GOOD, TRAINEE, chuck, do, kinds, lesson, result, step, to_fill


def texts(shell: Shell) -> str:
    """All words of the page on top."""
    said: list[str] = []
    for block in shell.sheet().blocks:
        match block:
            case Say():
                said.append(f"{block.label} {block.text}")
            case Rows():
                said += [row.text for row in block.rows]
            case _:
                pass
    return "\n".join(said)


def give(shell: Shell, action: Action, typed: str = "") -> None:
    """An action, and what came of it."""
    wanted = shell.act(action, typed)
    if wanted is not None and shell.run is not None:
        shell.took(shell.run.submit(wanted))  # type: ignore[arg-type] # no run is begun here


def test_the_gauge_stands_on_the_page_of_the_step_that_asks(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    shell = Shell.over(made)
    assert not any(isinstance(block, Dial) for block in shell.sheet().blocks)
    to_fill(made)
    (dial,) = (block for block in shell.sheet().blocks if isinstance(block, Dial))
    assert (dial.value, dial.low, dial.high, dial.unit) == (4.0, 0.0, 10.0, "bar")
    assert "Air hisses." in texts(shell)
    assert "4 bar" not in texts(shell)


def test_a_terminal_without_other_signs_gets_the_gauge_in_plain_characters(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    shell = Shell.over(made)
    shell.ascii = True
    drawn = "\n".join("".join(text for text, _ in line) for line in shell.picture().lines)
    assert drawn.isascii()
    assert "bar; a small mark is 0.2 bar" in drawn
    assert "??" not in drawn


def test_whoever_hears_the_page_is_told_the_pointer_in_words(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    shell = Shell.over(made)
    shell.plain = True
    assert "The pointer stands on the large mark 4" in texts(shell)


def test_every_page_says_whether_it_is_practice_or_an_assessment(tmp_path: Path) -> None:
    for name, assessed in (("practice", False), ("assessment", True)):
        shell = Shell.over(lesson(tmp_path / name, assessed=assessed))
        for action in (None, Action.PLACES, Action.WORKING, Action.UNEXPECTED, Action.PAUSE, Action.COACH, Action.HINT):
            if action is not None:
                give(shell, action)
            drawn = "\n".join("".join(text for text, _ in line) for line in shell.picture().lines)
            assert f"DRY RUN, {name.upper()}" in drawn, action


def test_a_hint_is_on_record_before_it_is_shown(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    shell = Shell.over(made)
    give(shell, Action.HINT)
    shell.choose(1)
    give(shell, Action.GO_ON)
    assert kinds(made)[-1] == "hint"
    assert "reminder" in texts(shell)
    give(shell, Action.GO_ON)
    assert shell.sheet().page == "run"


def test_key_points_and_reasons_come_on_demand_and_count_as_the_second_level(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    shell = Shell.over(made)
    give(shell, Action.HINT)
    shell.choose(2)
    give(shell, Action.GO_ON)
    assert "The Shift lead confirms: Nobody stands there." in texts(shell)
    assert "Watch for: It leaks." in texts(shell)
    assert result(made).hints == (("fill", 2),)


def test_the_coach_alone_sees_what_to_listen_for(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("at: look, ask", "at: stop, ask"))
    shell = Shell.over(made)
    assert "A proud pin" not in texts(shell)
    assert "the coach has a question here" in texts(shell)
    give(shell, Action.COACH)
    shell.choose(1)
    give(shell, Action.GO_ON)
    assert "A proud pin lets the roll fall" in texts(shell)
    shell.choose(3)
    give(shell, Action.GO_ON)
    give(shell, Action.GO_ON, "Said it")
    assert next(one for one in result(made).criteria if one.id == "said").result == "met"


def test_the_coach_stops_it_with_a_reason(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    shell = Shell.over(made)
    give(shell, Action.COACH)
    shell.choose(2)
    give(shell, Action.GO_ON)
    give(shell, Action.GO_ON, "")
    assert made.state.outcome == ""
    give(shell, Action.GO_ON, "Enough for today")
    assert made.state.outcome == "abandoned"
    assert shell.sheet().page == "over"
    assert "Enough for today" in texts(shell)


def test_nothing_goes_on_before_the_criteria_were_read(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    made.followed = made.followed.__class__(taken=made.followed.taken)
    shell = Shell.over(made)
    assert "Finds the leak." in texts(shell)
    wanted = shell.act(Action.GO_ON, "")
    assert isinstance(wanted, NoteTraining)
    assert wanted.noted.kind == "criteria"  # type: ignore[union-attr] # as the page makes it


def test_the_screen_goes_dark_with_the_power(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("kind: equipment", "kind: power-cut"))
    shell = Shell.over(made)
    do(made, want.BeginStep(TRAINEE, "stop"))
    give(shell, Action.GO_ON)
    assert has_gone_dark(made)
    assert shell.left is not None


def test_a_run_without_a_scenario_has_none_of_it(tmp_path: Path) -> None:
    made = lesson(tmp_path, mode="live")
    assert practice_of(made.run) is None
    shell = Shell.over(made.run)
    assert set(LESSON).isdisjoint(shell.sheet().answers)
    assert shell.key("f10", None) is None
    assert shell.sheet().page == "run"


def test_the_keys_of_a_scenario_are_in_no_footer() -> None:
    assert all(set(LESSON).isdisjoint(keys) for keys in PAGES.values())
    assert {key.action for key in KEYS if key.slot == (0, 0)} >= set(LESSON)
    assert chuck().id == "chuck"


def test_the_page_before_it_begins_names_the_keys_of_trainee_and_coach(tmp_path: Path) -> None:
    for name, assessed in (("practice", False), ("assessment", True)):
        shell = Shell.over(lesson(tmp_path / name, assessed=assessed))
        desk = shell.desk()
        told = keys_told(desk, assessed)
        assert "F12: for the coach" in told
        assert told.startswith("F10: a hint" if not assessed else "F10: through a wait")


def test_a_second_person_who_looks_for_themselves_has_the_gauge_before_them(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "4 bar"))
    (dial,) = to_look_at(Shell.over(made).desk(), step(made, "fill"))
    assert isinstance(dial, Dial)
    assert dial.value == 4.0
    assert to_look_at(Shell.over(made.run).desk(), step(made, "fill")) == ()


def test_a_scenario_that_comes_to_its_end_is_not_called_unfinished(tmp_path: Path) -> None:
    made = lesson(
        tmp_path,
        GOOD.replace("faults:", "stop_after: stop\nfaults:").replace(
            "  - {id: said, words: Says why., explained: why}\n", ""
        ),
    )
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    over = Shell.over(made).sheet()
    assert (over.page, over.title) == ("over", "SCENARIO OVER")
