"""What a wide terminal shows beside the page: how long the press stands, the steps around, the working of the step's
values, the state board; and, under the step, the web path where there is room for it."""

from itertools import chain

from runner.engine import flow
from runner.engine.lookup import step_named
from runner.engine.moment import seconds_words
from runner.engine.state import KnownValue
from runner.say.text import say
from runner.screen.blocks import Block, Fact, Facts, Gap, Heading, Ink, Row, Rows, Say
from runner.screen.desk import Desk
from runner.screen.drawings import path_drawing
from runner.screen.listed import state_row, value_row
from runner.screen.places import here, window
from runner.screen.standstill import long_words, standstill
from runner.screen.view import states_view

STEPS = 7


def beside(desk: Desk) -> tuple[Block, ...]:
    """Blocks for the column at the right, most wanted first."""
    blocks: list[Block] = [*clock_blocks(desk)]
    around = here(desk.procedure, desk.state, desk.lane)
    first, rows = window(desk.procedure, desk.state, around, STEPS)
    blocks += [Heading(say("Steps")), Rows(tuple(row._replace(word="") for row in rows), around - first), Gap()]
    used = _used(desk)
    if used:
        blocks.append(Heading(say("Values of this step")))
        for known in used:
            blocks.append(Rows((value_row(known),)))
            if known.working and not known.stale:
                blocks.append(Say(f"{known.formula}", say("formula")))
                blocks.append(Say(f"{known.working}", say("numbers")))
            if known.gives and not known.stale:
                blocks.append(Say(known.gives, say("pieces")))
        blocks.append(Gap())
    board = states_view(desk.procedure, desk.state)
    if board:
        seen = [state_row(state) for state in board if state.known or state.before]
        never = ", ".join(state.label for state in board if not state.known and not state.before)
        seen += [Row(say("unknown: {states}", states=never), " ? ", ink=Ink.ABNORMAL)] if never else []
        blocks += [Heading(say("The press, as you confirmed it")), Rows(tuple(seen))]
    return tuple(blocks)


def drawn(desk: Desk) -> tuple[Block, ...]:
    """For the room under the step: the web path that is threaded next in the list that is shown, else the first of the procedure; none while a step
    that threads one is up, which draws it itself."""
    position = desk.state.position
    if not desk.procedure.scope.paths or flow.ended(desk.procedure, position):
        return ()
    lane = min(desk.lane, len(position.cursors) - 1)
    rest = flow.list_of(desk.procedure, position, lane).steps[position.cursors[lane].step :]
    if rest and any(ask.kind == "thread" for ask in rest[0].asks):
        return ()
    later = (steps for phase in desk.procedure.phases[position.phase :] for steps in phase.lists)
    steps = chain(rest, (step for each in later for step in each.steps))
    name = next((ask.path for step in steps for ask in step.asks if ask.kind == "thread"), "")
    name = name if name in desk.procedure.scope.paths else next(iter(desk.procedure.scope.paths), "")
    if not name:
        return ()
    found = path_drawing(desk, name)
    return (Gap(), *found[:-1]) if found else ()


def clock_blocks(desk: Desk) -> tuple[Block, ...]:
    """How long the press stands, and what was planned; nothing before it does."""
    stands = standstill(desk.procedure, desk.state, desk.now)
    if stands is None:
        return ()
    planned = say("planned {time}", time=long_words(stands.planned_s)) if stands.planned_s else ""
    fact = Fact(
        say("Press stood") if stands.over else say("Press stands"),
        say("{time} since {since} UTC", time=seconds_words(stands.seconds), since=stands.since),
        planned,
    )
    return (Facts((fact,)), Gap())


def _used(desk: Desk) -> tuple[KnownValue, ...]:
    step = step_named(desk.procedure, desk.step_id)
    uses = step.uses if step is not None else frozenset[str]()
    return tuple(known for known in desk.state.values.values() if known.name in uses)
