"""Faults of steps: order, ways back, asks and people."""

from runner.procedure.faults.row import ERROR, FaultRow

STEP_FAULTS = (
    FaultRow(
        "step-twice",
        ERROR,
        "Two steps have the same id.",
        "A way back or a record could mean either.",
        "- {id: look, ...}\n- {id: look, ...}",
        "- {id: look-left, ...}\n- {id: look-right, ...}",
    ),
    FaultRow(
        "slot-form",
        ERROR,
        "A slot in an instruction is not written as the language wants it.",
        "The operator would read it as it stands.",
        "do: Hang {bar mass} on.",
        "do: Hang {bar_mass:.1f} on.",
    ),
    FaultRow(
        "used-too-early",
        ERROR,
        "A step uses a reading or choice before the step that asks for it.",
        "The operator would see a gap instead of the number.",
        "a step shows {pressure}; a later one reads it",
        "the reading first, then the step that shows it",
    ),
    FaultRow(
        "back-to-elsewhere",
        ERROR,
        "`back_to` leads to a later step, or to another list or phase.",
        "Steps would be jumped over, or another person's work undone.",
        "back_to: a step further down",
        "back_to: this step or one before it in the same list",
    ),
    FaultRow(
        "accept-not-offered",
        ERROR,
        "`accept` names an answer that `of` does not offer.",
        "It could never be given.",
        "of: [yes, no], accept: [sure]",
        "of: [yes, no], accept: [yes]",
    ),
    FaultRow(
        "match-not-text",
        ERROR,
        "`match` names a value that the answer can never equal.",
        "Every answer would be wrong.",
        "match: web_width",
        "match: substrate",
    ),
    FaultRow(
        "role-missing",
        ERROR,
        "A step does not say who does it.",
        "With several people it must be clear.",
        "{id: look, do: Look round.}",
        "{id: look, by: unwind, do: Look round.}",
    ),
    FaultRow(
        "role-of-list",
        ERROR,
        "A step in a person's list is done by another role.",
        "Each list is one person's work.",
        "together: {unwind: [{by: rewind, ...}]}",
        "together: {unwind: [{by: unwind, ...}]}",
    ),
    FaultRow(
        "second-is-doer",
        ERROR,
        "The second look is by the role that does the step.",
        "Nobody sees their own slip.",
        "by: unwind, second: {by: unwind}",
        "by: unwind, second: {by: lead}",
    ),
)
