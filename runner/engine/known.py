"""Events to the values and answers that they make known. Only plain copying; nothing is judged.

They are changed from empty ones, which takes a third of the time of making them: a long run has ten thousands.
"""

from runner.engine import events as ev
from runner.engine.changed import changed
from runner.engine.state import GivenAnswer, KnownValue

NO_VALUE = KnownValue("", "", "", "")
NO_ANSWER = GivenAnswer("", "", "", "", "", 0)


def ticket_value(event: ev.InputGiven) -> KnownValue:
    """Of the job ticket."""
    origin = f"job ticket, {event.origin}" if event.origin else "job ticket"
    return changed(
        NO_VALUE, name=event.name, value=event.value, shown=event.shown, source="ticket", unit=event.unit, origin=origin
    )  # fmt: skip


def worked_out_value(event: ev.WorkedOut) -> KnownValue:
    """With its working."""
    return changed(
        NO_VALUE, name=event.name, value=event.value, shown=event.shown, source="worked out", unit=event.unit,
        verdict=event.verdict, working=event.working, formula=event.formula, limits=event.limits, ends=event.ends,
        inputs=event.inputs, origins=event.origins, rough=event.rough, gives=event.gives, origin="worked out",
    )  # fmt: skip


def answered_value(event: ev.Answered, origin: str) -> KnownValue:
    """Of an answer that counts; `origin` says in words where it came from."""
    return changed(
        NO_VALUE, name=event.name, value=event.value, shown=event.shown, source=event.step, unit=event.unit, origin=origin
    )  # fmt: skip


def given_answer(event: ev.Answered, outs: int, paper: str) -> GivenAnswer:
    """As it was given; `outs` entries for this ask were out of limits, and `paper` is when it was done there."""
    return changed(
        NO_ANSWER, by=event.by, typed=event.typed, shown=event.shown, value=event.value, verdict=event.verdict,
        entry=event.entry, outs=outs, paper=paper,
    )  # fmt: skip
