"""The record of one run as a document: what a reviewer has to decide about first, then all that was done.

Everything is quoted from the events; only durations between them are worked out, from ticks of the same boot. The
names of steps, roles and states come from the procedure when it is the very text that the record pins.
"""

from typing import Any

from runner.engine import events as ev
from runner.procedure.model import Procedure
from runner.record.head_code import head_code
from runner.report.contents import (
    decisions,
    holds,
    interruptions,
    paper,
    people,
    review,
    site,
    ticks,
    times,
    training,
    values,
)
from runner.report.contents.marks import marks_of, mode_words
from runner.report.contents.names import Entries, Names, names_from_events, names_from_procedure
from runner.report.contents.seals import seals_section
from runner.report.contents.section import Row, Section, blocks_of, data_of, stamp
from runner.report.contents.step_tables import step_blocks
from runner.report.contents.steps import answers_in, step_rows
from runner.report.contents.web_paths import thread_figures
from runner.report.contents.words import NOT_KNOWN, counted, duration_words, joined, moment_words, terminal_words
from runner.report.document import Block, Cell, Document, Facts, Heading, Listing, Note, Picture, Pictures
from runner.report.head_qr import qr_lines, qr_svg
from runner.report.timeline.picture import timeline_blocks
from runner.report.verification import Verification

SCHEMA_VERSION = 1

CAUTION = (
    "This record is an aid to people. The program that kept it is not a lockout, an interlock or a load limiter, and"
    " it has not looked at the machine: every entry is what a person typed or confirmed. Local codes, the machine's"
    " manual and licensed practice come first."
)

WHAT_A_CHAIN_SHOWS = (
    "Every line of the record carries the hash of the line before it. That shows a line that was changed, taken out or"
    " moved. It does not show a record that somebody wrote anew as a whole: for that, compare the head above with one"
    " that was written down elsewhere when the run ended."
)


def run_record(entries: Entries, verification: Verification, procedure: Procedure | None) -> Document:
    """A run's (number, event) pairs in order, the result of checking its journal, and the procedure that was run.

    `procedure` may be None, where the pinned text cannot be compiled any more; the report then says less.
    """
    begun = next((event for _, event in entries if isinstance(event, ev.RunBegun)), None)
    same = procedure is not None and begun is not None and procedure.digest == begun.digest
    names = names_from_procedure(procedure, entries) if procedure and same else names_from_events(entries)
    marks = marks_of(begun)
    mark = " · ".join(mark.words for mark in marks)
    outcome = outcome_row(entries, verification.whole)
    steps = step_rows(entries, names)
    run_only = decisions.within_run(entries)
    phases = times.phase_rows(run_only, names)
    figures = times.totals(run_only, phases)
    held = holds.hold_rows(entries, names)
    to_review = review_sections(entries, names, steps, held)
    rest = rest_sections(entries, names, steps, held)
    phase_times = times.phases_section(phases)
    signatures = decisions.signatures_section(entries)
    on_paper = paper.times_on_paper(entries)
    for marked in (steps, held, *(section.rows for section in (*to_review, *rest.values()))):
        paper.mark_rows(marked, on_paper)
    late = paper.paper_note(entries)
    drawn = thread_figures(procedure, job_of(entries)) if procedure is not None and same else {}
    blocks: tuple[Block, ...] = (
        *((Note(" ".join(mark.sentence for mark in marks), "caution"),) if marks else ()),
        Facts(opening_facts(begun, entries, outcome, figures, verification)),
        Note(CAUTION, "caution"),
        *problems(entries, outcome, verification, names),
        Heading("For the reviewer to decide"),
        *decisions.decision_blocks(to_review, signatures),
        *head_blocks(verification),
        Heading("What happened when", page=True),
        *timeline_blocks(entries, names),
        Heading("The matters to decide, in full"),
        Listing(review.summary_of(to_review, steps, verification.whole)),
        *(block for section in to_review if section.rows for block in blocks_of(section)),
        Heading("The job"),
        *blocks_of(rest["job"]),
        Heading("People"),
        Note(f"How people were identified: {people.identity_words(entries)}."),
        *blocks_of(rest["crew"]),
        *(blocks_of(rest["identities"]) if rest["identities"].rows else ()),
        *((Heading("Place"), *blocks_of(rest["site"])) if "site" in rest else ()),
        *((Heading("Training"), *blocks_of(rest["training"])) if "training" in rest else ()),
        Heading("Values worked out"),
        *blocks_of(rest["worked_out"]),
        Heading("Holds"),
        *blocks_of(rest["holds"]),
        Heading("Steps"),
        *step_blocks(steps, drawn),
        Heading("Answers"),
        *blocks_of(rest["answers"]),
        Heading("States looked at"),
        *blocks_of(rest["states_looked_at"]),
        Heading("Times"),
        *((Note(late),) if late else ()),
        Facts(times.totals_facts(figures)),
        *blocks_of(phase_times),
        Heading("Procedure and record"),
        Facts(record_facts(begun, names, verification)),
        *(blocks_of(rest["seals"]) if "seals" in rest else ()),
        *qr_blocks(verification),
        Note(WHAT_A_CHAIN_SHOWS),
    )
    run = begun.run if begun else NOT_KNOWN
    return Document(
        title=title_of(begun, mark),
        blocks=blocks,
        mark=mark,
        caution=CAUTION,
        running=running_words(run, verification),
        data={
            "schema_version": SCHEMA_VERSION,
            "document": "run record",
            "mark": mark,
            "caution": CAUTION,
            "run": run_data(begun, names, people.identity_words(entries)),
            "outcome": outcome,
            "record": {
                "whole": verification.whole,
                "head": verification.head,
                "code": head_words(verification),
                "events": verification.events,
                "flaws": list(verification.flaws),
                "contradicted": list(verification.contradicted),
            },
            **data_of((*to_review, signatures, *rest.values(), phase_times)),
            "steps": list(steps),
            "times": figures,
        },
    )  # fmt: skip


