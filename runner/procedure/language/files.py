"""The files of the language, whole: procedure, fragment, job, answers and site.

The first key of a file says which it is: `format`, `fragment`, `job`, `answers` or `site`.
"""

from runner.procedure.language.head import HEAD_KEYS
from runner.procedure.language.shape import (
    FLAG,
    ID,
    NAME,
    TEXT,
    VALUE,
    VERSION_1,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
)
from runner.procedure.language.site import SITE
from runner.procedure.language.steps import BODY_KEYS, STEPS
from runner.procedure.language.values import VALUE_KEYS

PROCEDURE = Record("a procedure", (*HEAD_KEYS, *VALUE_KEYS, *BODY_KEYS), "A file `*.procedure.yaml`.")

FRAGMENT = Record(
    "a fragment",
    (
        Key("fragment", VERSION_1, True, "The version of this language.", "fragment: 1"),
        Key("id", ID, True, "The fragment's id.", "id: close-side"),
        Key("title", TEXT, True, "Its title.", "title: Close one side"),
        Key("parameters", ListOf(NAME), False, "Names for which each use gives a text.", "parameters: [side]"),
        Key(
            "steps",
            STEPS,
            True,
            "The steps. `<side>` anywhere in a text or key becomes the text given.",
            "steps:\n  - {id: close-<side>-guard, by: <side>, do: Close the <side> guard.}",
        ),
    ),
    "A file `*.fragment.yaml`: steps for several places, with parameters.",
)

CREW = MapOf(NAME, TEXT, 1, "role")
GIVEN = MapOf(NAME, VALUE, 1, "name of the input")

JOB = Record(
    "a job",
    (
        Key("job", VERSION_1, True, "The version of this language.", "job: 1"),
        Key("procedure", ID, True, "The id of the procedure that it is for.", "procedure: change-roll"),
        Key(
            "inputs",
            GIVEN,
            False,
            "The values of the job ticket, as a person would type them.",
            "inputs: {web_width: 1250 mm, substrate: kraft paper}",
        ),
        Key("crew", CREW, False, "Who has which role.", "crew: {unwind: Ana Berg, rewind: Tom Lind, lead: Eva Roth}"),
    ),
    "A file `*.job.yaml`: one job's ticket.",
)

LOOK = MapOf(NAME, TEXT, 1, "name of the state")

RELEASE = Record(
    "a release",
    (
        Key("by", TEXT, False, "The person who releases. Somebody of the role if left out.", "by: Eva Roth"),
        Key(
            "confirm",
            ListOf(TEXT, 0),
            False,
            "What that person confirms. All of it if left out.",
            "confirm: [Drop zone is clear]",
        ),
    ),
    "Somebody releases the hold of the step that is up.",
)

ACT = Record(
    "an act",
    (
        Key("note", TEXT, False, "Note an exception in these words.", "note: Gauge glass is cracked"),
        Key(
            "kind",
            OneOf(("people", "equipment", "material", "value", "procedure", "other")),
            False,
            "What the exception is about. `other` if left out.",
            "kind: equipment",
        ),
        Key(
            "severity",
            OneOf(("note", "minor", "serious")),
            False,
            "How grave it is. `note` if left out.",
            "severity: minor",
        ),
        Key("pause", TEXT, False, "Pause; the text says what was to be done next.", "pause: Inflate the chuck"),
        Key("resume", FLAG, False, "`true`: go on.", "resume: true"),
        Key("make_safe", TEXT, False, "Stop and make safe; the text says why.", "make_safe: Smoke at the drive"),
        Key("look", LOOK, False, "Somebody looked: what the states are.", "look: {unwind_guard: open}"),
        Key("go_back", ID, False, "Go back to this step.", "go_back: core-pressure"),
        Key("reason", TEXT, False, "Why one goes back, corrects or accepts.", "reason: Chuck slipped"),
        Key("abandon", TEXT, False, "End the run unfinished; the text says why.", "abandon: No core adapter"),
        Key("close", TEXT, False, "Close the exception of this number, or `all` of them.", "close: all"),
        Key("words", TEXT, False, "How it was dealt with, or what was said.", "words: Glass replaced"),
        Key("correct", NAME, False, "Correct the answer to this ask.", "correct: core_pressure"),
        Key("typed", TEXT, False, "The right answer.", "typed: 6.1"),
        Key("hand_over", NAME, False, "Hand over this role.", "hand_over: unwind"),
        Key("to", TEXT, False, "The person who takes it.", "to: Jon Vik"),
        Key("read_back", TEXT, False, "What that person read back.", "read_back: Guard open, roll in the chucks"),
        Key(
            "accept",
            NAME,
            False,
            "Somebody of the role accepts the nearest choice of pieces of this split.",
            "accept: bar_pieces",
        ),
        Key("release", RELEASE, False, "Release the hold.", "release: {by: Eva Roth}"),
        Key(
            "explain",
            TEXT,  # an id of another file, which the editor does not follow
            False,
            "The coach asks this question of the scenario and judges what the trainee says, in a dry run with a scenario.",
            "explain: why-wait",
        ),
        Key(
            "judged",
            OneOf(("missed", "part", "whole")),
            False,
            "How much of it was said, key points and reasons.",
            "judged: whole",
        ),
    ),
    "Something that a person does besides the step.",
    (
        Group(
            "exactly one",
            (
                "note",
                "pause",
                "resume",
                "make_safe",
                "look",
                "go_back",
                "abandon",
                "close",
                "correct",
                "hand_over",
                "accept",
                "release",
                "explain",
            ),
        ),
    ),
)

