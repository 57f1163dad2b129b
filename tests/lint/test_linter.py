"""From text to findings: kinds of files, fragments, options, and that nothing is ever raised."""

import random

from runner.lint.kinds import kind_of, of_lint
from runner.lint.linter import Options, lint, lint_text
from runner.procedure.finding import Severity
from tests.lint.examples import whole

PATH = "folder/example.procedure.yaml"
FRAGMENT = """\
fragment: 1
id: lift-side
title: Lift one side
parameters: [side]
steps:
  - id: lift-<side>
    by: unwind
    do: Lift the <side> side slowly.
"""
USING = """\
phases:
  - phase: Lift
    park: after
    steps:
      - {use: lift.fragment.yaml, with: {side: left}}
      - {use: lift.fragment.yaml, with: {side: right}}
"""


def fetch(path: str) -> str | None:
    return FRAGMENT if path.endswith("lift.fragment.yaml") else None


def test_files_are_known_by_the_end_of_their_names() -> None:
    names = ["b.job.yaml", "a.procedure.yaml", "site.yaml", "c.fragment.yaml", "d.answers.yaml", "README.md"]
    assert of_lint(names) == ("a.procedure.yaml", "b.job.yaml", "c.fragment.yaml", "d.answers.yaml", "site.yaml")
    assert kind_of("x.yaml") == ""


def test_a_finding_inside_a_fragment_stands_in_the_fragment() -> None:
    found = lint(whole(USING), PATH, fetch)
    (finding,) = {(f.rule, f.place.line, f.place.column, f.place.path) for f in found.findings}
    assert finding[0] == "vague-words"
    assert FRAGMENT.splitlines()[finding[1] - 1][finding[2] - 1 :].startswith("slowly")
    assert found.texts[finding[3]] == FRAGMENT


def test_a_comment_in_a_fragment_silences_there() -> None:
    allowed = FRAGMENT.replace("slowly.", "slowly.  # lint: allow vague-words, one speed only")
    assert lint_text(whole(USING), PATH, lambda _: allowed) == ()


def test_a_comment_in_a_fragment_may_be_for_another_procedure() -> None:
    allowed = FRAGMENT.replace("slowly.", "at creep speed.  # lint: allow vague-words, one speed only")
    assert lint_text(whole(USING), PATH, lambda _: allowed) == ()


def test_a_fragment_on_its_own_is_checked_for_its_shape() -> None:
    assert lint_text(FRAGMENT, "lift.fragment.yaml", fetch) == ()
    broken = FRAGMENT.replace("    do:", "    doo:")
    findings = lint_text(broken, "lift.fragment.yaml", fetch)
    assert findings
    assert {f.place.path for f in findings} == {"lift.fragment.yaml"}
    assert any(f.place.line == 8 for f in findings)


def test_a_job_and_answers_are_checked_for_their_shape() -> None:
    job = "job: 1\nprocedure: example\ninputs: {width: 1250 mm}\ncrew: {unwind: Ana Berg}\n"
    assert lint_text(job, "x.job.yaml", fetch) == ()
    (finding,) = lint_text(job.replace("crew", "crow"), "x.job.yaml", fetch)
    assert (finding.place.line, finding.place.column) == (4, 1)
    answers = "answers: 1\nprocedure: example\nsteps:\n  - {step: wipe, leave_out: no time}\n"
    assert lint_text(answers, "x.answers.yaml", fetch) == ()
    assert lint_text(answers.replace("step:", "stop:"), "x.answers.yaml", fetch)


def test_a_text_that_does_not_compile_has_the_compilers_findings_only() -> None:
    findings = lint_text(whole("phases: []\n# lint: allow vague-words, none\n"), PATH, fetch)
    assert findings
    assert any(f.severity is Severity.ERROR for f in findings)
    assert not any(f.rule.startswith("allow-") for f in findings)


def test_only_the_rules_asked_for_speak() -> None:
    text = whole(USING.replace("park: after", "press: stopped"))
    assert {f.rule for f in lint_text(text, PATH, fetch)} == {"vague-words", "no-parking-place"}
    only = Options(frozenset({"no-parking-place"}))
    assert {f.rule for f in lint_text(text, PATH, fetch, only)} == {"no-parking-place"}


def test_findings_come_by_place() -> None:
    findings = lint_text(whole(USING.replace("park: after", "press: stopped")), PATH, fetch)
    places = [(f.place.path, f.place.line, f.place.column) for f in findings]
    assert places == sorted(places)


def test_no_mutation_of_a_procedure_brings_lint_down() -> None:
    from tests.lint.test_order import CONDITIONS, CRANE, SIDE_BY_SIDE

    chance = random.Random(20261125)
    for example in (CONDITIONS.replace("WHEN_MADE", "width > 500 [mm]"), CRANE, SIDE_BY_SIDE, USING):
        text = whole(example)
        for _ in range(60):
            at = chance.randrange(len(text))
            cut = (
                text[:at]
                + chance.choice(["", ":", "{", "]", "\n", "x", " ", "-", '"', "# lint: allow x"])
                + text[at + 1 :]
            )
            for finding in lint_text(cut, PATH, fetch):
                lines = (cut if finding.place.path == PATH else FRAGMENT).split("\n")
                assert 1 <= finding.place.line <= len(lines)
                assert 1 <= finding.place.column <= len(lines[finding.place.line - 1]) + 1
