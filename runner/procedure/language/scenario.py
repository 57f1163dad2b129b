"""The table of `*.scenario.yaml`: a dry run with what the equipment shows, what goes wrong, and what counts as right.

A scenario is checked against its procedure by lint: every fault can occur, and every response exists.
"""

from runner.procedure.language.files import CREW, GIVEN, LOOK, TYPED
from runner.procedure.language.shape import (
    FLAG,
    ID,
    NAME,
    NUMBER,
    TEXT,
    VERSION_1,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    Scalar,
    whole,
)

LEVELS = ("perform", "simulate", "observe", "discuss")
"""How closely a task is done in training or assessment, the closest first. Source: DOE-HDBK-1206-98, On-the-Job Training,
from memory: a task is performed where it can be, else simulated, observed or discussed, and a lower level is documented."""

FAULT_KINDS = {
    "equipment": "something fails or shows another value: a leaking chuck, a weak brake",
    "material": "the wrong or a damaged roll, core or web",
    "pieces": "pieces are missing, too many or hung wrongly",
    "web": "the web lies on the wrong side of a roller",
    "guard": "somebody has left a guard open, or something is otherwise than noted",
    "absent": "somebody who is needed is not there",
    "interruption": "the trainee is called away",
    "power-cut": "the power fails",
    "revised": "another revision of the procedure is issued meanwhile",
}
"""What a fault is about, in the words of the trainer's list."""

EXCEPTIONS = ("people", "equipment", "material", "value", "procedure", "other")

PROCEDURE_FILE = Scalar("procedure file", "the path of the procedure, like `../change-roll.procedure.yaml`")

SHOWN = Record(
    "what is shown",
    (
        Key(
            "value",
            TYPED,
            True,
            "What the gauge, scale or eye shows, with its unit; one of the answers of a choice. A list is shown one after "
            "the other, an entry each time that the step begins; the last one stays.",
            "value: 6.2 bar",
        ),
        Key(
            "gauge",
            ListOf(NUMBER, 2, 2),
            False,
            "Drawn as a dial gauge from the first number to the second, in the unit of the question; the trainee reads it. "
            "Left out, the value stands on a card.",
            "gauge: [0, 10]",
        ),
        Key(
            "words",
            TEXT,
            False,
            "What is seen, in words, in place of the value itself: the trainee judges.",
            "words: One pin stands out by the width of a finger.",
        ),
        Key("given", FLAG, False, "`true`: the scenario answers, not the trainee.", "given: true"),
    ),
    "What the simulated equipment shows where a step asks.",
)

SHOWS = MapOf(NAME, SHOWN, 1, "name of the ask")

RIGHT = Record(
    "a right response",
    (
        Key(
            "trouble",
            TEXT,
            False,
            "This trouble of the fault's step is met, by its id or its sign.",
            "trouble: unwind-leak",
        ),
        Key("out", NAME, False, "This is answered as shown, and is out of limits.", "out: unwind_pressure_later"),
        Key("note", OneOf(EXCEPTIONS), False, "An exception of this kind is noted.", "note: equipment"),
        Key(
            "pause",
            FLAG,
            False,
            "`true`: the run is paused, and it is said what comes next; a terminal that is closed says nothing.",
            "pause: true",
        ),
        Key("make_safe", FLAG, False, "`true`: stop and make safe.", "make_safe: true"),
        Key("look", LOOK, False, "Somebody looks and says what the state is.", "look: {unwind_guard: open}"),
        Key("hold", ID, False, "The hold of this step is released, anew if it was before.", "hold: lift"),
        Key("go_back", ID, False, "One goes back to this step.", "go_back: core-pressure"),
        Key("correct", NAME, False, "The answer to this is corrected.", "correct: core_pressure"),
        Key("hand_over", NAME, False, "This role is handed over.", "hand_over: lead"),
    ),
    "An act that answers the fault. Any one of the list is enough.",
    (
        Group(
            "exactly one",
            ("trouble", "out", "note", "pause", "make_safe", "look", "hold", "go_back", "correct", "hand_over"),
        ),
    ),
)

UNSAFE = Record(
    "an unsafe act",
    (
        Key("begin", ID, False, "This step is begun.", "begin: slacken-slings"),
        Key("done", ID, False, "This step is told as done.", "done: unwind-leak-read"),
        Key(
            "release",
            ID,
            False,
            "The hold of this step is released, or somebody of the crew wants to who may not.",
            "release: lift",
        ),
        Key(
            "answer",
            NAME,
            False,
            "This is answered within its limits although something else is shown.",
            "answer: unwind_pressure_later",
        ),
        Key("resume", FLAG, False, "`true`: the run is resumed.", "resume: true"),
    ),
    "An act that is unsafe as long as the fault has no right response. It ends an assessment.",
    (Group("exactly one", ("begin", "done", "release", "answer", "resume")),),
)