ACTS = ListOf(ACT, 0)

TYPED = ListOf(TEXT, 1, None, alone=True)

ENTRY = Record(
    "an entry",
    (
        Key(
            "step",
            ID,
            True,
            "The id of the step. The second entry of an id serves its second attempt, a pass of a `repeat` among them.",
            "step: core-pressure",
        ),
        Key(
            "answers",
            MapOf(NAME, TYPED, 1, "name of the ask"),
            False,
            "What is typed at each ask. A list is typed one after the other: the entry, then the re-entry.",
            "answers: {core_pressure: [8.5, 6.1]}",
        ),
        Key(
            "second",
            MapOf(NAME, TYPED, 1, "name of the ask"),
            False,
            "What the second person types at a look of its own (`how: independent`). The same as the first if left out.",
            "second: {core_pressure: 6.1}",
        ),
        Key(
            "trouble",
            TEXT,
            False,
            "Meet this trouble of the step, by its id or its sign, instead of ending it.",
            "trouble: leak",
        ),
        Key(
            "leave_out",
            TEXT,
            False,
            "Leave an optional step out; the text says why. A role whose agreement it needs is played as agreeing.",
            "leave_out: Done by the night shift",
        ),
        Key(
            "before",
            ACTS,
            False,
            "Acts before the step is begun.",
            "before:\n  - {note: Gauge glass is cracked, kind: equipment, severity: minor}",
        ),
        Key(
            "after",
            ACTS,
            False,
            "Acts after the step has ended.",
            "after:\n  - {pause: Inflate the chuck}\n  - {resume: true}",
        ),
    ),
    "What happens at one step.",
    (Group("at most one", ("trouble", "leave_out")),),
)

ANSWERS = Record(
    "an answers file",
    (
        Key("answers", VERSION_1, True, "The version of this language.", "answers: 1"),
        Key("procedure", ID, True, "The id of the procedure that it is for.", "procedure: change-roll"),
        Key(
            "crew",
            CREW,
            False,
            "Who has which role. Takes the place of the job's, role by role.",
            "crew: {unwind: Ana Berg, rewind: Tom Lind, lead: Eva Roth}",
        ),
        Key("inputs", GIVEN, False, "Values that take the place of the job's.", "inputs: {web_width: 1200 mm}"),
        Key(
            "unlisted",
            OneOf(("done", "refuse")),
            False,
            "`done`: a step without an entry is done as written, but a reading, choice, scan or feed is never invented. "
            "`refuse`: the run stops at a step without an entry. `done` if left out.",
            "unlisted: done",
        ),
        Key(
            "steps",
            ListOf(ENTRY, 0),
            False,
            "Entries, used in order for each step id.",
            "steps:\n  - {step: core-pressure, answers: {core_pressure: 6.1}}",
        ),
    ),
    "A file `*.answers.yaml`: a run played without a person.",
)

FILES = (PROCEDURE, FRAGMENT, JOB, ANSWERS, SITE)
"""Each told apart by its first key."""