NO_END = {"open": "not ended in this record"}


def running_words(run: str, verification: Verification) -> str:
    """What stands on every page: the run and its head code."""
    return f"Run {run}, head code {head_words(verification)}" if verification.head else f"Run {run}"


def head_words(verification: Verification) -> str:
    """The head code."""
    return head_code(verification.head)


def head_blocks(verification: Verification) -> tuple[Block, ...]:
    """What a signature on paper is put to: the record as it is here."""
    if not verification.head:
        return ()
    words = f"Signed is the record as it is here: {counted(verification.events, 'line')}, head code {head_words(verification)}."
    return (Note(words),)


def qr_blocks(verification: Verification) -> tuple[Block, ...]:
    """The head as a code that is scanned, where it can be drawn."""
    drawn = qr_svg(verification.events, verification.head) if verification.head else ""
    lines = qr_lines(verification.events, verification.head)
    return (Pictures((Picture("The head, to be scanned and compared", drawn, lines),)),) if drawn else ()


def review_sections(
    entries: Entries, names: Names, steps: tuple[Row, ...], held: tuple[Row, ...]
) -> tuple[Section, ...]:
    """All that a reviewer has to decide about, in order; most of them have no rows in a plain run."""
    answers = answers_in(steps)
    numbers = {row["step"]: row["step_number"] for row in steps}
    return (
        review.exceptions_section(entries, names),
        review.troubles_section(entries, names),
        values.out_of_limits_section(entries, answers),
        values.corrections_section(entries, numbers),
        review.second_looks_section(steps),
        interruptions.differed_section(interruptions.looks_section(entries, names)),
        review.left_out_section(entries),
        values.over_limits_section(values.worked_out_rows(entries)),
        holds.revoked_section(held),
        ticks.refused_section(entries, names),
        ticks.old_values_section(entries, names),
        holds.accepted_section(entries, names),
        review.late_waits_section(steps),
        review.went_back_section(entries, names),
        review.unended_steps_section(steps),
        paper.entered_late_section(entries, names),
        interruptions.interruptions_section(interruptions.halt_rows(entries, names)),
        people.pins_refused_section(entries),
        *(said for said in (site.unqualified_section(entries),) if said.rows),
        people.handovers_section(entries, names),
        interruptions.clock_section(entries),
        interruptions.tails_section(entries),
    )


def rest_sections(entries: Entries, names: Names, steps: tuple[Row, ...], held: tuple[Row, ...]) -> dict[str, Section]:
    """The record itself, by key."""
    sections = (
        values.job_section(entries),
        people.crew_section(entries, names),
        people.identities_section(entries),
        values.worked_out_section(values.worked_out_rows(entries)),
        holds.holds_section(held),
        values.answers_section(answers_in(steps)),
        ticks.ticks_section(entries, names),
        interruptions.looks_section(entries, names),
        *(said for said in (site.site_section(entries), training.training_section(entries, names)) if said.rows),
        *(said for said in (seals_section(entries),) if said.rows),
    )
    return {section.key: section for section in sections}


def job_of(entries: Entries) -> dict[str, float | str | bool]:
    """The values of the job ticket by name, as they were last corrected: places and sizes of rollers may hang on them."""
    values: dict[str, float | str | bool] = {}
    for _, event in entries:
        if isinstance(event, ev.InputGiven) or (isinstance(event, ev.AnswerCorrected) and event.name in values):
            values[event.name] = event.value
    return values


def outcome_row(entries: Entries, whole: bool) -> Row:
    """How the run ended, that it has no end, or that its end cannot be read."""
    for number, event in reversed(entries):
        match event:
            case ev.Finished():
                left = event.open_exceptions
                words = f"finished, with {counted(left, 'exception') if left else 'no exception'} open"
                return {**stamp(number, event), "word": "finished", "words": words, "reason": ""}
            case ev.Abandoned():
                words = f"abandoned: {event.reason}"
                return {**stamp(number, event), "word": "abandoned", "words": words, "reason": event.reason}
            case _:
                pass
    word, words = ("open", "OPEN: the run has no end") if whole else ("not known", "NOT KNOWN: no end could be read")
    return {"event": None, "at": None, "by": "", "word": word, "words": words, "reason": ""}


