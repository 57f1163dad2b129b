"""Which rules no comment silences, by name, so that none leaves or joins them unseen."""

from runner.lint.linter import lint_text
from runner.lint.rule import all_rules
from runner.procedure.finding import Severity
from tests.lint.examples import whole

ABOUT_SAFETY = {
    "cannot-tell-goes-on",
    "emergency-stop-as-protection",
    "energy-relieved-before-lock",
    "guard-opened-in-motion",
    "held-motion-too-fast",
    "hold-left-out",
    "hold-nobody-may-release",
    "hold-released-by-doer",
    "isolation-not-tried",
    "left-out-by-doer",
    "lock-before-switch-off",
    "lock-off-with-guard-open",
    "lock-taken-off-by-another",
    "motion-with-guard-open",
    "motion-without-guard",
    "no-way-to-make-safe",
    "parked-with-load",
    "protection-not-physical",
    "says-safe",
    "switched-on-under-lock",
}
"""Warnings and errors about what may hurt somebody."""

ABOUT_COMMENTS = {"allow-without-reason", "allow-unknown-rule", "allow-not-possible"}


def test_rules_about_safety_are_lasting() -> None:
    assert {name for name in ABOUT_SAFETY if not all_rules()[name].lasting} == set()


def test_no_other_warning_or_note_is_lasting() -> None:
    lasting = {rule.id for rule in all_rules().values() if rule.lasting and rule.severity is not Severity.ERROR}
    assert lasting <= ABOUT_SAFETY | ABOUT_COMMENTS | {"one-owner-kept-at-end"}


def test_a_comment_with_a_reason_silences_no_lasting_rule() -> None:
    reason = "the foreman has agreed"
    for rule in all_rules().values():
        if not rule.lasting or rule.id in ABOUT_COMMENTS:
            continue
        lines = []
        for line in rule.page.wrong.splitlines():
            if line.endswith("  # here"):
                indent = " " * (len(line) - len(line.lstrip()))
                lines.append(f"{indent}# lint: allow {rule.id}, {reason}")
            lines.append(line)
        fired = [
            finding.rule for finding in lint_text(whole("\n".join(lines) + "\n"), "x.procedure.yaml", lambda _: None)
        ]
        assert rule.id in fired, rule.id
        assert "allow-not-possible" in fired, rule.id
