"""What lint says of pieces that a role may accept, and of examples that their rough check doubts."""

import pytest

from runner.lint.linter import lint_text
from tests.engine.held_pieces import TEXT


def found(text: str) -> list[tuple[str, int, str]]:
    """(rule, line, message) of what lint finds of these rules."""
    wanted = (
        "hold-released-by-doer",
        "hold-nobody-may-release",
        "role-unused",
        "example-wrong",
        "limit-broken-by-example",
    )
    findings = lint_text(text, "bar.procedure.yaml", lambda _: None)
    return [(f.rule, f.place.line, f.message) for f in findings if f.rule in wanted]


def line_of(text: str, words: str) -> int:
    return next(at for at, line in enumerate(text.split("\n"), start=1) if words in line)


def test_a_role_that_may_accept_pieces_is_used() -> None:
    assert found(TEXT) == []
    unused = found(TEXT.replace(", release: lead", ""))
    assert [(rule, line) for rule, line, _ in unused] == [("role-unused", line_of(TEXT, "lead: Shift lead"))]


@pytest.mark.parametrize(("doer", "step"), [("unwind", "load"), ("rewind", "tell")])
def test_pieces_are_not_accepted_by_the_role_that_hangs_or_tells_them(doer: str, step: str) -> None:
    """The step that tells uses them through another value."""
    text = TEXT.replace("release: lead", f"release: {doer}").replace(", lead: Shift lead", "")
    assert found(text) == [
        (
            "hold-released-by-doer",
            line_of(text, "bar_pieces: {"),
            f"`{doer}` does `{step}` and would accept the pieces that it uses",
        )
    ]


def test_pieces_that_nobody_else_could_accept_are_an_error() -> None:
    text = TEXT.replace("release: lead", "release: unwind").replace(", rewind: Helper, lead: Shift lead", "")
    text = text.replace("by: rewind", "by: unwind")
    assert [rule for rule, _, _ in found(text)] == ["hold-nobody-may-release"]


def doubted(share: str) -> str:
    rough = f"rough: {{formula: tension * 2 [m], within: {share}}}"
    example = "example: {given: {tension: 150 N/m, width: 1200 mm}, gives: 360 N, within: 1 N}"
    return TEXT.replace(
        "pull: {formula: 2 * tension * width, unit: N}",
        f"pull: {{formula: 2 * tension * width, unit: N, {rough}, {example}}}",
    ).replace("tension * 2 [m]", '"tension * 2 [m]"')


def test_the_example_is_held_against_the_rough_check_too() -> None:
    assert found(doubted("20 %")) == []
    assert found(doubted("10 %")) == [
        (
            "example-wrong", line_of(TEXT, "  pull: {"),
            "in the example of `pull`, rough check: about 300 N, DIFFERS by more than 10 %; the formula gives 360 N",
        )
    ]  # fmt: skip


def test_an_example_gives_what_the_rough_check_rests_on() -> None:
    text = (
        doubted("20 %")
        .replace("given: {tension: 150 N/m, ", "given: {")
        .replace("2 * tension * width", "300 [N/m] * width")
    )
    text = text.replace("formula: 300 [N/m] * width", 'formula: "300 [N/m] * width"')
    rules = [f.rule for f in lint_text(text, "bar.procedure.yaml", lambda _: None)]
    assert "example-form" in rules
