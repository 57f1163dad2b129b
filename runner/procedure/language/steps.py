"""Keys of the body of a procedure: phases, steps and everything that a step may say.

What a step may ask for is not listed here: each kind of ask brings its own key (`runner.procedure.asks`).
"""

from runner.procedure.asks import KINDS
from runner.procedure.language.shape import (
    DURATION,
    FLAG,
    FORMULA,
    ID,
    NAME,
    PATH,
    TEMPLATE,
    TEXT,
    Either,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    whole,
)

HOLD = Record(
    "a hold",
    (
        Key("release", NAME, True, "The role that releases it. The person who does the step may not.", "release: lead"),
        Key(
            "confirm",
            ListOf(TEXT),
            True,
            "What the releaser confirms, one by one.",
            "confirm: [Both chucks are open, Drop zone is clear, Winding direction matches the ticket]",
        ),
        Key("protects", TEXT, False, "The physical protection that the step relies on.", "protects: Chuck latch"),
    ),
    "The run stops before the step until a person of the role releases it.",
)

SECOND = Record(
    "a second look",
    (
        Key("by", NAME, True, "The role of the second person, not the role that does the step.", "by: lead"),
        Key(
            "how",
            OneOf(("independent", "together")),
            False,
            "`independent`: the second person answers without seeing the first answer. `together`: both look at it. `together` if left out.",
            "how: independent",
        ),
    ),
    "A second person looks at what the step asks for.",
)

REPEAT = Record(
    "a repeat",
    (
        Key(
            "until",
            FORMULA,
            True,
            "The condition that ends it, looked at each time the step is done.",
            "until: core_pressure >= 6 [bar]",
        ),
        Key("at_most", whole(2), True, "How often the step is done at most.", "at_most: 3"),
        Key("else", ID, False, "The trouble of this step that follows when it was not enough.", "else: leak"),
    ),
    "Does the step again until a condition holds.",
)

TROUBLE = Record(
    "a trouble",
    (
        Key("id", ID, False, "Its id, so that an `else` can name it.", "id: leak"),
        Key("sign", TEXT, True, "How people see that it has come about.", "sign: The pressure falls"),
        Key("do", TEMPLATE, True, "What to do about it. May hold slots.", "do: Bleed the chuck and look for the leak."),
        Key(
            "back_to",
            ID,
            False,
            "Go on from this step: this one, or an earlier one of the same list.",
            "back_to: core-pressure",
        ),
        Key(
            "then",
            OneOf(("go_on", "stop")),
            False,
            "`go_on` with the next step, or `stop` the run here.",
            "then: go_on",
        ),
        Key(
            "blocking",
            FLAG,
            False,
            "`true`: the run does not finish while its exception is open. `false` if left out.",
            "blocking: true",
        ),
    ),
    "What may go wrong in the step, and the way on. What the step makes stays unknown then.",
    (Group("exactly one", ("back_to", "then")),),
)

GEAR_NAME = NAME._replace(name="gear here")
"""A form of its own: what it names stands in the site file."""

FACTS = MapOf(NAME, TEXT, 1, "name of the state")

OWN_KEYS = (
    Key("id", ID, True, "Its id, unique in the procedure.", "id: core-pressure"),
    Key(
        "by",
        NAME,
        False,
        "The role that does it. May be left out in a person's list and where `people` has one role.",
        "by: unwind",
    ),
    Key(
        "do",
        TEMPLATE,
        True,
        "The one act, as an order. May hold slots.",
        "do: Lift the roll of {roll_mass:.0f} into the chucks.",
    ),
    Key(
        "why",
        TEXT,
        False,
        "Why it is done, in a sentence. Shown under the act.",
        "why: More than 25 kg is no lift for one person.",
    ),
    Key(
        "explain",
        TEXT,
        False,
        "A longer explanation, for learners.",
        "explain: The chuck grips the core from inside, and only when the air has reached its pressure.",
    ),
    Key("cautions", ListOf(ID), False, "Ids of the cautions to read before the act.", "cautions: [hanging-load]"),
    Key(
        "needs",
        FACTS,
        False,
        "States that must have these values from begin to done.",
        "needs: {unwind_drive: stopped, unwind_guard: open}",
    ),
    Key(
        "makes",
        FACTS,
        False,
        "States that have these values when it is done, and are unknown while it is being done.",
        "makes: {unwind_guard: open}",
    ),
    Key(
        "when",
        FORMULA,
        False,
        "The step applies when this is true; otherwise it is passed over, on record.",
        "when: roll_mass > 25 [kg]",
    ),
    Key(
        "hold",
        HOLD,
        False,
        "The run stops here until a person of another role releases it.",
        "hold: {release: lead, confirm: [Drop zone is clear], protects: Chuck latch}",
    ),
    Key(
        "lifts",
        MapOf(NAME, ListOf(GEAR_NAME), 1, "the value that says the load, a mass"),
        False,
        "What is lifted with which lifting gear, each of which carries all of the load. Where a site file lists `gear`, the step does "
        "not begin live with gear whose rating is less than the load, or whose inspection no longer counts. The names are those of the "
        "site file. Without one nothing is checked here: let people read the plates.",
        "lifts: {roll_mass: [crane, lifting_beam]}",
    ),
)

