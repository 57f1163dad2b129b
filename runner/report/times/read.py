"""A journal to what an index keeps of it: read whole, verified on the way, its figures worked out as `run_times` does.

There is one way to work out figures, so that what the index has is what a full reading gives. A plan is made once for
each text of a procedure.
"""

import json

from runner.engine import events as ev
from runner.procedure.model import Procedure
from runner.record.disk import DISK, Io, trouble_words
from runner.record.fields import word_of
from runner.record.index.kept import Kept, stamp_of
from runner.record.index.look import NO_STAMP
from runner.record.pattern import sketch_of
from runner.record.reading import lines_of
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.record.store import summarise
from runner.record.verify import Verification, Verifier
from runner.report.contents.names import Entries
from runner.report.times.figures import as_data, chain_data, figures_of, plan_data
from runner.report.times.known import NO_PROCEDURE
from runner.report.times.plan import Plan, plan_of
from runner.report.times.run_times import run_times

dump = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), check_circular=False).encode


WHOLE = frozenset(word_of(kind).encode() for kind in (ev.RunBegun, ev.WentBack, ev.ExceptionNoted, ev.TroubleMet))
"""Of these events times need more than when, where, of what kind and whether hidden; of others nothing else is read."""


def sketched(path: str, io: Io = DISK) -> tuple[list[tuple[int, ev.Event]], Verification] | Refused:
    """The events of a journal as far as times need them, and what verifying found: every line is verified in full."""
    verifier, read = Verifier(), sketch_of(WHOLE)
    events: list[tuple[int, ev.Event]] = []
    try:
        with io.open_read(path) as file:
            for line in lines_of(file):
                entry = verifier.check(line, read)
                if entry is not None:
                    events.append((entry.number, entry.event))
    except OSError as error:
        return Refused(trouble_words("Cannot read the journal", path, error))
    return events, verifier.result()


class Reader:
    """Reads one journal after the other."""

    def __init__(self) -> None:
        self.plans: dict[object, tuple[Plan, str] | None] = {}
        """(plan, the same as JSON) by the text of the procedure."""

    def read(self, path: str, io: Io = DISK) -> Kept | None:
        """What is to be known of a record; no extract where it has none, and words in the summary then."""
        stamp = stamp_of(path)
        summary = summarise(path, io)
        if summary is None or summary.words:
            return None if summary is None else Kept(path, NO_STAMP, summary)
        read = sketched(path, io)
        if isinstance(read, Refused):
            return Kept(path, NO_STAMP, summary, more=read.words)
        events, found = read
        if not found.whole or not events:
            return Kept(path, NO_STAMP, summary, more=str(found.flaws[0]) if found.flaws else "nothing is in it")
        extract = self.extract(events)
        if extract is None:
            return Kept(path, NO_STAMP, summary, more=NO_PROCEDURE)
        return Kept(path, stamp or NO_STAMP, summary, *extract)

    def extract(self, entries: Entries) -> tuple[str, str, str] | None:
        """Figures, chain and plan as JSON; None where this program does not take the procedure."""
        begun = entries[0][1]
        plan = self.plan(begun) if isinstance(begun, ev.RunBegun) else None
        if plan is None:
            return None
        figures = figures_of(run_times(entries, plan[0]))
        return dump(as_data(figures)), dump(chain_data(figures.chain())), plan[1]

    def plan(self, begun: ev.RunBegun) -> tuple[Plan, str] | None:
        """The steps of the procedure as it was."""
        key = (begun.digest, begun.sources)
        if key not in self.plans:
            procedure = pinned_procedure(begun)
            plan = plan_of(procedure) if isinstance(procedure, Procedure) else None
            self.plans[key] = None if plan is None else (plan, dump(plan_data(plan)))
        return self.plans[key]
