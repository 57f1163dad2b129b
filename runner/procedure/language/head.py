"""Keys of the head of a procedure: what it is, for whom, and what can hurt.

Each key has its words and a worked example; the examples compile when they are put into the reference's procedure.
"""

from runner.procedure.language.shape import (
    DATE,
    DIGEST,
    ID,
    NAME,
    TEXT,
    VERSION_1,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    whole,
)

CHANGE = Record(
    "a change",
    (
        Key("revision", whole(1), True, "The revision that brought the change.", "revision: 4"),
        Key("date", DATE, True, "The day of the change.", "date: 2026-11-20"),
        Key(
            "why",
            TEXT,
            True,
            "What changed and why, for those who know the old text.",
            "why: The rack has 2.5 kg pieces now.",
        ),
        Key(
            "retrain",
            OneOf(("none", "read", "demonstrate")),
            False,
            "What people must do before they work by this revision: nothing, read it, or show that they can. `none` if left out.",
            "retrain: read",
        ),
    ),
    "One line of the revision history.",
)

APPROVAL = Record(
    "an approval",
    (
        Key("by", TEXT, True, "Who approved the text.", "by: M. Arden, process engineering"),
        Key("on", DATE, True, "The day of approval.", "on: 2026-11-24"),
        Key(
            "digest",
            DIGEST,
            True,
            "The SHA-256 of the approved text with its fragments. The `status` line and this block are left out, so it is the same "
            "before and after. Where it is missing or wrong, the finding prints the right one.",
            "digest: 7b0f5c1de4f3a2b1c0d9e8f7a6b5c4d3e2f1a0b9c8d7e6f5a4b3c2d1e0f9a8b7",
        ),
    ),
    "Who stands for the text, and for exactly which text.",
)

CAUTION = Record(
    "a caution",
    (
        Key(
            "signal",
            OneOf(("danger", "warning", "caution", "notice")),
            True,
            "How grave it is: `danger` kills or maims if not avoided, `warning` can, `caution` injures lightly, `notice` is damage to things only.",
            "signal: danger",
        ),
        Key("hazard", TEXT, True, "What can hurt.", "hazard: A roll on the crane can fall or swing."),
        Key("harm", TEXT, False, "What it does to people. Needed unless the signal is `notice`.", "harm: Crushing."),
        Key(
            "avoid",
            TEXT,
            True,
            "What to do or leave so that it does not happen.",
            "avoid: Stay clear of the drop zone.",
        ),
    ),
    "Shown before the act of every step that names it; people confirm that they have read it.",
)

HEAD_KEYS = (
    Key("format", VERSION_1, True, "The version of this language.", "format: 1"),
    Key("id", ID, True, "The procedure's id. Job and answers files name it.", "id: change-roll"),
    Key("title", TEXT, True, "Its title, as people say it.", "title: Change the substrate roll"),
    Key("revision", whole(1), True, "Counts up with every change that people are to know of.", "revision: 4"),
    Key(
        "status",
        OneOf(("draft", "approved", "withdrawn")),
        False,
        "`draft` if left out. A live run with a text that is not approved says so on every screen and record.",
        "status: draft",
    ),
    Key(
        "equipment",
        TEXT,
        True,
        "The press or line that it is written for.",
        "equipment: Line 3, six-colour flexographic press, 1.3 m web",
    ),
    Key(
        "purpose",
        TEXT,
        True,
        "What is true when it has been done.",
        "purpose: New roll threaded, tension set, first good metre made",
    ),
    Key(
        "changes",
        ListOf(CHANGE),
        False,
        "The revision history, in any order.",
        "changes:\n  - {revision: 4, date: 2026-11-20, why: The rack has 2.5 kg pieces now., retrain: read}",
    ),
    Key(
        "approval",
        APPROVAL,
        False,
        "Needed when `status` is `approved`.",
        "approval: {by: M. Arden, on: 2026-11-24, digest: 7b0f5c1de4f3a2b1c0d9e8f7a6b5c4d3e2f1a0b9c8d7e6f5a4b3c2d1e0f9a8b7}",
    ),
    Key(
        "people",
        MapOf(NAME, TEXT, 1, "name of the role"),
        True,
        "The roles, and how people call them. Steps, holds and second looks name a role, never a person.",
        "people:\n  unwind: Operator, unwind side\n  rewind: Operator, rewind side\n  lead: Shift lead",
    ),
    Key(
        "tools", ListOf(TEXT), False, "What to have at hand before the start.", "tools: [Core knife, Sensor key, Tape]"
    ),
    Key(
        "references",
        ListOf(TEXT),
        False,
        "Manuals, drawings and rules that the text rests on.",
        "references: [Crane manual of Line 3, section 4]",
    ),
    Key(
        "cautions",
        MapOf(ID, CAUTION, 1, "id of the caution"),
        False,
        "What can hurt people or spoil things. Steps name a caution by its id.",
        "cautions:\n  hanging-load:\n    signal: danger\n    hazard: A roll on the crane can fall or swing.\n"
        "    harm: Crushing.\n    avoid: Stay clear of the drop zone.\n"
        "  torn-edge:\n    signal: notice\n    hazard: A web fed askew tears at its edge.\n    avoid: Feed in creep speed only.",
    ),
)
