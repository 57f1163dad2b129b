"""What a wide terminal shows beside the page: the state board, the working of the step's values, the steps around."""

from runner.engine.lookup import step_named
from runner.engine.state import KnownValue
from runner.screen.blocks import Block, Gap, Heading, Rows, Say
from runner.screen.desk import Desk
from runner.screen.listed import state_row, value_row
from runner.screen.places import here, window
from runner.screen.view import states_view

STEPS = 9


def beside(desk: Desk) -> tuple[Block, ...]:
    """Blocks for the column at the right, most wanted first."""
    blocks: list[Block] = []
    around = here(desk.procedure, desk.state, desk.lane)
    first, rows = window(desk.procedure, desk.state, around, STEPS)
    blocks += [Heading("Steps"), Rows(tuple(row._replace(word="") for row in rows), around - first), Gap()]
    used = _used(desk)
    if used:
        blocks.append(Heading("Values of this step"))
        for known in used:
            blocks.append(Rows((value_row(known),)))
            if known.working and not known.stale:
                blocks.append(Say(f"{known.formula}", "formula"))
                blocks.append(Say(f"{known.working}", "numbers"))
            if known.gives and not known.stale:
                blocks.append(Say(known.gives, "pieces"))
        blocks.append(Gap())
    board = states_view(desk.procedure, desk.state)
    if board:
        blocks += [Heading("The press, as you confirmed it"), Rows(tuple(state_row(state) for state in board))]
    return tuple(blocks)


def _used(desk: Desk) -> tuple[KnownValue, ...]:
    step = step_named(desk.procedure, desk.step_id)
    uses = step.uses if step is not None else frozenset[str]()
    return tuple(known for known in desk.state.values.values() if known.name in uses)
