"""JUnit XML: valid against a published schema, well-formed whatever an author writes, and of one mind with the exit code.

Judge: junit-10.xsd, see schemas/README.md; the reader is the standard library's. Characters: Extensible Markup Language
(XML) 1.0, Fifth Edition, section 2.2.
"""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import xmlschema
from hypothesis import given
from hypothesis import strategies as st

from runner.lint.linter import lint_text
from runner.lint.output import FORMATS
from runner.lint.rule import Rule, all_rules
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Place, Severity
from tests.lint.examples import whole

JUDGE = xmlschema.XMLSchema(str(Path(__file__).parent / "schemas" / "junit-10.xsd"))
PATH = "a.procedure.yaml"
ERROR = Finding("needs-unmet", Severity.ERROR, "may not begin", Place(PATH, 3, 8), "Mend it.", ("step 1.1", "step 1.2"))
WARNING = Finding("unused-state", Severity.WARNING, "never used", Place(PATH, 4, 1))
NOTE = Finding("vague-words", Severity.NOTE, "what is slowly?", Place(PATH, 5, 1))
ALL = (ERROR, WARNING, NOTE)


def document(
    *findings: Finding, texts: dict[str, str] | None = None, failing: Severity | None = Severity.ERROR
) -> ET.Element:
    written = FORMATS["junit"].render(findings, {PATH: ""} if texts is None else texts, failing=failing)
    root = ET.fromstring(written)
    JUDGE.validate(written)
    return root


def test_the_judge_refuses_what_is_no_report() -> None:
    written = FORMATS["junit"].render(ALL, {}).replace("<failure", "<fault").replace("</failure", "</fault")
    assert not JUDGE.is_valid(written)


@pytest.mark.parametrize("rule", list(all_rules().values()), ids=lambda rule: rule.id)
def test_what_every_rule_finds_is_valid(rule: Rule) -> None:
    findings = lint_text(whole(rule.page.wrong), PATH, lambda _: None)
    assert len(document(*findings).findall("testsuite/testcase")) == max(1, len(findings))


def test_a_file_without_findings_is_a_case_that_passed() -> None:
    root = document(texts={"b.procedure.yaml": "", "a.procedure.yaml": ""})
    assert [suite.get("name") for suite in root] == ["a.procedure.yaml", "b.procedure.yaml"]
    assert [(suite.get("tests"), suite.get("failures")) for suite in root] == [("1", "0"), ("1", "0")]
    assert root.get("tests") == "2"


@pytest.mark.parametrize(
    ("failing", "expected"), [(Severity.ERROR, 1), (Severity.WARNING, 2), (Severity.NOTE, 3), (None, 0)]
)
def test_failures_are_the_findings_that_make_the_exit_code(failing: Severity | None, expected: int) -> None:
    root = document(*ALL, failing=failing)
    assert len(root.findall(".//failure")) == expected
    assert root.get("failures") == root[0].get("failures") == str(expected)
    assert root.get("tests") == root[0].get("tests") == "3"
    assert len(root.findall(".//system-out")) == 3 - expected


def test_a_failure_has_place_words_hint_and_way() -> None:
    (case,) = document(ERROR).findall("testsuite/testcase")
    assert (case.get("classname"), case.get("name")) == (PATH, "3:8 needs-unmet")
    (failure,) = case
    assert (failure.get("type"), failure.get("message")) == ("error", "may not begin")
    place = "a.procedure.yaml:3:8: error needs-unmet: may not begin"
    assert failure.text == f"{place}\nMend it.\n1. step 1.1\n2. step 1.2"


@given(st.text(st.characters()), st.text(st.characters()))
def test_any_text_comes_back_as_it_would_be_shown(message: str, path: str) -> None:
    finding = ERROR._replace(message=message, hint=message, trace=(message,), place=Place(path, 1, 1))
    written = FORMATS["junit"].render((finding,), {})
    assert written.isascii()
    (suite,) = ET.fromstring(written)
    assert suite.get("name") == clean(path)
    assert suite[0][0].get("message") == clean(message)
    JUDGE.validate(written)
