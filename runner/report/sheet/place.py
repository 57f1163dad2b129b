"""Where a half-done run stands, for people who go on with it on paper.

Nothing that the record holds of the press is taken for granted: every state has room for what somebody sees now.
"""

from collections.abc import Iterator

from runner.engine.lookup import step_named
from runner.procedure.model import UNKNOWN, Procedure
from runner.report.contents.words import moment_words
from runner.report.document import Block, Facts, Heading, Listing, Note, Table
from runner.report.sheet.form import BLANK, BOX
from runner.report.sheet.recorded import Recorded
from runner.report.verification import Verification

GO_ON = (
    "What the record says is as old as its last event. Before anybody goes on, look at each state below and write what you"
    " see. Where it differs from the record, stop and ask. Releases given before do not count on paper. Nobody works on the"
    " screen and on paper at the same time."
)

LATER = (
    "Write the time of every act, in UTC or with its offset. Afterwards what stands here is entered with"
    " `changeover resume {run} --from-paper`, each act with its time; the record marks it as entered late. The order of the"
    " steps and their limits hold then as they do now."
)

HALTED = {"pause": "paused", "make-safe": "stopped, being made safe"}


def place_blocks(procedure: Procedure, run: Recorded, check: Verification) -> Iterator[Block]:
    """The place, what to look at, what is open."""
    state = run.state
    yield Heading("Where the work stands")
    if not check.whole:
        flaws = "; ".join(check.flaws)
        yield Note(f"THE RECORD IS NOT WHOLE: {flaws}. More may have happened than stands on this form.", "problem")
    if state.outcome:
        yield Note(f"The run is {state.outcome}: on this form nothing is gone on with.", "problem")
    yield Facts((
        ("Run", run.begun.run),
        ("Mode", f"{run.begun.mode} run"),
        ("Began", f"{moment_words(run.begun.at.utc)} UTC"),
        ("Recorded up to", f"event {run.events}, {moment_words(run.last)} UTC"),
        ("Head of the record", check.head or "none"),
        ("Run is", state.outcome or HALTED.get(state.halted, state.halted) or "open"),
        ("Step that is up", places(procedure, run)),
        *((("Said to be next", state.intention),) if state.intention else ()),
        ("How people were identified", state.identity or "identity not verified"),
    ))  # fmt: skip
    if state.outcome:
        return
    yield Note(GO_ON, "caution")
    yield Note(LATER.format(run=run.begun.run))
    if state.safe_acts:
        yield Listing(tuple(safe_lines(run)))
    if procedure.states:
        yield states_table(procedure, run)
    if state.open_exceptions:
        rows = tuple((str(one.number), one.words, one.owner or "nobody", BLANK) for one in state.open_exceptions)
        yield Table("Exceptions that are open", ("No.", "What", "Owner", "Dealt with, initials"), rows)


def places(procedure: Procedure, run: Recorded) -> tuple[str, ...]:
    """Number and act's name of each step that is up."""
    if not run.here:
        return ("none: every list has ended",)
    found = (step_named(procedure, step) for step in run.here)
    return tuple(sorted(f"{step.number} {step.id}" for step in found if step is not None))


def safe_lines(run: Recorded) -> Iterator[str]:
    """The list of making safe that was begun."""
    for number, act in enumerate(run.state.safe_acts):
        yield f"{'[x] ' if number in run.safe_acts else BOX}{act}"


def states_table(procedure: Procedure, run: Recorded) -> Table:
    """Every tracked state: as recorded, and room for what is seen."""
    rows = []
    for tracked, at in zip(procedure.states, run.state.position.states, strict=True):
        before = run.state.unconfirmed.get(tracked.name)
        known = tracked.of[at] if at != UNKNOWN else f"not known, before: {before}" if before else "not known"
        rows.append((tracked.label, known, BLANK, BLANK))
    return Table("The press, to be looked at now", ("State", "On record", "Seen now", "Initials"), tuple(rows))
