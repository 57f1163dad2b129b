"""From the state of a run to what is shown of it: pure, plain data, tested without a terminal.

What is possible now is asked of `runner.engine.flow` and the step's record; nothing is decided here. The stage of a
step says what the person at it has to do next, in the order of the meaning of a procedure.
"""

from dataclasses import replace
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from runner.engine import flow
from runner.engine.decisions.carried import keeps_from_beginning
from runner.engine.held import held_values, releaser_of, resting_on
from runner.engine.lookup import changed_by
from runner.engine.moment import Moment, seconds_between
from runner.engine.shown import doer, fill_in, prompt_for, role_label
from runner.engine.state import GivenAnswer, KnownValue, RunState, StepRecord, StepStatus
from runner.procedure.asks.ask import Ask, Prompt
from runner.procedure.model import UNKNOWN, Caution, Procedure, Step
from runner.say.text import mark, say
from runner.screen.marks import HOLD, MARKS
from runner.screen.mode import mode_words, revision_words

TRAIL = 24
"""How many steps of a list the trail looks at around the one that is up."""


class Stage(Enum):
    """What comes next at a step."""

    CAUTIONS = mark("read the cautions")
    PIECES = mark("pieces held")
    HOLD = mark("held")
    BEGIN = mark("begin")
    ASK = mark("answer")
    SECOND = mark("second look")
    WAIT = mark("wait")
    END = mark("done")


class GivenView(NamedTuple):
    """One answer of the attempt that is on."""

    ask: str
    shown: str
    verdict: str


class PiecesView(NamedTuple):
    """Pieces that miss what is wanted."""

    known: KnownValue
    accepts: str
    """The role that may accept them, as people call it."""


class StepView(NamedTuple):
    """One step as it is shown."""

    step: Step
    stage: Stage
    status: StepStatus
    mark: str
    who: str
    """The role, as people call it, with the person's name where somebody has it."""
    by: str
    """The name of the person; empty where nobody has the role."""
    act: str
    unknown: tuple[str, ...]
    """Names of values in the act that do not count yet."""
    cautions: tuple[Caution, ...]
    releaser: str
    """The role that releases its hold; empty without one."""
    hold: str
    """Empty, reached or released."""
    pieces: tuple[PiecesView, ...]
    """Those that hold the step until the nearest choice is accepted, then those that were accepted."""
    blocked: tuple[str, ...]
    """Why it may not begin, or what it needs while in progress and has not."""
    answers: tuple[GivenView, ...]
    threaded: tuple[str, ...]
    """Who ticked each roller of the path that is being threaded."""
    after_trouble: tuple[str, str]
    """(sign, what to do first) of the trouble that led here."""
    old: tuple[str, ...]
    """Values that were corrected after this step had gone by them, while nobody has decided."""
    ask: Ask | None
    """The one that is open."""
    prompt: Prompt | None
    entry: int
    """1 for the first entry, 2 after one that was out of limits."""
    second: str
    """The role of the second look; empty without one."""
    wait_left: float | None
    """Seconds that the waiting time still runs; None where none runs."""
    attempt: int
    passes: int
    then: str
    """Number and act of the next step of the list; empty at its end, and while a second person looks for themselves."""
    agrees: str
    """The role that must agree where the step is left out; empty where a reason is enough."""

    @property
    def alone(self) -> bool:
        """True while the second person looks for themselves: what the first answered is not shown."""
        second = self.step.second
        return self.stage is Stage.SECOND and second is not None and second.how == "independent"


class Cell(NamedTuple):
    """A step on the trail."""

    mark: str
    number: str
    here: bool


class Trail(NamedTuple):
    """The place in one list."""

    letter: str
    who: str
    word: str
    """How the step that is up stands, or that the list has ended."""
    place: int
    """Of the step that is up, from 1."""
    length: int
    cells: tuple[Cell, ...]
    on: bool
    """True for the list that is shown."""


class StateView(NamedTuple):
    """One tracked state."""

    name: str
    label: str
    value: str
    known: bool
    before: str
    """What it was before an interruption, while nobody has looked since."""
    owner: str


class View(NamedTuple):
    """All of a run that the bars and the run page show."""

    title: str
    revision: str
    mode: str
    dry: bool
    phase: str
    phase_place: int
    """From 1."""
    phases: int
    park: str
    trails: tuple[Trail, ...]
    lane: int
    step: StepView | None
    """None where the list has ended."""
    waiting_for: tuple[str, ...]
    """The other lists that have not ended, where this one has."""
    open_exceptions: int
    unconfirmed: int
    ended: bool
    """True where every phase has ended."""


