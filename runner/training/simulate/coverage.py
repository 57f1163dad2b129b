"""What a procedure has that a run may come to, and what runs came to: steps, branches, holds, troubles, limits, repeats.

Everything has a name before the first run, so that what was never reached is told by name and not left out.
"""

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from runner.engine import events as ev
from runner.procedure.model import Calculation, Procedure, Split, Step, steps_of

STEP, SO, NOT_SO, LEFT_OUT, HOLD, TROUBLE, LOW, HIGH, OTHER, REPEATED, DIFFERS, WORKED, ACCEPTED = (
    "step", "condition so", "condition not so", "left out", "hold", "trouble", "reading below", "reading above",
    "answer not accepted", "repeated", "looks differ", "value out of limits", "pieces accepted",
)  # fmt: skip
KINDS = (STEP, SO, NOT_SO, LEFT_OUT, HOLD, TROUBLE, LOW, HIGH, OTHER, REPEATED, DIFFERS, WORKED, ACCEPTED)
"""In the order in which they are told."""


class Spot(NamedTuple):
    """One thing that a run may come to."""

    kind: str
    where: str
    """The id of the step; the name of a value."""
    what: str = ""
    """The trouble or ask within the step."""

    @property
    def words(self) -> str:
        """As it is told."""
        return f"{self.kind}: {self.where}" + (f", {self.what}" if self.what else "")


def spots(procedure: Procedure) -> tuple[Spot, ...]:
    """Everything that there is, in the order of the text."""
    found: list[Spot] = []
    for step in steps_of(procedure):
        found += of_step(step)
    for worked in procedure.calculations:
        if isinstance(worked, Calculation) and (worked.limits or worked.rough is not None):
            found.append(Spot(WORKED, worked.name))
        elif isinstance(worked, Split) and worked.release:
            found.append(Spot(ACCEPTED, worked.name))
    return tuple(dict.fromkeys(found))


def of_step(step: Step) -> Iterable[Spot]:
    """What one step has."""
    yield Spot(STEP, step.id)
    if step.when is not None:
        yield Spot(SO, step.id)
        yield Spot(NOT_SO, step.id)
    if step.optional:
        yield Spot(LEFT_OUT, step.id)
    if step.hold is not None:
        yield Spot(HOLD, step.id)
    for trouble in step.troubles:
        yield Spot(TROUBLE, step.id, trouble.id or trouble.sign)
    for ask in step.asks:
        if ask.kind == "read" and ask.low is not None:
            yield Spot(LOW, step.id, ask.name)
        if ask.kind == "read" and ask.high is not None:
            yield Spot(HIGH, step.id, ask.name)
        if ask.match or (ask.accept and len(ask.accept) < len(ask.of)):
            yield Spot(OTHER, step.id, ask.name)
    if step.repeat is not None:
        yield Spot(REPEATED, step.id)
    if step.second is not None and step.second.how == "independent":
        yield Spot(DIFFERS, step.id)


class Coverage:
    """Counts what runs came to: in how many of them."""

    def __init__(self, procedure: Procedure) -> None:
        self.all = spots(procedure)
        self.known = frozenset(self.all)
        self.conditional = {step.id for step in steps_of(procedure) if step.when is not None}
        self.highs = {ask.name: ask for step in steps_of(procedure) for ask in step.asks if ask.kind == "read"}
        self.runs: Counter[Spot] = Counter()

    def add(self, events: Iterable[ev.Event], job_refused: Iterable[str] = ()) -> None:
        """One run."""
        met: set[Spot] = set()
        for event in events:
            spot = self.spot_of(event)
            if spot is not None:
                met.add(spot)
                if spot.kind == STEP and spot.where in self.conditional:
                    met.add(Spot(SO, spot.where))
        met |= {Spot(WORKED, line.partition(":")[0]) for line in job_refused}
        self.runs.update(met & self.known)

    def spot_of(self, event: ev.Event) -> Spot | None:
        """What an event comes to."""
        match event:
            case ev.StepBegun():
                return Spot(STEP, event.step)
            case ev.Answered():
                return self.answered(event) if event.verdict == "out" else None
            case ev.HoldReleased():
                return Spot(HOLD, event.step)
            case ev.StepNotApplicable():
                return Spot(NOT_SO, event.step)
            case ev.StepLeftOut():
                return Spot(LEFT_OUT, event.step)
            case ev.TroubleMet():
                return Spot(TROUBLE, event.step, event.trouble)
            case ev.StepRepeated():
                return Spot(REPEATED, event.step)
            case ev.LookedTwice():
                return None if event.agrees else Spot(DIFFERS, event.step)
            case ev.WorkedOut():
                return Spot(WORKED, event.name) if event.verdict in ("out", "failed") else None
            case ev.PiecesAccepted():
                return Spot(ACCEPTED, event.name)
            case _:
                return None

    def answered(self, event: ev.Answered) -> Spot:
        """Which limit an answer was beyond."""
        if event.kind != "read":
            return Spot(OTHER, event.step, event.name)
        ask = self.highs.get(event.name)
        if ask is None or ask.high is None:
            return Spot(LOW, event.step, event.name)
        if ask.low is None:
            return Spot(HIGH, event.step, event.name)
        return Spot(LOW if below(event) else HIGH, event.step, event.name)

    @property
    def unreached(self) -> tuple[Spot, ...]:
        """What no run came to."""
        return tuple(spot for spot in self.all if not self.runs[spot])

    def counts(self) -> tuple[tuple[str, int, int], ...]:
        """(kind, reached, of how many), where there are any."""
        whole, met = Counter(spot.kind for spot in self.all), Counter(spot.kind for spot in self.all if self.runs[spot])
        return tuple((kind, met[kind], whole[kind]) for kind in KINDS if whole[kind])


def below(event: ev.Answered) -> bool:
    """Whether a reading with two limits is below the lower: the limits begin with that number."""
    text = event.limits.split(" ", 1)[0]
    try:
        low = float(text)
    except ValueError:  # a limit that could not be worked out shows its formula
        return False
    return event.magnitude is not None and event.magnitude < low
