"""The table of `site.yaml`: what belongs to the place and not to a procedure."""

from runner.procedure.language.shape import (
    DATE,
    DURATION,
    ID,
    NAME,
    QUANTITY,
    TEXT,
    VERSION_1,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    Scalar,
)
from runner.procedure.language.steps import GEAR_NAME
from runner.procedure.language.values import RACK

PIN_HASH = Scalar(
    "PIN hash",
    "what `changeover site-pin` prints for a PIN",
    r"\$argon2id\$v=19\$m=[1-9][0-9]{3,5},t=[1-9][0-9]?,p=[1-9][0-9]?\$[A-Za-z0-9+/]{11,86}\$[A-Za-z0-9+/]{22,86}",
    "string",
)

ROLE, RACK_NAME, PROCEDURE_ID = (
    NAME._replace(name="role here"),
    NAME._replace(name="rack here"),
    ID._replace(name="procedure here"),
)
"""Forms of their own: what they name stands in procedures anywhere, not in a file beside this one."""

HASH = "$argon2id$v=19$m=19456,t=2,p=1$Y2hhbmdlb3Zlci1zYWx0$V0pTcGE2d0N3b2RlbW9vbmx5MDEyMzQ1Njc4OTBhYmM"
"""In the examples; no PIN is known for it."""

PUBLIC_KEY = Scalar(
    "public key", "what `changeover terminal-key` prints: 64 hexadecimal digits, in quotes", "[0-9a-f]{64}", "string"
)

EXAMPLE_KEY = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"
"""Of the first test vector of RFC 8032, 7.1: its private part is known to everybody."""

PERSON = Record(
    "a person",
    (
        Key("name", TEXT, True, "The name, as it is typed in a crew.", "name: Eva Roth"),
        Key(
            "roles",
            ListOf(ROLE),
            True,
            "The roles that this person may take, by their names in procedures.",
            "roles: [unwind, lead]",
        ),
        Key(
            "pin",
            PIN_HASH,
            True,
            "The hash of the person's PIN, from `changeover site-pin`, in quotes: it holds commas. The PIN itself stands nowhere.",
            f'pin: "{HASH}"',
        ),
        Key(
            "qualified",
            MapOf(PROCEDURE_ID, DATE, 1, "id of the procedure"),
            False,
            "Procedures that the person is qualified for, each with the last day on which that counts. Where it is given, "
            "no other procedure is run live in a role by this person. Left out: nothing is said, and nothing is checked.",
            "qualified: {change-roll: 2027-06-30}",
        ),
    ),
    "Somebody who works here.",
)

MOTION = Record(
    "the motion limits",
    (
        Key(
            "distance",
            QUANTITY,
            False,
            "How far the press may move each time a hold-to-run button is pressed with a guard open.",
            "distance: 20 mm",
        ),
        Key("speed", QUANTITY, False, "How fast it may move while such a button is held.", "speed: 0.8 m/min"),
        Key("source", TEXT, True, "Where the figures come from.", "source: Risk assessment of Line 3, sheet 4"),
        Key("date", DATE, True, "Of the source.", "date: 2026-05-04"),
    ),
    "How far and fast a press may be moved here with a guard open.",
    (Group("at least one", ("distance", "speed")),),
)

CLOCK_TIME = Scalar("time of day", "a time of day like `14:00`", "(?:[01][0-9]|2[0-3]):[0-5][0-9]", "string")

GEAR = Record(
    "a piece of lifting gear",
    (
        Key(
            "label",
            TEXT,
            False,
            "What people read. The name with blanks for `_` if left out.",
            "label: Crane of Line 3",
        ),
        Key("rating", QUANTITY, True, "The most that it may carry, a mass, as its plate says.", "rating: 1000 kg"),
        Key("inspected", DATE, True, "The day of its last inspection.", "inspected: 2026-09-14"),
        Key("until", DATE, True, "The last day on which that inspection counts.", "until: 2027-09-14"),
    ),
    "Something that carries a load: a crane, a beam, one leg of a sling.",
)