LATER_KEYS = (
    Key("second", SECOND, False, "A second person looks.", "second: {by: lead, how: independent}"),
    Key(
        "optional",
        NAME,
        False,
        "The word `reason`: it may be left out with a reason. A role: with that role's agreement too.",
        "optional: reason",
    ),
    Key(
        "repeat",
        REPEAT,
        False,
        "Do it again until a condition holds.",
        'repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}',
    ),
    Key(
        "trouble",
        ListOf(TROUBLE),
        False,
        "What may go wrong, each with what to do and the way on.",
        "trouble:\n  - {id: leak, sign: The pressure falls, do: Bleed the chuck., back_to: core-pressure}",
    ),
    Key("expect", DURATION, False, "How long it takes, for the clock and the times.", "expect: 6 min"),
)

STEP = Record("a step", (*OWN_KEYS, *(kind.shape for kind in KINDS), *LATER_KEYS), "One act of one person.")

USE = Record(
    "a use of a fragment",
    (
        Key(
            "use",
            PATH,
            True,
            "The fragment's file, relative to this one, with forward slashes, in this folder or below.",
            "use: close-side.fragment.yaml",
        ),
        Key(
            "with",
            MapOf(NAME, TEXT, 1, "name of the parameter"),
            False,
            "A text for each parameter of the fragment.",
            "with: {side: unwind}",
        ),
    ),
    "Stands in a list of steps for the steps of a fragment.",
)

STEPS = ListOf(Either("use", USE, STEP))

SAFE_ACT = Record(
    "an act of making safe",
    (
        Key(
            "do",
            TEXT,
            True,
            "The act. It has no slots, since any value may be missing then.",
            "do: Press the emergency stop.",
        ),
        Key("makes", FACTS, False, "States that have these values when it is done.", "makes: {unwind_drive: stopped}"),
    ),
    "One act of stopping and making safe.",
)

MAKE_SAFE = ListOf(SAFE_ACT)

PHASE = Record(
    "a phase",
    (
        Key("phase", TEXT, True, "Its name.", "phase: Load the roll"),
        Key(
            "press",
            OneOf(("running", "stopped")),
            False,
            "`running`: could be done while the last job still runs. `stopped`: the press stands for it. `stopped` if left out.",
            "press: stopped",
        ),
        Key(
            "park",
            OneOf(("after", "throughout")),
            False,
            "Where work may safely be interrupted: `after` the phase, or at any moment `throughout` it. Nowhere if left out.",
            "park: after",
        ),
        Key(
            "make_safe",
            MAKE_SAFE,
            False,
            "Takes the place of the procedure's list while this phase is on.",
            "make_safe:\n  - {do: Lower the roll to the floor., makes: {crane: free}}",
        ),
        Key(
            "steps",
            STEPS,
            False,
            "Its steps, one after the other.",
            "steps:\n  - {id: look-round, by: unwind, do: Look round the unwind.}",
        ),
        Key(
            "together",
            MapOf(NAME, STEPS, 2, "role"),
            False,
            "Lists of steps side by side, one a role. The phase ends when all have ended.",
            "together:\n  unwind:\n    - {id: wipe-unwind, do: Wipe the idlers of the unwind.}\n"
            "  rewind:\n    - {id: wipe-rewind, do: Wipe the idlers of the rewind.}",
        ),
    ),
    "A part of the work.",
    (Group("exactly one", ("steps", "together")),),
)

BODY_KEYS = (
    Key(
        "make_safe",
        MAKE_SAFE,
        False,
        "What to do to stop and make safe, shown at any time that somebody asks for it.",
        "make_safe:\n  - {do: Press the emergency stop., makes: {unwind_drive: stopped}}",
    ),
    Key(
        "phases",
        ListOf(PHASE),
        True,
        "The phases, one after the other.",
        "phases:\n  - phase: Make safe\n    press: running\n    steps:\n"
        "      - {id: unwind-off, by: unwind, do: Set the unwind speed to zero., makes: {unwind_drive: stopped}}",
    ),
)
