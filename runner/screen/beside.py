"""What a wide terminal shows beside the page: how long the press stands, the steps around, the working of the step's
values, the state board; and, under the step, the web path where there is room for it."""

from runner.engine import flow
from runner.engine.lookup import step_named
from runner.engine.moment import seconds_words
from runner.engine.shown import values_now
from runner.engine.state import KnownValue
from runner.formula.evaluate import path_of
from runner.screen.blocks import Block, Drawing, Fact, Facts, Gap, Heading, Ink, Row, Rows, Say
from runner.screen.desk import Desk
from runner.screen.listed import state_row, value_row
from runner.screen.places import here, window
from runner.screen.standstill import long_words, standstill
from runner.screen.view import states_view
from runner.trade.web_path import Problem

STEPS = 7


def beside(desk: Desk) -> tuple[Block, ...]:
    """Blocks for the column at the right, most wanted first."""
    blocks: list[Block] = [*_clock(desk)]
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
        seen = [state_row(state) for state in board if state.known or state.before]
        never = ", ".join(state.label for state in board if not state.known and not state.before)
        seen += [Row(f"unknown: {never}", " ? ", ink=Ink.ABNORMAL)] if never else []
        blocks += [Heading("The press, as you confirmed it"), Rows(tuple(seen))]
    return tuple(blocks)


def drawn(desk: Desk) -> tuple[Block, ...]:
    """For the room under the step: the web path that is threaded next in the list that is shown, else the first of the procedure; none while a step
    that threads one is up, which draws it itself."""
    position = desk.state.position
    if flow.ended(desk.procedure, position):
        return ()
    lane = min(desk.lane, len(position.cursors) - 1)
    rest = flow.list_of(desk.procedure, position, lane).steps[position.cursors[lane].step :]
    if rest and any(ask.kind == "thread" for ask in rest[0].asks):
        return ()
    later = (steps for phase in desk.procedure.phases[position.phase :] for steps in phase.lists)
    steps = (*rest, *(step for each in later for step in each.steps))
    name = next((ask.path for step in steps for ask in step.asks if ask.kind == "thread"), "")
    name = name if name in desk.procedure.scope.paths else next(iter(desk.procedure.scope.paths), "")
    if not name:
        return ()
    path = path_of(desk.procedure.scope.paths[name], values_now(desk.state), desk.procedure.scope)
    if isinstance(path, Problem):
        return ()
    return (Gap(), Heading(f"Web path {name.replace('_', ' ').removesuffix(' path')}"), Drawing(path))


def _clock(desk: Desk) -> tuple[Block, ...]:
    stands = standstill(desk.procedure, desk.state, desk.now)
    if stands is None:
        return ()
    word = "stood" if stands.over else "stands"
    planned = f"planned {long_words(stands.planned_s)}" if stands.planned_s else ""
    fact = Fact(f"Press {word}", f"{seconds_words(stands.seconds)} since {stands.since} UTC", planned)
    return (Facts((fact,)), Gap())


def _used(desk: Desk) -> tuple[KnownValue, ...]:
    step = step_named(desk.procedure, desk.step_id)
    uses = step.uses if step is not None else frozenset[str]()
    return tuple(known for known in desk.state.values.values() if known.name in uses)
