"""Marks and words that say how something stands, readable on any terminal and without colour.

Circle for begun and slash for done are the place-keeping marks of DOE-HDBK-1028-2009 volume 2 (from memory); the
triangle with its exclamation mark is the general warning sign's shape (ISO 7010 W001, from memory). The others are ours.
"""

from runner.engine.state import StepStatus
from runner.say.text import mark
from runner.screen.blocks import Ink

MARKS: dict[StepStatus, str] = {
    StepStatus.TO_DO: " . ",
    StepStatus.BEGUN: "( )",
    StepStatus.DONE: "(/)",
    StepStatus.NOT_APPLICABLE: "n/a",
    StepStatus.LEFT_OUT: "(x)",
    StepStatus.AGAIN: "(<)",
    StepStatus.TROUBLED: "(!)",
}
"""Three characters each; the word of a status is its value."""

STATUS_INKS: dict[StepStatus, Ink] = {
    StepStatus.TO_DO: Ink.PLAIN,
    StepStatus.BEGUN: Ink.STRONG,
    StepStatus.DONE: Ink.QUIET,
    StepStatus.NOT_APPLICABLE: Ink.QUIET,
    StepStatus.LEFT_OUT: Ink.ABNORMAL,
    StepStatus.AGAIN: Ink.ABNORMAL,
    StepStatus.TROUBLED: Ink.ABNORMAL,
}

SIGNALS: dict[str, tuple[str, Ink]] = {
    mark("danger"): ("/!\\", Ink.DANGER),
    mark("warning"): ("/!\\", Ink.WARNING),
    mark("caution"): ("/!\\", Ink.CAUTION),
    mark("notice"): (" i ", Ink.NOTICE),
}
"""Symbol and ink of a signal word; property damage has no triangle (ANSI Z535.6)."""

TICKED = "[x]"
UNTICKED = "[ ]"
NOT_NEEDED = "[-]"
HOLD = "H"
"""Beside the number of a step that has a hold, so that the releasing person is called early."""