def view(procedure: Procedure, state: RunState, now: Moment, lane: int = 0) -> View:
    """What is shown of a run now; `lane` is the list that the person looks at."""
    phase = flow.phase_on(procedure, state.position)
    lanes = len(phase.lists) if phase else 0
    lane = min(lane, lanes - 1) if lanes else 0
    step = flow.current(procedure, state.position, lane) if phase else None
    trails = tuple(_trail(procedure, state, at, at == lane) for at in range(lanes))
    waiting = tuple(t.who for at, t in enumerate(trails) if at != lane and t.place <= t.length)
    return View(
        title=procedure.title,
        revision=revision_words(procedure, state.mode),
        mode=mode_words(state),
        dry=state.mode != "live" or state.played,
        phase=phase.name if phase else say("All phases have ended"),
        phase_place=min(state.position.phase + 1, len(procedure.phases)),
        phases=len(procedure.phases),
        park=phase.park if phase else "",
        trails=trails,
        lane=lane,
        step=None if step is None else step_view(procedure, state, step, now),
        waiting_for=waiting if step is None else (),
        open_exceptions=len(state.open_exceptions),
        unconfirmed=len(state.unconfirmed),
        ended=phase is None,
    )


def step_view(procedure: Procedure, state: RunState, step: Step, now: Moment) -> StepView:
    """One step as it is shown, whether it is up or only looked at."""
    record = state.record(step.id)
    act, unknown = fill_in(state, step.do)
    held = held_values(procedure, state, step)
    stage, ask = _stage(step, record, now, bool(held))
    name = doer(state, step)
    role = role_label(procedure, step.by)
    given = record.answers.get(ask.name) if ask else None
    return StepView(
        step=step,
        stage=stage,
        status=record.status,
        mark=MARKS[record.status],
        who=f"{role}: {name}" if name else say("{role}: nobody has signed on", role=role),
        by=name,
        act=act,
        unknown=unknown,
        cautions=step.cautions,
        releaser=role_label(procedure, step.hold.release) if step.hold else "",
        hold=record.hold,
        pieces=tuple(
            PiecesView(known, role_label(procedure, releaser_of(procedure, known.name)))
            for known in (*held, *resting_on(procedure, state, step, "accepted"))
        ),
        blocked=_blocked(procedure, state, step, stage),
        answers=tuple(_given(step, name, answer) for name, answer in record.answers.items()),
        threaded=record.threaded,
        after_trouble=record.after_trouble,
        old=old_values(state, step.id),
        ask=ask,
        prompt=prompt_for(procedure, state, ask) if ask else None,
        entry=given.entry + 1 if given is not None else 1,
        second=role_label(procedure, step.second.by) if step.second else "",
        wait_left=_wait_left(step, record, now),
        attempt=record.attempt,
        passes=record.passes,
        then="" if stage is Stage.SECOND and _independent(step) else _then(procedure, state, step),
        agrees=role_label(procedure, step.optional) if step.optional not in ("", "reason") else "",
    )


def _then(procedure: Procedure, state: RunState, step: Step) -> str:
    at = flow.find(procedure, state.position, step.id)
    if at is None:
        return ""
    steps = flow.list_of(procedure, state.position, at[0]).steps
    if at[1] + 1 >= len(steps):
        return ""
    following = steps[at[1] + 1]
    held = " " + say("(HOLD: {role})", role=role_label(procedure, following.hold.release)) if following.hold else ""
    return f"{following.number}  {fill_in(state, following.do)[0]}{held}"


def _stage(step: Step, record: StepRecord, now: Moment, held: bool) -> tuple[Stage, Ask | None]:
    """What comes next at a step, and the ask that is open. `held`: pieces wait to be accepted."""
    if record.status is not StepStatus.BEGUN:
        if step.cautions and not record.cautions_read:
            return Stage.CAUTIONS, None
        if held:
            return Stage.PIECES, None
        if step.hold is not None and record.hold != "released":
            return Stage.HOLD, None
        return Stage.BEGIN, None
    if held:
        return Stage.PIECES, None  # worked out anew while the step was in progress
    if step.hold is not None and record.hold != "released":
        return Stage.HOLD, None  # revoked while the step was in progress
    for ask in step.asks:
        given = record.answers.get(ask.name)
        if ask.kind != "wait" and (given is None or given.verdict != "in"):
            return Stage.ASK, ask
    if step.second is not None and not record.looked_twice:
        return Stage.SECOND, None
    left = _wait_left(step, record, now)
    return (Stage.WAIT if left else Stage.END), None


