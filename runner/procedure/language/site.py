"""The table of `site.yaml`: what belongs to the place and not to a procedure."""

from runner.procedure.language.shape import (
    DATE,
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

PIN_HASH = Scalar(
    "PIN hash",
    "what `changeover site-pin` prints for a PIN",
    r"\$argon2id\$v=19\$m=[1-9][0-9]{3,5},t=[1-9][0-9]?,p=[1-9][0-9]?\$[A-Za-z0-9+/]{11,86}\$[A-Za-z0-9+/]{22,86}",
    "string",
)

ROLE, PROCEDURE_ID = NAME._replace(name="role here"), ID._replace(name="procedure here")
"""Forms of their own: what they name stands in procedures anywhere, not in a file beside this one."""

HASH = "$argon2id$v=19$m=19456,t=2,p=1$Y2hhbmdlb3Zlci1zYWx0$V0pTcGE2d0N3b2RlbW9vbmx5MDEyMzQ1Njc4OTBhYmM"
"""In the examples; no PIN is known for it."""

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
    ),
    "A file `site.yaml` or `*.site.yaml`: the people of a place, and its limits of motion.",
)
