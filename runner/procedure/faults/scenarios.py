"""Faults of scenarios: what can never happen in a dry run with that job, and responses that do not exist."""

from runner.procedure.faults.row import ERROR, FaultRow

SCENARIO_FAULTS = (
    FaultRow(
        "procedure-not-found",
        ERROR,
        "The procedure of a scenario is not where `file` says, or it does not compile.",
        "A scenario that nobody has held against its procedure trains for something else.",
        "file: ../chnge-roll.procedure.yaml",
        "file: ../change-roll.procedure.yaml",
    ),
    FaultRow(
        "job-not-allowed",
        ERROR,
        "The procedure refuses the scenario's job, or the job is not whole.",
        "The dry run would not begin.",
        "inputs: {web_width: 2 m}",
        "inputs: {web_width: 1.2 m}",
    ),
    FaultRow(
        "fault-cannot-occur",
        ERROR,
        "A fault, a question or an end of the scenario stands at a step that no dry run with this job comes to, or the fault shows what is in order there.",
        "The trainee would be judged by something that never happens.",
        "{id: leak, at: leak-read, shows: {pressure: {value: 6.2 bar}}, right: [{out: pressure}]}",
        "{id: leak, at: leak-read, shows: {pressure: {value: 5.1 bar}}, right: [{out: pressure}]}",
    ),
    FaultRow(
        "response-missing",
        ERROR,
        "A response, an unsafe act or a criterion names what there is not at that place: a trouble, a hold, an earlier step.",
        "Nobody could do the right thing, or the unsafe one could never be seen.",
        "right: [{trouble: leeks}]",
        "right: [{trouble: leaks}]",
    ),
    FaultRow(
        "criterion-unmeetable",
        ERROR,
        "A criterion names what the trainee never comes to: a step outside the scenario, an answer that somebody else gives, the end of the run.",
        "Whoever does all of it right would fail.",
        "{id: whole, words: Finishes the run., finished: true}  # with stop_after: release-hook",
        "{id: whole, words: Takes the hook off., done: release-hook}",
    ),
    FaultRow(
        "shown-unfit",
        ERROR,
        "What the equipment shows can be no answer there, is out of limits without a fault that says so, or so little that a dial may be read as within them.",
        "The dry run would stick where the trainee does everything right.",
        "shows: {pressure: {value: 6.2 kg}}",
        "shows: {pressure: {value: 6.2 bar}}",
    ),
)