FAULT = Record(
    "a fault",
    (
        Key("id", ID, True, "Its id.", "id: chuck-leaks"),
        Key("kind", OneOf(tuple(FAULT_KINDS)), True, "What it is about.", "kind: equipment"),
        Key(
            "at",
            ListOf(ID, 1, None, alone=True),
            True,
            "The step at which it comes, as soon as the step is up. Of a list one is drawn.",
            "at: unwind-leak-read",
        ),
        Key("words", TEXT, True, "What the trainee sees or hears then.", "words: Air hisses at the operator side."),
        Key(
            "shows",
            SHOWS,
            False,
            "What asks of that step show because of it.",
            "shows: {unwind_pressure: {value: 5.1 bar}}",
        ),
        Key("absent", NAME, False, "A role whose person is not there until the right response.", "absent: lead"),
        Key(
            "seeded",
            FLAG,
            False,
            "`true`: it comes only where it is drawn; `draw` says how many are.",
            "seeded: true",
        ),
        Key(
            "right",
            ListOf(RIGHT),
            True,
            "The acts of which any one is the right response.",
            "right:\n  - {note: equipment}",
        ),
        Key("unsafe", ListOf(UNSAFE, 0), False, "What is unsafe before that.", "unsafe:\n  - {begin: lift}"),
        Key(
            "hints",
            ListOf(TEXT, 1, 3),
            False,
            "Up to three hints, from a reminder to showing it.",
            "hints: [Listen at the chucks., Compare both readings., Say that it leaks with the key for not as expected.]",
        ),
    ),
    "Something that goes wrong on purpose.",
)

QUESTION = Record(
    "a question",
    (
        Key("id", ID, True, "Its id.", "id: why-two-minutes"),
        Key("at", ID, True, "The step at which the coach asks it.", "at: unwind-leak-wait"),
        Key("ask", TEXT, True, "The question.", "ask: Why do we wait two minutes here?"),
        Key(
            "listen_for",
            ListOf(TEXT),
            True,
            "The key points and reasons that the answer should have; the coach alone sees them.",
            "listen_for: [A slow leak shows itself only after some time]",
        ),
    ),
    "A question that the trainee answers in their own words, judged by the coach.",
)

CRITERION = Record(
    "a criterion",
    (
        Key("id", ID, True, "Its id.", "id: leak-found"),
        Key("words", TEXT, True, "What the trainee is told beforehand.", "words: Finds a leak by the second reading."),
        Key("answered", ID, False, "Met when this fault had its right response.", "answered: chuck-leaks"),
        Key("done", ID, False, "Met when this step was done.", "done: release-hook"),
        Key("read", NAME, False, "Met when this was answered as shown.", "read: unwind_pressure"),
        Key(
            "explained",
            ID,
            False,
            "Met when the coach was satisfied with the answer to this question.",
            "explained: why-wait",
        ),
        Key("finished", FLAG, False, "`true`: met when the run was finished.", "finished: true"),
        Key("safe", FLAG, False, "`true`: met when there was no unsafe act.", "safe: true"),
    ),
    "What the result is judged by.",
    (Group("exactly one", ("answered", "done", "read", "explained", "finished", "safe")),),
)

SCENARIO = Record(
    "a scenario",
    (
        Key("scenario", VERSION_1, True, "The version of this language.", "scenario: 1"),
        Key("id", ID, True, "The scenario's id.", "id: leaking-chuck"),
        Key("procedure", ID, True, "The id of the procedure that it is for.", "procedure: change-roll"),
        Key(
            "file",
            PROCEDURE_FILE,
            True,
            "Where that procedure lies, from the scenario's folder: there or one folder up.",
            "file: ../change-roll.procedure.yaml",
        ),
        Key("title", TEXT, True, "What the trainee may know beforehand.", "title: Mount a new roll"),
        Key(
            "purpose",
            TEXT,
            True,
            "What it trains, for the coach.",
            "purpose: A slow leak is found before the slings go slack.",
        ),
        Key("trainee", NAME, True, "The role that is trained.", "trainee: unwind"),
        Key(
            "level",
            OneOf(LEVELS[1:]),
            False,
            "The level that is reached where it is passed. `simulate` if left out; nothing is performed in a dry run.",
            "level: simulate",
        ),
        Key("inputs", GIVEN, False, "The values of the job ticket.", "inputs: {web_width: 1200 mm}"),
        Key("crew", CREW, False, "Who plays which role.", "crew: {unwind: Trainee, rewind: Partner, lead: Coach}"),
        Key(
            "shows",
            SHOWS,
            False,
            "What the equipment shows. What is left out shows what is in order.",
            "shows: {unwind_pressure: {value: 6.2 bar, gauge: [0, 10]}}",
        ),
        Key(
            "start_at",
            ID,
            False,
            "Steps before this one are played by the program, and the record says so.",
            "start_at: lift",
        ),
        Key("stop_after", ID, False, "The scenario is over when this step is done.", "stop_after: release-hook"),
        Key("faults", ListOf(FAULT, 0), False, "What goes wrong.", "faults: []"),
        Key("draw", whole(1), False, "How many of the `seeded` faults are drawn. `1` if left out.", "draw: 2"),
        Key(
            "hints",
            MapOf(ID, ListOf(TEXT, 1, 3), 1, "id of the step"),
            False,
            "Hints of a step, from a reminder to showing it. Left out, they come from the step itself.",
            "hints: {lift: [Where do people stand?, The drop zone must be clear.]}",
        ),
        Key("questions", ListOf(QUESTION, 0), False, "What the coach asks.", "questions: []"),
        Key(
            "criteria",
            ListOf(CRITERION),
            True,
            "What the result is judged by; shown before an assessment begins.",
            "criteria:\n  - {id: safe, words: Does nothing unsafe., safe: true}",
        ),
    ),
    "A file `*.scenario.yaml`: a dry run for training or assessment.",
)
