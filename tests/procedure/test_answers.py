"""Answers files: entries in order, texts as typed, acts with what stands beside them."""

import pytest

from runner.procedure.answers import MAY_HAVE, read_answers
from runner.procedure.language.files import ACT
from runner.procedure.reference import whole


def test_entries_are_read_in_order() -> None:
    answers, findings = read_answers(whole.ANSWERS_TEXT, "x.answers.yaml")
    assert findings == ()
    assert answers is not None
    assert (answers.procedure, answers.unlisted) == ("change-roll", "done")
    assert [entry.step for entry in answers.entries] == [
        "check-label",
        "lift",
        "core-pressure",
        "hang-pieces",
        "wipe-bar",
        "thread-unwind",
    ]
    assert dict(answers.entries[2].answers) == {"core_pressure": ("8.5", "6.2")}
    assert answers.entries[4].leave_out == "Done by the night shift"


def test_an_act_keeps_what_stands_beside_it() -> None:
    answers = read_answers(whole.ANSWERS_TEXT, "x").answers
    assert answers is not None
    note = answers.entries[1].before[0]
    assert (note.act, note.words, note.given("kind"), note.given("owner", "nobody")) == (
        "note",
        "Hook latch is stiff",
        "equipment",
        "nobody",
    )
    look = answers.entries[3].after[2]
    assert (look.act, look.beside) == ("look", (("unwind_drive", "stopped"), ("unwind_guard", "open")))


def test_every_act_of_the_language_can_be_read() -> None:
    (group,) = ACT.groups
    assert group.keys == tuple(MAY_HAVE)


@pytest.mark.parametrize(
    ("act", "confirm", "by"),
    [
        ("{release: {by: Eva Roth}}", None, "Eva Roth"),
        ("{release: {confirm: [Drop zone is clear]}}", ("Drop zone is clear",), ""),
        ("{release: {confirm: []}}", (), ""),
        ("{release: {}}", None, ""),
    ],
)
def test_a_release_says_who_and_what(act: str, confirm: tuple[str, ...] | None, by: str) -> None:
    answers, findings = read_answers(f"answers: 1\nprocedure: x\nsteps:\n  - {{step: a, before: [{act}]}}\n", "x")
    assert findings == ()
    assert answers is not None
    (found,) = answers.entries[0].before
    assert (found.confirm, found.given("by")) == (confirm, by)
