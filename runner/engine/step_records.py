"""How ticks and late corrections change the records of steps: the part of `evolve` that needs nothing but the records."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from runner.engine import events as ev
from runner.engine.state import UNTOUCHED, StepRecord

Tick = ev.RollerThreaded | ev.RollerTakenBack | ev.ConfirmationTicked | ev.ConfirmationTakenBack


def ticked(record: StepRecord, event: Tick) -> StepRecord:
    """The record with one tick more, or one less."""
    match event:
        case ev.RollerThreaded():
            return replace(record, threaded=(*record.threaded, event.by))
        case ev.RollerTakenBack():
            return replace(record, threaded=record.threaded[:-1])
        case ev.ConfirmationTicked() | ev.ConfirmationTakenBack():
            others = tuple((point, who) for point, who in record.confirmed if point != event.point)
            before = tuple((point, who) for point, who in record.confirmed_before if point != event.point)
            if isinstance(event, ev.ConfirmationTakenBack):
                return replace(record, confirmed=others, confirmed_before=before)
            return replace(record, confirmed=(*others, (event.point, event.by)), confirmed_before=before)


def looked_at_again(records: Mapping[str, StepRecord]) -> Mapping[str, StepRecord]:
    """After an interruption a hold that is not released is confirmed afresh; who had ticked what stays to be seen."""
    return MappingProxyType({
        step: replace(record, confirmed=(), confirmed_before=record.confirmed or record.confirmed_before)
        if record.hold != "released"
        else record
        for step, record in records.items()
    })  # fmt: skip


def gone_by(records: Mapping[str, StepRecord], event: ev.OldValueUsed) -> Mapping[str, StepRecord]:
    """Steps that went by a value before it was corrected say so until they are done again."""
    new = dict(records)
    for step in (*event.done, *event.passed):
        record = new.get(step, UNTOUCHED)
        new[step] = replace(record, old=(*record.old, (event.name, event.exception)))
    return MappingProxyType(new)
