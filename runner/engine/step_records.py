"""How ticks and late corrections change the records of steps: the part of `evolve` that needs nothing but the records."""

from collections.abc import Mapping
from types import MappingProxyType

from runner.engine import events as ev
from runner.engine.changed import changed
from runner.engine.state import UNTOUCHED, StepRecord

Tick = ev.RollerThreaded | ev.RollerTakenBack | ev.ConfirmationTicked | ev.ConfirmationTakenBack


def ticked(record: StepRecord, event: Tick) -> StepRecord:
    """The record with one tick more, or one less."""
    match event:
        case ev.RollerThreaded():
            return changed(record, threaded=(*record.threaded, event.by))
        case ev.RollerTakenBack():
            return changed(record, threaded=record.threaded[:-1])
        case ev.ConfirmationTicked() | ev.ConfirmationTakenBack():
            others = tuple((point, who) for point, who in record.confirmed if point != event.point)
            before = tuple((point, who) for point, who in record.confirmed_before if point != event.point)
            if isinstance(event, ev.ConfirmationTakenBack):
                return changed(record, confirmed=others, confirmed_before=before)
            return changed(record, confirmed=(*others, (event.point, event.by)), confirmed_before=before)


def looked_at_again(records: Mapping[str, StepRecord]) -> Mapping[str, StepRecord]:
    """After an interruption a hold that is not released is confirmed afresh; who had ticked what stays to be seen."""
    again = {
        step: changed(record, confirmed=(), confirmed_before=record.confirmed or record.confirmed_before)
        for step, record in records.items()
        if record.confirmed and record.hold != "released"
    }
    return MappingProxyType({**records, **again}) if again else records


def gone_by(records: Mapping[str, StepRecord], event: ev.OldValueUsed) -> Mapping[str, StepRecord]:
    """Steps that went by a value before it was corrected say so until they are done again."""
    new = dict(records)
    for step in (*event.done, *event.passed):
        record = new.get(step, UNTOUCHED)
        new[step] = changed(record, old=(*record.old, (event.name, event.exception)))
    return MappingProxyType(new)
