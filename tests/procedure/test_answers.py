"""Answers files: entries in order, texts as typed, acts with what stands beside them."""

import pytest

from runner.procedure.answers import MAY_HAVE, read_answers, unfit_entries
from runner.procedure.compile import compile_procedure
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


def unfit(entry: str) -> list[tuple[str, str, str]]:
    """(rule, what stands at the finding's place, hint) of what does not fit the whole procedure of the reference."""
    files = {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}
    procedure = compile_procedure(whole.PROCEDURE_TEXT, whole.PROCEDURE_PATH, files.get).procedure
    assert procedure is not None
    text = f"answers: 1\nprocedure: change-roll\nsteps:\n  - {entry}\n"
    answers, findings = read_answers(text, "x.answers.yaml")
    assert answers is not None, findings
    lines = text.split("\n")
    found = unfit_entries(answers, procedure)
    return [(one.rule, lines[one.place.line - 1][one.place.column - 1 :].rstrip("]}"), one.hint) for one in found]


def test_a_question_says_how_it_was_judged_and_is_one_of_the_scenario() -> None:
    text = "answers: 1\nprocedure: change-roll\nsteps:\n  - {step: lift, before: [{explain: why-wait, judged: part, words: One}]}\n"
    answers = read_answers(text, "x.answers.yaml").answers
    assert answers is not None
    (act,) = answers.entries[0].before
    assert (act.act, act.words, act.given("judged"), act.given("words")) == ("explain", "why-wait", "part", "One")
    files = {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}
    procedure = compile_procedure(whole.PROCEDURE_TEXT, whole.PROCEDURE_PATH, files.get).procedure
    assert procedure is not None
    assert unfit_entries(answers, procedure) == unfit_entries(answers, procedure, ("why-wait",)) == ()
    for asked, hint in ((("why-waits",), "Did you mean `why-waits`?"), ((), "Questions stand in a scenario")):
        (found,) = unfit_entries(answers, procedure, asked)
        assert (found.rule, found.place.line, found.hint.startswith(hint)) == ("unknown-name", 4, True)
    assert "needs `judged`" in read_answers(text.replace(", judged: part, words: One", ""), "x").findings[0].message


def test_the_answers_of_the_reference_fit_its_procedure() -> None:
    entries = whole.ANSWERS_TEXT.partition("steps:\n  - ")[2]
    assert unfit(entries) == []


@pytest.mark.parametrize(
    ("entry", "rule", "place", "meant"),
    [
        ("{step: core-presure}", "unknown-step", "core-presure", "core-pressure"),
        ("{step: core-pressure, answers: {core_presure: 6}}", "unknown-name", "core_presure: 6", "core_pressure"),
        ("{step: core-pressure, trouble: leek}", "unknown-trouble", "leek", "leak"),
        ("{step: wipe-bar, second: {wiped: yes}}", "entry-unfit", "{wiped: yes", ""),
        ("{step: core-pressure, leave_out: No time}", "entry-unfit", "No time", ""),
        ("{step: lift, before: [{look: {unwind_gard: open}}]}", "unknown-state", "unwind_gard: open", "unwind_guard"),
        ("{step: lift, after: [{look: {unwind_guard: opened}}]}", "unknown-value", "unwind_guard: opened", "open"),
        (
            "{step: lift, before: [{go_back: lfit, reason: It slipped}]}",
            "unknown-step",
            "lfit, reason: It slipped",
            "lift",
        ),
        (
            "{step: lift, before: [{hand_over: unwnd, to: Jon Vik, read_back: Guard open}]}",
            "unknown-role",
            "unwnd, to: Jon Vik, read_back: Guard open",
            "unwind",
        ),
        (
            "{step: lift, after: [{correct: core_presure, typed: 6.1, reason: Misread}]}",
            "unknown-name",
            "core_presure, typed: 6.1, reason: Misread",
            "core_pressure",
        ),
        ("{step: lift, after: [{close: every}]}", "wrong-value", "every", ""),
    ],
)
def test_what_does_not_fit_is_told_at_its_place(entry: str, rule: str, place: str, meant: str) -> None:
    ((found, at, hint),) = unfit(entry)
    assert (found, at) == (rule, place)
    assert not meant or hint == f"Did you mean `{meant}`?"


@pytest.mark.parametrize(
    "entry",
    [
        "{step: core-pressure, trouble: leak}",
        "{step: wipe-bar, leave_out: Done, after: [{close: all}, {close: 1}]}",
        "{step: lift, after: [{correct: web_width, typed: 1200, reason: Misread}]}",
        "{step: lift, before: [{note: Latch is stiff}, {pause: Lunch}, {resume: true}, {release: {}}]}",
    ],
)
def test_what_the_procedure_has_fits(entry: str) -> None:
    assert unfit(entry) == []
