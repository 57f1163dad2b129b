"""Comments that allow a finding: where they stand, what they need, and what they can never silence."""

from runner.lint.allow import allows_in
from runner.lint.linter import lint_text
from tests.lint.examples import whole

PATH = "example.procedure.yaml"
STEP = "- {id: turn, by: unwind, do: Turn the roll slowly.}"
REASON = "the handwheel has one gear"


def rules(steps: str, before: str = "") -> list[str]:
    example = f"{before}phases:\n  - phase: Turn\n    park: after\n    steps:\n{steps}"
    return [finding.rule for finding in lint_text(whole(example), PATH, lambda _: None)]


def test_a_finding_without_a_comment_is_told() -> None:
    assert rules(f"      {STEP}\n") == ["vague-words"]


def test_a_comment_on_the_line_silences() -> None:
    assert rules(f"      {STEP}  # lint: allow vague-words, {REASON}\n") == []


def test_a_comment_alone_above_the_line_silences_past_other_comments_and_empty_lines() -> None:
    assert rules(f"      # lint: allow vague-words, {REASON}\n      # the old handwheel\n\n      {STEP}\n") == []


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
    quoted = f'      - {{id: say, by: unwind, do: "Turn slowly # lint: allow vague-words, {REASON}"}}\n'
    assert rules(quoted) == ["vague-words"]
    block = f"      - id: say\n        by: unwind\n        do: |\n          Lift slowly.\n          # lint: allow vague-words, {REASON}\n"
    assert "allow-unused" not in rules(block)
    assert allows_in(whole(f"phases:\n  - phase: Turn\n    steps:\n{block}"), PATH) == ()


def test_an_error_is_not_silenced() -> None:
    states = "states:\n  guard: {of: [open, closed]}\n"
    step = (
        f"      # lint: allow needs-unmet, {REASON}\n      - {{id: go, by: unwind, do: Go., needs: {{guard: open}}}}\n"
    )
    assert set(rules(step, states)) == {"needs-unmet", "allow-not-possible"}


def test_a_finding_of_the_compiler_that_is_an_error_is_not_silenced_either() -> None:
    step = f"      - {{id: go, by: nobody, do: Go.}}  # lint: allow role-unknown, {REASON}\n"
    assert len(rules(step)) == 1


FRAGMENT = "fragment: 1\nid: side\ntitle: Turn the roll\nparameters: [side]\nsteps:\n"
USE = "      - {use: side.fragment.yaml, with: {side: unwind}}\n"
SLOW = "  - {id: <side>-turn, by: <side>, do: Turn the roll slowly.}"


def with_fragment(fragment: str, steps: str = USE) -> list[tuple[str, str]]:
    """File and rule of what lint finds in a procedure that uses a fragment."""
    example = whole(f"phases:\n  - phase: Turn\n    park: after\n    steps:\n{steps}")
    found = lint_text(example, PATH, {"side.fragment.yaml": FRAGMENT + fragment}.get)
    return [(finding.place.path, finding.rule) for finding in found]


def alone(fragment: str) -> list[str]:
    return [finding.rule for finding in lint_text(FRAGMENT + fragment, "side.fragment.yaml", lambda _: None)]


def test_a_comment_in_a_fragment_silences_what_a_procedure_finds_there() -> None:
    assert with_fragment(f"{SLOW}\n") == [("side.fragment.yaml", "vague-words")]
    assert with_fragment(f"{SLOW}  # lint: allow vague-words, {REASON}\n") == []
    assert with_fragment(f"  # lint: allow vague-words, {REASON}\n{SLOW}\n") == []


def test_a_comment_in_the_procedure_does_not_reach_into_a_fragment() -> None:
    steps = f"      # lint: allow vague-words, {REASON}\n{USE}"
    assert with_fragment(f"{SLOW}\n", steps) == [
        (PATH, "allow-unused"),
        ("side.fragment.yaml", "vague-words"),
    ]


def test_a_comment_in_a_fragment_without_a_reason_silences_nothing() -> None:
    found = with_fragment(f"{SLOW}  # lint: allow vague-words\n")
    assert sorted(found) == [("side.fragment.yaml", "allow-without-reason"), ("side.fragment.yaml", "vague-words")]


def test_a_fragment_alone_tells_of_comments_that_can_never_silence() -> None:
    assert alone(f"{SLOW}  # lint: allow vague-words\n") == ["allow-without-reason"]
    assert alone(f"{SLOW}  # lint: allow vague-word, {REASON}\n") == ["allow-unknown-rule"]
    assert alone(f"{SLOW}  # lint: allow says-safe, {REASON}\n") == ["allow-not-possible"]
    assert alone(f"{SLOW}  # lint: allow vague-words, {REASON}\n") == []


def test_a_comment_silences_a_warning_of_a_fragments_shape_too() -> None:
    cut = "  - {id: <side>-turn, by: <side>, do: Turn the roll.}\n  - id: <side>-look\n    by: <side>\n    do: Look at roll#2.\n"
    assert alone(cut) == []
    cut = cut.replace("roll#2.", "roll #2.")
    assert alone(cut) == ["comment-cuts-text"]
    assert alone(cut.replace("    do: Look", f"    # lint: allow comment-cuts-text, {REASON}\n    do: Look")) == []
