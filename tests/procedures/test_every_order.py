"""Every order in which the lists of a phase may be done, every trouble and every step that may be passed.

The walk is the order rules of the engine over positions, and nothing else; conditions are taken both ways. From every
position that can be reached the work can go on, and it ends with every state where the author wants it.
"""

from collections.abc import Iterator

import pytest

from runner.cli.files import fetch_beside
from runner.engine import flow
from runner.engine.position import Position
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure, Step
from tests.procedures.shipped import NAMES, path_of, procedure_of, text_of


def next_positions(procedure: Procedure, position: Position) -> Iterator[Position]:
    """Where the work may stand after one more thing has happened in any list."""
    for lane, cursor in enumerate(position.cursors):
        step = flow.current(procedure, position, lane)
        if step is None:
            continue
        if cursor.begun:
            if not flow.unmet_in_progress(position, step):
                yield flow.done(procedure, position, lane)
            for trouble in step.troubles:
                yield flow.troubled(procedure, position, lane, trouble)
            if step.repeat is not None:
                yield flow.repeated(position, lane)
            continue
        if may_be_passed(step):
            yield flow.passed(procedure, position, lane)
        if not flow.blocks(procedure, position, lane):
            yield flow.begun(procedure, position, lane)


def may_be_passed(step: Step) -> bool:
    """True for a step that may not apply or may be left out."""
    return step.when is not None or bool(step.optional)


def all_positions(procedure: Procedure) -> set[Position]:
    """Every position that can be reached."""
    first = flow.start(procedure)
    seen, to_see = {first}, [first]
    while to_see:
        position = to_see.pop()
        for following in next_positions(procedure, position):
            if following not in seen:
                seen.add(following)
                to_see.append(following)
        assert len(seen) < 500_000, "the walk does not end"
    return seen


def words_of(procedure: Procedure, position: Position) -> list[str]:
    """What is up in each list and what keeps it from beginning, for a failing test."""
    words = []
    for lane in range(len(position.cursors)):
        step = flow.current(procedure, position, lane)
        if step is not None:
            blocks = [block.words for block in flow.blocks(procedure, position, lane)]
            words.append(f"{step.number} {step.id}: {blocks}")
    return words


@pytest.mark.parametrize("name", NAMES)
def test_from_every_position_the_work_can_go_on(name: str) -> None:
    procedure = procedure_of(name)
    stuck = [
        words_of(procedure, position)
        for position in all_positions(procedure)
        if not flow.ended(procedure, position) and next(next_positions(procedure, position), None) is None
    ]
    assert stuck == []


@pytest.mark.parametrize("name", NAMES)
def test_a_need_that_does_not_hold_is_only_ever_waited_for_beside_another_list(name: str) -> None:
    procedure = procedure_of(name)
    unmet = [
        words_of(procedure, position)
        for position in all_positions(procedure)
        if len(position.cursors) == 1 and flow.blocks(procedure, position, 0)
        if not position.cursors[0].begun
    ]
    assert unmet == []


@pytest.mark.parametrize("name", NAMES)
def test_every_order_ends_with_every_state_where_it_must_be(name: str) -> None:
    procedure = procedure_of(name)
    ends = [position for position in all_positions(procedure) if flow.ended(procedure, position)]
    assert ends
    missing = {
        flow.need_words(procedure.states[state], value, position.states[state])
        for position in ends
        for state, value in flow.missing_at_end(procedure, position)
    }
    assert missing == set()


def test_the_crane_is_waited_for_by_one_side_while_the_other_has_it() -> None:
    procedure = procedure_of("change-roll")
    crane = next(index for index, tracked in enumerate(procedure.states) if tracked.name == "crane")
    waited = {
        steps.person
        for position in all_positions(procedure)
        if len(position.cursors) == 2
        for lane, steps in enumerate(procedure.phases[position.phase].lists)
        if any(block.state == crane for block in flow.blocks(procedure, position, lane))
    }
    assert waited == {"unwind", "rewind"}


def changed(name: str, old: str, new: str) -> Procedure:
    """A shipped procedure with one text replaced wherever it stands, in its fragments as well."""
    path = path_of(name)
    fetch = fetch_beside(path)

    def fetch_changed(wanted: str) -> str | None:
        text = fetch(wanted)
        return None if text is None else text.replace(old, new)

    compiled = compile_procedure(text_of(path).replace(old, new), path, fetch_changed)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


def test_the_walk_finds_a_hook_that_is_never_freed() -> None:
    procedure = changed(
        "change-roll", "do: Take the lifting beam off the <roll>.\n    makes: {crane: free}", "do: Leave."
    )
    stuck = [
        words_of(procedure, position)
        for position in all_positions(procedure)
        if not flow.ended(procedure, position) and next(next_positions(procedure, position), None) is None
    ]
    assert any("crane" in line for lines in stuck for line in lines)


def test_the_walk_finds_a_guard_that_is_left_open() -> None:
    procedure = changed("web-break", "makes: {print_guard: closed}", "why: Left open.")
    ends = [position for position in all_positions(procedure) if flow.ended(procedure, position)]
    assert ends == []