def title_of(begun: ev.RunBegun | None, mark: str) -> str:
    """Procedure, revision, run and mode in a line."""
    if begun is None:
        return f"{mark}: record without a beginning"
    title = f"{begun.title}, revision {begun.revision}: run {begun.run}, {mode_words(begun)}"
    return f"{mark}: {title}" if mark else title


def opening_facts(
    begun: ev.RunBegun | None, entries: Entries, outcome: Row, figures: Row, verification: Verification
) -> tuple[tuple[str, Cell], ...]:
    """The run in a few lines."""
    ended = (
        joined(
            (f"{moment_words(outcome['at'])} UTC", f"by {outcome['by']}", terminal_words(outcome.get("terminal", "")))
        )
        if outcome["at"]
        else NO_END.get(outcome["word"], NOT_KNOWN)
    )
    began = f"{moment_words(begun.at.utc)} UTC, by {begun.by}" if begun else NOT_KNOWN
    return (
        ("Outcome", outcome["words"]),
        ("Mode", mode_words(begun)),
        ("Run", begun.run if begun else NOT_KNOWN),
        ("Began", began),
        ("Ended", ended),
        ("Took" if outcome["at"] else "Up to the last event", duration_words(figures["total_s"])),
        ("People", people.identity_words(entries)),
        ("Record", record_words(verification)),
        ("Events", str(len(entries))),
    )


def record_words(verification: Verification) -> str:
    """What the check comes to, in a few words."""
    if not verification.whole:
        return "NOT WHOLE, see below"
    return "whole in itself, and CONTRADICTED, see below" if verification.contradicted else "whole"


def problems(entries: Entries, outcome: Row, verification: Verification, names: Names) -> tuple[Block, ...]:
    """What makes this report less than a full account of a whole run."""
    said: list[Block] = []
    if not verification.whole:
        last = f"up to event {entries[-1][0]}" if entries else "nothing"
        words = f"THE RECORD IS NOT WHOLE. What follows is what could be read of it: {last}. More may have happened."
        said.append(Note(words, "problem"))
        said.append(Listing(verification.flaws or ("The check does not say what is wrong.",)))
    elif verification.events != len(entries):
        words = f"The check read {counted(verification.events, 'event')}, this report {len(entries)}."
        said.append(Note(f"{words} They are not of the same record, or it has grown since.", "problem"))
    if verification.contradicted:
        words = "THE RECORD IS CONTRADICTED. It may not be the record of this run, or not all of it."
        said += [Note(words, "problem"), Listing(verification.contradicted)]
    if outcome["word"] == "open":
        said.append(Note("THE RUN IS OPEN: nobody has finished or abandoned it in this record.", "problem"))
    if not names.from_procedure:
        words = "The pinned procedure was not at hand: steps that nothing happened to are missing here"
        said.append(Note(f"{words}, and steps, roles and states stand under their short names.", "problem"))
    return tuple(said)


def record_facts(begun: ev.RunBegun | None, names: Names, verification: Verification) -> tuple[tuple[str, Cell], ...]:
    """What was pinned and what was checked."""
    rows: list[tuple[str, Cell]] = []
    if begun is not None:
        rows += [
            ("Procedure", f"{begun.procedure}: {begun.title}"),
            ("Revision", str(begun.revision)),
            ("Status when run", begun.status),
            ("Equipment", names.equipment),
            ("Purpose", names.purpose),
            ("Digest (SHA-256)", begun.digest),
            ("Pinned texts", tuple(path for path, _ in begun.sources)),
            ("Kept by", begun.program),
        ]
    rows += [
        ("Head of the record", verification.head or "none"),
        ("Head code", head_words(verification)),
        ("Events checked", str(verification.events)),
        (
            "Result of the check",
            "whole: every line agrees with the one before it" if verification.whole else "NOT WHOLE",
        ),
        *((("Flaws", verification.flaws),) if verification.flaws else ()),
        *((("Contradicted", verification.contradicted),) if verification.contradicted else ()),
    ]
    return tuple((name, said) for name, said in rows if said)


def run_data(begun: ev.RunBegun | None, names: Names, identity: str) -> dict[str, Any] | None:
    """The first event as plain data; the pinned texts stand in the journal, here only their paths."""
    if begun is None:
        return None
    return {
        **stamp(1, begun),
        "id": begun.run,
        "mode": begun.mode,
        "played": begun.played,
        "identity": identity,
        "program": begun.program,
        "procedure": {
            "id": begun.procedure,
            "title": begun.title,
            "revision": begun.revision,
            "status": begun.status,
            "digest": begun.digest,
            "sources": [path for path, _ in begun.sources],
            "equipment": names.equipment,
            "names_from_procedure": names.from_procedure,
        },
    }
