"""A journal to what an index keeps of it: read whole, verified on the way, its figures worked out as `run_times` does.

There is one way to work out figures, so that what the index has is what a full reading gives. A plan is made once for
each text of a procedure.
"""

import json
from typing import NamedTuple

from runner.engine import events as ev
from runner.procedure.model import Procedure
from runner.record.disk import DISK, Io, trouble_words
from runner.record.fields import word_of
from runner.record.glance import given_of
from runner.record.index.kept import Kept, stamp_of
from runner.record.index.look import NO_STAMP
from runner.record.left_behind import TOLD, as_text, folded
from runner.record.line import Entry, decode
from runner.record.reading import lines_of
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.record.sketch import sketch_of
from runner.record.store import Summary, outcome_of, summarise, summary_of
from runner.record.verify import Verification, Verifier
from runner.report.contents.names import Entries
from runner.report.times.figures import as_data, chain_data, figures_of, plan_data
from runner.report.times.known import NO_PROCEDURE
from runner.report.times.plan import Plan, plan_of
from runner.report.times.run_times import run_times

dump = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), check_circular=False).encode


WHOLE = frozenset(
    word_of(kind).encode()
    for kind in (
        ev.RunBegun, ev.InputGiven, ev.WentBack, ev.TroubleMet, ev.ExceptionNoted, ev.ExceptionCarried,
        ev.ExceptionClosed,
    )
)  # fmt: skip
"""Of these events more is needed than when, where, of what kind and whether hidden; of others nothing else is read."""


OF_EXCEPTIONS = frozenset(TOLD)
"""Of these types are the events that outlive a run; no class of an event has others below it."""

SKETCH = sketch_of(WHOLE)
"""For all records: what it knows of each kind of line is made once."""


class Sketched(NamedTuple):
    """A journal as far as an index needs it."""

    events: list[tuple[int, ev.Event]]
    """Each with its number; of most only a part is there."""
    found: Verification
    """What verifying found: every line is verified in full."""
    ends: tuple[Entry, ...]
    """The first line, and the last one where the run has ended; none where nothing is there."""


def sketched(path: str, io: Io = DISK) -> Sketched | Refused:
    """Read a journal once."""
    verifier = Verifier()
    events: list[tuple[int, ev.Event]] = []
    ends: tuple[Entry, ...] = ()
    try:
        with io.open_read(path) as file:
            lines = lines_of(file)
            while line := SKETCH(lines, verifier, events):
                checked = verifier.checked(line, decode(line))
                if checked is not None:
                    events.append((checked.number, checked.event))
                    ends = (ends[0] if ends else checked, checked)
    except OSError as error:
        return Refused(trouble_words("Cannot read the journal", path, error))
    return Sketched(events, verifier.result(), ends)


def ended_summary(path: str, read: Sketched) -> Summary | None:
    """The summary of a record that is whole and has ended, as `summarise` gives it; None for any other."""
    if not read.found.whole or not read.found.outcome or not read.ends:
        return None
    (first, last), begun = read.ends, read.ends[0].event
    if not isinstance(begun, ev.RunBegun) or not outcome_of(last):
        return None
    inputs = [event for _, event in read.events[: first.left + 1] if isinstance(event, ev.InputGiven)]
    return summary_of(path, begun, last, given_of(begun, inputs), "")


class Reader:
    """Reads one journal after the other."""

    def __init__(self) -> None:
        self.plans: dict[object, tuple[Plan, str] | None] = {}
        """(plan, the same as JSON) by the text of the procedure."""

    def read(self, path: str, io: Io = DISK) -> Kept | None:
        """What is to be known of a record; no extract where it has none, and words in the summary then."""
        stamp = stamp_of(path)
        read = sketched(path, io)
        ended = not isinstance(read, Refused) and ended_summary(path, read)
        summary = ended or summarise(path, io)
        if summary is None or summary.words:
            return None if summary is None else Kept(path, NO_STAMP, summary)
        if isinstance(read, Refused):
            return Kept(path, NO_STAMP, summary, more=read.words)
        events, found, _ = read
        if not found.whole or not events:
            return Kept(path, NO_STAMP, summary, more=str(found.flaws[0]) if found.flaws else "nothing is in it")
        extract = self.extract(events)
        if extract is None:
            return Kept(path, NO_STAMP, summary, more=NO_PROCEDURE)
        left = as_text(folded(event for _, event in events if type(event) in OF_EXCEPTIONS))
        return Kept(path, stamp or NO_STAMP, summary, *extract, left=left)

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
