"""The last pages of a form: independent second looks, how the press is at the end, what did not go as written, signatures."""

from collections.abc import Iterator

from runner.procedure.asks import KIND_OF
from runner.procedure.model import Procedure, steps_of
from runner.report.document import Facts, Heading, Note, Table
from runner.report.sheet.form import BLANK, BOX, LONG_BLANK, NewPage, SheetBlock
from runner.report.sheet.known import Known
from runner.report.sheet.recorded import CLOSED, Recorded

EXCEPTIONS, HALTS = 8, 5
"""Empty rows."""

ROOM = "______"
"""A narrow blank of a table."""

SECOND = (
    "This page is for the second person alone. Look and write here without seeing the first answers; afterwards compare."
    " Where the answers differ, both look again."
)


def back_blocks(procedure: Procedure, known: Known, run: Recorded | None) -> Iterator[SheetBlock]:
    """What follows the last phase."""
    if table := second_looks(procedure, known, run):
        yield NewPage()
        yield Heading("Independent second looks")
        yield Note(SECOND)
        yield table
    yield NewPage()
    yield Heading("At the end")
    ends = tuple(
        (one.label, f"{BOX}{one.of[one.at_end]}", BLANK, BLANK) for one in procedure.states if one.at_end is not None
    )
    if ends:
        yield Table("How the press must be", ("State", "You confirm", "Time", "Initials"), ends)
    first = len(run.state.exceptions) if run is not None else 0
    rows = tuple((str(first + at + 1), ROOM, ROOM, LONG_BLANK, ROOM, ROOM) for at in range(EXCEPTIONS))
    yield Heading("Exceptions")
    heads = ("No.", "Time", "Step", "What was not as expected", "By", "Closed")
    yield Table("Whatever did not go as written", heads, rows)
    yield Heading("Interruptions")
    halts = tuple((ROOM, ROOM, LONG_BLANK, ROOM, ROOM) for _ in range(HALTS))
    yield Table("Pauses, stops, handovers", ("From", "To", "What was to come next", "By", "States seen, by"), halts)
    yield Heading("Closed")
    yield Facts((
        ("Outcome", f"{BOX}finished  {BOX}abandoned, because {LONG_BLANK}"),
        *((f"{label}: name, signature, time", LONG_BLANK * 2) for _, label in procedure.people),
        ("Pages of this form counted", f"{BLANK} of {BLANK}"),
    ))  # fmt: skip


def second_looks(procedure: Procedure, known: Known, run: Recorded | None) -> Table | None:
    """Blanks for the answers of the second person; None where nobody looks second."""
    rows = []
    roles = dict(procedure.people)
    for step in steps_of(procedure):
        closed = run is not None and step.id in run.rows and run.rows[step.id]["status"] in CLOSED
        if closed or step.second is None or step.second.how != "independent":
            continue
        for ask in step.asks:
            lines = KIND_OF[ask.kind].printed(ask, known.usable, procedure.scope)
            rows.append((step.number, roles.get(step.second.by, step.second.by), lines, BLANK, BLANK))
    if not rows:
        return None
    return Table("Answers of the second person", ("Step", "Who", "Answer", "Time", "Initials"), tuple(rows))
