"""The whole form: of a procedure alone, of a procedure with a job, or of a run as its record stands.

One builder for all three; what differs is which values are known and what is on record.
"""

from collections.abc import Mapping

from runner.procedure.model import Procedure
from runner.report.contents.marks import marks_of
from runner.report.contents.names import Entries
from runner.report.document import Block
from runner.report.sheet.back import back_blocks
from runner.report.sheet.form import Sheet
from runner.report.sheet.front import front_blocks, opening_blocks
from runner.report.sheet.known import Known, known_from_job, known_of
from runner.report.sheet.phases import phase_blocks
from runner.report.sheet.place import place_blocks
from runner.report.sheet.recorded import Recorded, recorded
from runner.report.verification import Verification
from runner.report.working.given import Given

STATUS_MARKS: Mapping[str, str] = {
    "approved": "",
    "draft": "NOT APPROVED: DRAFT PROCEDURE",
    "withdrawn": "WITHDRAWN PROCEDURE: NOT FOR USE",
}

DIGITS = 16
"""Of the digest, at the foot of every page; the first page has it whole."""


def sheet_of_procedure(procedure: Procedure, given: Mapping[str, Given]) -> Sheet:
    """The form of a procedure; values of a job are filled in with all that can be worked out of them."""
    known = known_from_job(procedure, given)
    mark = STATUS_MARKS.get(procedure.status, "NOT APPROVED")
    return assembled(procedure, known, None, mark, "job form" if given else "blank form", ())


def sheet_of_run(procedure: Procedure, entries: Entries, check: Verification) -> Sheet | None:
    """The half-done form of a run; None where the record has no beginning. `procedure` is the text that the run pins."""
    run = recorded(procedure, entries)
    if run is None:
        return None
    known = known_of(procedure, run.state.values)
    mark = " · ".join(mark.words for mark in marks_of(run.begun))
    place = tuple(place_blocks(procedure, run, check))
    return assembled(procedure, known, run, mark, f"run {run.begun.run}", place)


def assembled(
    procedure: Procedure, known: Known, run: Recorded | None, mark: str, of: str, place: tuple[Block, ...]
) -> Sheet:
    """The blocks in their order: cautions first, then the place in a run, then the work."""
    blocks = (
        *opening_blocks(procedure, known, run),
        *place,
        *front_blocks(procedure, known, run),
        *phase_blocks(procedure, known, run),
        *back_blocks(procedure, known, run),
    )
    return Sheet(
        title=f"{procedure.title}, revision {procedure.revision}: {'half-done form' if run else 'paper form'}",
        blocks=blocks,
        mark=mark,
        running=f"{procedure.id} revision {procedure.revision} · digest {procedure.digest[:DIGITS]} · {of}",
        clean=not known.bad,
    )
