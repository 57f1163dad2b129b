"""What a run is called in the bars: its revision and status, live or dry, played or not. Every page says it."""

from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.say.text import mark, say

DRY = mark("DRY RUN")

STATUSES = {
    "draft": (mark("draft"), mark("NOT APPROVED")),
    "approved": (mark("approved"), mark("APPROVED")),
    "withdrawn": (mark("withdrawn"), mark("WITHDRAWN")),
}
"""Of a procedure, as its author writes it: how it is said, and how loudly where a live run is not of an approved one."""


def revision_words(procedure: Procedure, mode: str) -> str:
    """Revision and status; a live run of what is not approved says so everywhere."""
    quiet, loud = STATUSES.get(procedure.status, (procedure.status, procedure.status.upper()))
    status = quiet if mode != "live" or procedure.status == "approved" else loud
    return say("rev {revision} {status}", revision=procedure.revision, status=say(status))


def mode_words(state: RunState) -> str:
    """Live or dry, and whether it is played from a file."""
    words = say("LIVE RUN") if state.mode == "live" else say(DRY)
    return say("{mode}, PLAYED", mode=words) if state.played else words