SITE_RACK = Record(
    "a rack of the site",
    (
        *RACK.keys,
        Key("counted", DATE, True, "The day on which somebody counted them.", "counted: 2026-11-24"),
    ),
    "Counterweight pieces that really hang there.",
)

SITE = Record(
    "a site file",
    (
        Key("site", VERSION_1, True, "The version of this language.", "site: 1"),
        Key(
            "people",
            ListOf(PERSON),
            True,
            "Who works here. Each gives a PIN at live runs.",
            f'people:\n  - {{name: Eva Roth, roles: [lead], pin: "{HASH}"}}',
        ),
        Key(
            "unknown",
            OneOf(("refused", "allowed")),
            False,
            "What becomes of names that are not listed: `refused`, or `allowed` with the words identity not verified on "
            "record. `refused` if left out.",
            "unknown: allowed",
        ),
        Key(
            "motion",
            MOTION,
            False,
            "The site's own limits for powered movement with a guard open. Lint judges the procedures beside the file by "
            "them, and by published figures only where one is left out.",
            "motion: {distance: 20 mm, speed: 0.8 m/min, source: Risk assessment of Line 3, date: 2026-05-04}",
        ),
        Key(
            "pieces",
            MapOf(RACK_NAME, SITE_RACK, 1, "name of the rack, as procedures have it"),
            False,
            "Racks as they really are. They take the place of the procedures' racks of the same names, on record; a rack that is "
            "not listed counts as the procedure has it.",
            'pieces:\n  unwind_rack: {unit: kg, stock: {"2": 8, "5": 6}, counted: 2026-11-24}',
        ),
        Key(
            "gear",
            MapOf(GEAR_NAME, GEAR, 1, "name of the gear, as procedures have it"),
            False,
            "Lifting gear. A step that `lifts` with it does not begin live where the load is more than the rating, the inspection no "
            "longer counts, or the gear is not listed. Without this key nothing is checked: people read the plates.",
            "gear:\n  crane: {label: Crane of Line 3, rating: 1000 kg, inspected: 2026-09-14, until: 2027-09-14}",
        ),
        Key(
            "park_within",
            DURATION,
            False,
            "The longest that work may go on from one place where it may be interrupted (`park`) to the next.",
            "park_within: 45 min",
        ),
        Key(
            "shift_ends",
            ListOf(CLOCK_TIME),
            False,
            "When shifts end, by the clock on the wall. Whoever is about to leave a place where work may be interrupted is warned where "
            "the next one lies behind the end of the shift.",
            'shift_ends: ["06:00", "14:00", "22:00"]',
        ),
        Key(
            "needs_qualification",
            OneOf(("off", "tell", "refuse")),
            False,
            "What is done at a live run where the register of qualifications does not have a person for the procedure: `refuse` the role, "
            "`tell` and put on record, or nothing with `off`. `off` if left out.",
            "needs_qualification: tell",
        ),
        Key(
            "blocks",
            ListOf(OneOf(("note", "minor", "serious"))),
            False,
            "Severities of exceptions that, left open by a run, keep the steps of the next run at the press from beginning until they are "
            "closed or accepted. What an author calls `blocking` always does. Left out: serious ones about people or equipment.",
            "blocks: [minor, serious]",
        ),
        Key(
            "terminals",
            MapOf(NAME._replace(name="terminal here"), PUBLIC_KEY, 1, "name of the terminal"),
            False,
            "Public keys of the terminals that sign their records, from `changeover terminal-key`, in quotes. `changeover verify` says by "
            "which of them a record is sealed.",
            f'terminals: {{line_3: "{EXAMPLE_KEY}"}}',
        ),
    ),
    "A file `site.yaml` or `*.site.yaml`: what belongs to a place and not to a procedure.",
)
