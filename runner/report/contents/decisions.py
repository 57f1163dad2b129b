"""What a reviewer must decide, on one page: each matter in a line with room for the decision, and the signatures.

Exceptions come first, with what was decided about them; then whatever else a reviewer must not miss. Where there are
more matters than a page holds, the rest is counted and stands in full on the pages behind.
"""

from collections.abc import Mapping

from runner.engine import events as ev
from runner.engine.state import MEANINGS
from runner.record.head_code import head_code
from runner.report.contents.names import Entries
from runner.report.contents.section import Column, Row, Section, blocks_of, cell_of, stamp
from runner.report.contents.words import counted, moment_words
from runner.report.document import Block, Cell, Note, Table, lines_of

MOST = 10
"""Matters on the page."""
LONGEST = 110
"""Characters of a matter; it stands in full behind."""
SPACE = "_" * 18
"""Room to write on paper."""
ONE: Mapping[str, str] = {
    "exceptions": "Exception",
    "troubles": "Trouble met",
    "answers_out_of_limits": "Answer out of limits",
    "answers_corrected": "Answer corrected",
    "second_looks_differed": "Second look differed",
    "states_differed": "State differed",
    "steps_left_out": "Step left out",
    "values_over_limits": "Value over its limits",
    "holds_revoked": "Hold revoked",
    "acts_refused": "Act refused",
    "old_values_used": "Old value used",
    "pieces_accepted": "Pieces accepted",
    "waits_late": "Wait too long",
    "went_back": "Gone back",
    "steps_not_ended": "Step not ended",
    "entered_late": "From paper",
    "interruptions": "Interruption",
    "pins_refused": "Wrong PIN",
    "handovers": "Handover",
    "clock_steps": "Clock set",
    "tails_set_aside": "Tail set aside",
    "unqualified": "Not qualified",
}
"""What one row of a section is called on the page; the section's own caption where it is not named here."""
OF_RECORD = (ev.AnswerCorrected, ev.ExceptionNoted, ev.ExceptionClosed, ev.ExceptionDisposed)
"""What makes a record another than the one that was signed."""


def within_run(entries: Entries) -> Entries:
    """The events up to the end of the run: the review comes after it, on another day perhaps."""
    for at, (_, event) in enumerate(entries):
        if isinstance(event, ev.Finished | ev.Abandoned):
            return entries[: at + 1]
    return entries


def signatures_section(entries: Entries) -> Section:
    """Every signature, and what was added after it."""
    rows = []
    for at, (number, event) in enumerate(entries):
        if not isinstance(event, ev.RunSigned):
            continue
        added = sum(isinstance(later, OF_RECORD) for _, later in entries[at + 1 :])
        rows.append({
            **stamp(number, event), "meaning": event.meaning, "role": event.role, "words": event.words,
            "how": event.how, "head": event.head, "count": event.count, "added": added,
        })  # fmt: skip
    columns = (
        Column("Meaning", "meaning"),
        Column("Name", lambda row: tuple(line for line in (row["by"], row["how"], row["words"]) if line)),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        Column("Signed", signed_cell),
        Column("Event", "event", numeric=True),
    )
    return Section(
        "signatures", "Signatures", columns, tuple(rows), "Nobody has signed this record.",
        mark=lambda row: bool(row["added"]), marked="for less than the record holds now",
    )  # fmt: skip


def signed_cell(row: Row) -> Cell:
    """What a signature covers."""
    covers = f"{counted(row['count'], 'line')}, head code {head_code(row['head'])}"
    if not row["added"]:
        return covers
    added = counted(row["added"], "correction or decision", "corrections or decisions")
    return (covers, f"{added} added since: NOT SIGNED")


def decision_blocks(sections: tuple[Section, ...], signatures: Section) -> tuple[Block, ...]:
    """The matters and the places for names."""
    matters = [matter for section in sections for matter in matters_of(section)]
    first = sum(len(section.rows) for section in sections if section.key == "exceptions")
    matters = [*matters[:first], *sorted(matters[first:], key=lambda matter: not matter[1])]
    blocks: list[Block] = []
    if matters:
        shown = matters[:MOST]
        blocks.append(
            Table(
                "To decide", ("Matter", "What", "Event", "Decision"), tuple(cells for cells, _ in shown),
                frozenset(at for at, (_, marked) in enumerate(shown) if marked), frozenset({2}),
            )
        )  # fmt: skip
        if len(matters) > MOST:
            blocks.append(Note(f"{len(matters) - MOST} more to decide about, in full behind this page."))
    else:
        blocks.append(Note("Nothing in this run asks for a decision."))
    signed = {row["meaning"] for row in signatures.rows}
    rows = blocks_of(signatures) if signatures.rows else ()
    open_ = tuple((meaning, SPACE, SPACE, SPACE) for meaning in MEANINGS if meaning not in signed)
    blank = (Table("To be signed", ("Meaning", "Name", "Signature", "Date and time"), open_),) if open_ else ()
    return (*blocks, *rows, *blank)


def matters_of(section: Section) -> list[tuple[tuple[Cell, ...], bool]]:
    """The rows of a section, each in a line, with whether it is one that nobody may miss."""
    found: list[tuple[tuple[Cell, ...], bool]] = []
    for row in section.rows:
        decided = row.get("disposition") or {}
        words = f"{decided['disposition']}: {decided['words']} ({decided['by']})" if decided else SPACE
        event = str(row.get("event") or "–")
        said = row["words"] if section.key == "exceptions" else brief(section, row)
        what = f"{row['number']}, {row['severity']}: {said}" if section.key == "exceptions" else said
        marked = section.mark(row) and not decided
        found.append(((ONE.get(section.key, section.caption), clipped(what), event, words), marked))
    return found


def brief(section: Section, row: Row) -> str:
    """The first columns of a row, in a line."""
    heads = [column for column in section.columns if column.head not in ("Event", "When (UTC), who", "No.")]
    cells = [lines_of(cell_of(column, row))[0] for column in heads[:3]]
    return "; ".join(cell for cell in cells if cell and cell != "–")


def clipped(words: str) -> str:
    """As much as fits on the page."""
    return words if len(words) <= LONGEST else f"{words[: LONGEST - 1].rstrip()}…"