def _wait_left(step: Step, record: StepRecord, now: Moment) -> float | None:
    wait = next((ask for ask in step.asks if ask.kind == "wait"), None)
    if wait is None or record.status is not StepStatus.BEGUN or record.wait_over or record.wait_from is None:
        return None
    waited = seconds_between(record.wait_from, now)
    return None if waited is None else max(0.0, wait.at_least_s - waited)


def _blocked(procedure: Procedure, state: RunState, step: Step, stage: Stage) -> tuple[str, ...]:
    at = flow.find(procedure, state.position, step.id)
    if at is None or flow.current(procedure, state.position, at[0]) is not step:
        return ()
    found = flow.blocks(procedure, state.position, at[0])
    if stage in (Stage.CAUTIONS, Stage.PIECES, Stage.HOLD, Stage.BEGIN):
        return (*keeps_from_beginning(procedure, state, step), *(block.words for block in found))
    return tuple(block.words for block in found if block.kind == "need" and not _makes(step, block.state))


def old_values(state: RunState, step_id: str) -> tuple[str, ...]:
    """Values by whose old number a step went, while the exception that asks for a decision is open."""
    undecided = {noted.number for noted in state.open_exceptions}
    return tuple(name for name, exception in state.record(step_id).old if exception in undecided)


def _makes(step: Step, state: int) -> bool:
    return any(made == state for made, _ in step.makes)


def _given(step: Step, name: str, answer: GivenAnswer) -> GivenView:
    ask = next((ask.ask for ask in step.asks if ask.name == name), name)
    late = say("(late: on paper {time} UTC)", time=answer.paper[11:16]) if answer.paper else ""
    return GivenView(ask or name, f"{answer.shown} {late}".rstrip(), answer.verdict)


def _trail(procedure: Procedure, state: RunState, lane: int, on: bool) -> Trail:
    steps = flow.list_of(procedure, state.position, lane)
    at = state.position.cursors[lane].step
    first = max(0, min(at - TRAIL // 2, len(steps.steps) - TRAIL))
    cells = tuple(
        Cell(
            MARKS[state.record(step.id).status],
            step.number + (HOLD if step.hold else ""),
            place == at,
        )
        for place, step in enumerate(steps.steps[first : first + TRAIL], start=first)
    )
    up = steps.steps[at] if at < len(steps.steps) else None
    return Trail(
        letter=chr(ord("A") + lane),
        who=role_label(procedure, steps.person) if steps.person else "",
        word=say(state.record(up.id).status.value) if up else say("list ended"),
        place=at + 1,
        length=len(steps.steps),
        cells=cells,
        on=on,
    )


HIDDEN = mark("hidden until both have answered")
"""What is shown for a value that the second person has to find without."""


def hidden(procedure: Procedure, state: RunState) -> frozenset[str]:
    """Names of values that are not shown now: answers that the second person has to find without, from the first one
    of the attempt until both have answered, and all that was worked out from them."""
    names: set[str] = set()
    for lane in range(len(state.position.cursors)):
        step = flow.current(procedure, state.position, lane)
        if step is None or not _independent(step) or state.record(step.id).looked_twice:
            continue
        for ask in step.asks:
            known = state.values.get(ask.name)
            if ask.name in state.record(step.id).answers or (known is not None and known.stale):
                names |= {ask.name, *changed_by(procedure, ask.name)}
    return frozenset(names)


def veiled(procedure: Procedure, state: RunState) -> RunState:
    """The state as screens may show it: hidden values say that they are hidden, wherever they stand."""
    names = hidden(procedure, state) & state.values.keys()
    if not names:
        return state
    values = {name: _hidden(known) if name in names else known for name, known in state.values.items()}
    return replace(state, values=MappingProxyType(values))


def _hidden(known: KnownValue) -> KnownValue:
    return KnownValue(known.name, "", f"({say(HIDDEN)})", known.source, verdict="hidden")


def _independent(step: Step) -> bool:
    return step.second is not None and step.second.how == "independent"


def states_view(procedure: Procedure, state: RunState) -> tuple[StateView, ...]:
    """The state board: what the press is taken for."""
    rows = []
    for at, tracked in enumerate(procedure.states):
        value = state.position.states[at]
        known = value != UNKNOWN
        owner = state.position.owners[at]
        rows.append(
            StateView(
                tracked.name,
                tracked.label,
                tracked.of[value] if known else say("unknown"),
                known,
                state.unconfirmed.get(tracked.name, ""),
                role_label(procedure, owner) if owner else "",
            )
        )
    return tuple(rows)
