"""Faults of fragments and of their use."""

from runner.procedure.faults.row import ERROR, FaultRow

FRAGMENT_FAULTS = (
    FaultRow(
        "fragment-path",
        ERROR,
        "The path of a fragment leaves its folder, is absolute or has the wrong ending.",
        "A procedure is to mean the same on every machine.",
        "use: ../shared/close.fragment.yaml",
        "use: shared/close.fragment.yaml",
    ),
    FaultRow(
        "fragment-missing",
        ERROR,
        "There is no file of that path.",
        "Steps would be missing from the work.",
        "use: clsoe.fragment.yaml",
        "use: close.fragment.yaml",
    ),
    FaultRow(
        "not-a-fragment",
        ERROR,
        "The file used is no fragment.",
        "A whole procedure has its own people, states and values.",
        "use: file with `format: 1`",
        "use: file with `fragment: 1`",
    ),
    FaultRow(
        "fragment-circle",
        ERROR,
        "A fragment uses itself, directly or through others.",
        "The work would never end.",
        "a.fragment.yaml uses b, and b uses a",
        "a.fragment.yaml uses b",
    ),
    FaultRow(
        "fragment-too-deep",
        ERROR,
        "Fragments use fragments more than 5 deep, or bring more than 10000 steps.",
        "Nobody could follow where a step stands.",
        "a chain of six fragments",
        "a chain of two",
    ),
    FaultRow(
        "parameter-missing",
        ERROR,
        "A use does not give a text for every parameter.",
        "The steps would show `<side>` to the operator.",
        "{use: close.fragment.yaml}",
        "{use: close.fragment.yaml, with: {side: rewind}}",
    ),
    FaultRow(
        "parameter-unknown",
        ERROR,
        "A use gives, or a fragment names, a parameter that the fragment does not list.",
        "A misspelled parameter would be shown as it stands.",
        "do: Close the <sied> guard.",
        "do: Close the <side> guard.",
    ),
)
