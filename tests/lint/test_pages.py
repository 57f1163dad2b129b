"""Every rule's page is its test: the wrong example fires exactly where it says, the right one is silent."""

import inspect
import pkgutil
from collections.abc import Callable
from importlib import import_module

import pytest

from runner.lint import rules as theme_package
from runner.lint.linter import lint_text
from runner.lint.rule import RULE_MODULES, Rule, all_rules
from runner.procedure.faults import FAULTS
from runner.procedure.finding import Severity
from tests.lint.examples import marked_lines, site_of, whole

RULES = list(all_rules().values())
PATH = "example.procedure.yaml"


def nothing(path: str) -> None:
    return None


def beside(example: str) -> Callable[[str], str | None]:
    """The site file of an example, if it has one, and nothing else."""
    return {"site.yaml": site_of(example)}.get


def by_id(rule: Rule) -> str:
    return rule.id


@pytest.mark.parametrize("rule", RULES, ids=by_id)
def test_a_page_has_every_part(rule: Rule) -> None:
    page = rule.page
    assert page.what.endswith(".")
    assert len(page.what.split()) <= 30
    assert page.why
    assert page.source, "name the published source or say 'common practice, no source'"
    assert "# here" in page.wrong
    assert "# here" not in page.right


@pytest.mark.parametrize("rule", RULES, ids=by_id)
def test_the_wrong_example_fires_exactly_there(rule: Rule) -> None:
    text = whole(rule.page.wrong)
    findings = lint_text(text, PATH, beside(rule.page.wrong))
    fired = {finding.place.line for finding in findings if finding.rule == rule.id}
    assert fired == marked_lines(text), findings


@pytest.mark.parametrize("rule", RULES, ids=by_id)
def test_the_right_example_is_silent(rule: Rule) -> None:
    findings = lint_text(whole(rule.page.right), PATH, beside(rule.page.right))
    assert [f for f in findings if f.rule == rule.id or f.severity > Severity.NOTE] == []


@pytest.mark.parametrize("rule", RULES, ids=by_id)
def test_a_finding_says_what_to_do_or_is_a_note(rule: Rule) -> None:
    found = [f for f in lint_text(whole(rule.page.wrong), PATH, beside(rule.page.wrong)) if f.rule == rule.id]
    assert all(f.hint or f.trace or f.severity is Severity.NOTE or rule.id == "example-wrong" for f in found)


def test_the_smallest_procedure_has_no_findings() -> None:
    assert lint_text(whole(""), PATH, nothing) == ()


def test_rule_names_are_unique_and_no_faults_of_the_compiler() -> None:
    names = [
        value.id
        for module in RULE_MODULES
        for value in vars(import_module(f"runner.lint.rules.{module}")).values()
        if isinstance(value, Rule)
    ]
    assert len(names) == len(set(names))
    assert set(names).isdisjoint(FAULTS)


def test_every_theme_module_is_listed() -> None:
    assert {module.name for module in pkgutil.iter_modules(theme_package.__path__)} == set(RULE_MODULES)


def test_a_rule_is_named_after_its_function() -> None:
    assert all(rule.id == rule.check.__name__.replace("_", "-") for rule in RULES)


def test_opinions_about_words_are_notes() -> None:
    wording = [rule for rule in RULES if inspect.getmodule(rule.check) is import_module("runner.lint.rules.wording")]
    assert wording
    assert {rule.severity for rule in wording} == {Severity.NOTE}


def test_errors_are_never_silenced() -> None:
    assert not any(rule.silenceable for rule in RULES if rule.severity is Severity.ERROR)
