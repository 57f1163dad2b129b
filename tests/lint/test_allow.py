"""Comments that allow a finding: where they stand, what they need, and what they can never silence."""

from runner.lint.allow import allows_in
from runner.lint.linter import lint_text
from tests.lint.examples import whole

PATH = "example.procedure.yaml"
STEP = "- {id: lift, by: unwind, do: Lift the roll slowly.}"
REASON = "the crane has one speed"


def rules(steps: str, before: str = "") -> list[str]:
    example = f"{before}phases:\n  - phase: Lift\n    park: after\n    steps:\n{steps}"
    return [finding.rule for finding in lint_text(whole(example), PATH, lambda _: None)]


def test_a_finding_without_a_comment_is_told() -> None:
    assert rules(f"      {STEP}\n") == ["vague-words"]


def test_a_comment_on_the_line_silences() -> None:
    assert rules(f"      {STEP}  # lint: allow vague-words, {REASON}\n") == []


def test_a_comment_alone_above_the_line_silences_past_other_comments_and_empty_lines() -> None:
    assert rules(f"      # lint: allow vague-words, {REASON}\n      # the old crane\n\n      {STEP}\n") == []


def test_two_comments_above_one_line_silence_two_rules() -> None:
    step = STEP.replace("slowly", "slowly if it swings")
    both = (
        f"      # lint: allow vague-words, {REASON}\n      # lint: allow condition-after-act, {REASON}\n      {step}\n"
    )
    assert rules(both) == []


def test_a_comment_after_another_lines_text_does_not_reach_the_next_line() -> None:
    steps = f"      - {{id: wipe, by: unwind, do: Wipe.}}  # lint: allow vague-words, {REASON}\n      {STEP}\n"
    assert rules(steps) == ["allow-unused", "vague-words"]


def test_a_comment_for_another_rule_silences_nothing() -> None:
    assert rules(f"      {STEP}  # lint: allow sentence-too-long, {REASON}\n") == ["vague-words", "allow-unused"]


def test_what_looks_like_a_comment_inside_a_text_is_none() -> None:
    quoted = f'      - {{id: say, by: unwind, do: "Lift slowly # lint: allow vague-words, {REASON}"}}\n'
    assert rules(quoted) == ["vague-words"]
    block = f"      - id: say\n        by: unwind\n        do: |\n          Lift slowly.\n          # lint: allow vague-words, {REASON}\n"
    assert "allow-unused" not in rules(block)
    assert allows_in(whole(f"phases:\n  - phase: Lift\n    steps:\n{block}"), PATH) == ()


def test_an_error_is_not_silenced() -> None:
    states = "states:\n  guard: {of: [open, closed]}\n"
    step = (
        f"      # lint: allow needs-unmet, {REASON}\n      - {{id: go, by: unwind, do: Go., needs: {{guard: open}}}}\n"
    )
    assert set(rules(step, states)) == {"needs-unmet", "allow-not-possible"}


def test_a_finding_of_the_compiler_that_is_an_error_is_not_silenced_either() -> None:
    step = f"      - {{id: go, by: nobody, do: Go.}}  # lint: allow role-unknown, {REASON}\n"
    assert len(rules(step)) == 1
