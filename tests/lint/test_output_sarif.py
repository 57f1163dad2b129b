"""SARIF: valid against the published schema, and what the prose of the standard asks for besides.

Judge: the JSON schema of SARIF 2.1.0 (OASIS), see schemas/README.md. Section numbers are those of the standard, "SARIF
Version 2.1.0 Plus Errata 01", 28 August 2023.
"""

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft4Validator

from runner.lint.linter import lint_text
from runner.lint.output import FORMATS
from runner.lint.output.sarif import message_text, uri_of
from runner.lint.rule import Rule, all_rules
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Place, Severity
from tests.lint.examples import whole

SCHEMA = json.loads((Path(__file__).parent / "schemas" / "sarif-2.1.0-rtm.5.json").read_text(encoding="utf-8"))
JUDGE = Draft4Validator(SCHEMA)
PATH = "line 3/a.procedure.yaml"
TEXT = "id: x\nsteps:\n  - {id: open-guard, do: Open.}\n  - {id: close-guard, do: Close.}\n"
ERROR = Finding(
    "needs-unmet",
    Severity.ERROR,
    "`close-guard` may not begin: {drive} must be [stopped](now)",
    Place(PATH, 4, 21),
    "Mend it.",
    ("at the start drive is not known", "step 1.1 (open-guard) makes drive open", "step 1.2 (close-guard) comes up"),
)
NOTE = Finding("vague-words", Severity.NOTE, "what is slowly?", Place(PATH, 3, 22))
WARNING = NOTE._replace(rule="step-never-reached", severity=Severity.WARNING)


def log_of(*findings: Finding, text: str = TEXT) -> Any:
    log = json.loads(FORMATS["sarif"].render(findings, {PATH: text}))
    JUDGE.validate(log)
    return log


def results_of(*findings: Finding, text: str = TEXT) -> list[Any]:
    return log_of(*findings, text=text)["runs"][0]["results"]


def test_the_judge_refuses_what_is_no_log() -> None:
    log = log_of(ERROR)
    log["runs"][0]["results"][0]["level"] = "notice"
    assert [error.path[-1] for error in JUDGE.iter_errors(log)] == ["level"]


def test_a_log_of_nothing_is_valid_and_names_what_was_looked_at() -> None:
    (run,) = log_of()["runs"]
    assert run["results"] == []
    assert [artifact["location"]["uri"] for artifact in run["artifacts"]] == ["line%203/a.procedure.yaml"]


@pytest.mark.parametrize("rule", list(all_rules().values()), ids=lambda rule: rule.id)
def test_what_every_rule_finds_is_valid(rule: Rule) -> None:
    text = whole(rule.page.wrong)
    findings = lint_text(text, PATH, lambda _: None)
    results = results_of(*findings, text=text)
    assert [result["ruleId"] for result in results] == [finding.rule for finding in findings]


def test_levels_are_those_of_the_standard() -> None:
    assert [result["level"] for result in results_of(ERROR, WARNING, NOTE)] == ["error", "warning", "note"]  # 3.27.10


def test_every_result_points_to_a_rule_with_its_page() -> None:
    log = log_of(ERROR, NOTE, ERROR)
    (run,) = log["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == ["needs-unmet", "vague-words"]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]  # 3.27.6
    assert "Why:" in rules[0]["help"]["text"]
    assert "Wrong:" in rules[0]["help"]["text"]
    assert rules[0]["defaultConfiguration"]["level"] == "error"


def test_a_region_begins_at_the_finding_in_characters() -> None:
    log = log_of(ERROR)
    assert log["runs"][0]["columnKind"] == "unicodeCodePoints"  # 3.14.17
    region = log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]
    assert region == {"startLine": 4, "startColumn": 21}


def test_the_way_is_a_code_flow_whose_steps_stand_where_their_ids_do() -> None:
    (result,) = results_of(ERROR)
    ((flow,),) = [code["threadFlows"] for code in result["codeFlows"]]
    locations = [step["location"] for step in flow["locations"]]
    assert [location["message"]["text"] for location in locations] == list(ERROR.trace)
    regions = [location.get("physicalLocation", {}).get("region") for location in locations]
    assert regions == [None, {"startLine": 3, "startColumn": 6}, {"startLine": 4, "startColumn": 6}]
    assert "codeFlows" not in results_of(NOTE)[0]


def test_braces_are_doubled_and_no_link_is_begun() -> None:
    (result,) = results_of(ERROR)
    # 3.11.5: "{" and "}" stand for themselves only as "{{" and "}}"; 3.11.6: "[text](target)" would be a link
    text = result["message"]["text"]
    assert text == "`close-guard` may not begin: {{drive}} must be [stopped] (now)\nMend it."


@given(st.text())
def test_a_message_read_as_the_standard_says_is_the_message(text: str) -> None:
    written = message_text(text)
    assert re.search(r"\[[^\]]*\]\(", written) is None
    assert not re.search(r"(?<!\{)(\{\{)*\{[0-9]+\}", written)  # no placeholder is left
    assert written.replace("{{", "{").replace("}}", "}") == clean(text).replace("](", "] (")


@given(st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1))
def test_a_uri_has_only_its_own_characters_and_reads_back(path: str) -> None:
    uri = uri_of(path)
    # RFC 3986, appendix A: unreserved, sub-delims, ":", "@", "/" and percent-encoded octets make a path
    assert re.fullmatch(r"(?:[A-Za-z0-9\-._~!$&'()*+,;=:@/]|%[0-9A-F]{2})+", uri)
    if not uri.startswith("file:"):
        assert ":" not in uri.split("/")[0]  # section 4.2: the first segment of a relative reference
        assert unquote_to_bytes(uri) == path.encode()


def test_absolute_paths_are_file_uris() -> None:
    assert uri_of("/line 3/ä.yaml") == "file:///line%203/%C3%A4.yaml"  # RFC 8089, appendix B: no host
    assert uri_of("C:/line 3/a.yaml") == "file:///C:/line%203/a.yaml"  # RFC 8089, appendix E.2
    (run,) = json.loads(FORMATS["sarif"].render((), {"/a.yaml": "", "b.yaml": ""}))["runs"]
    assert [artifact["location"] for artifact in run["artifacts"]] == [
        {"uri": "file:///a.yaml"},
        {"uri": "b.yaml", "uriBaseId": "CHECKED"},
    ]


def test_a_name_that_is_no_utf_8_keeps_its_bytes() -> None:
    assert uri_of(b"a\xff.yaml".decode("utf-8", "surrogateescape")) == "a%FF.yaml"


def marks_of(*findings: Finding, text: str) -> list[str]:
    return [result["partialFingerprints"]["ruleAndLine/v1"] for result in results_of(*findings, text=text)]


def test_a_fingerprint_stays_when_lines_are_put_in_above() -> None:
    before = marks_of(NOTE, ERROR, text=TEXT)
    moved = [f._replace(place=f.place._replace(line=f.place.line + 2)) for f in (NOTE, ERROR)]
    assert marks_of(*moved, text="# one\n# two\n" + TEXT) == before
    assert marks_of(NOTE, ERROR, text=TEXT.replace("  - ", "    - ")) == before


def test_fingerprints_tell_alike_findings_apart() -> None:
    twice = NOTE._replace(place=Place(PATH, 3, 25))
    marks = marks_of(NOTE, twice, ERROR, text=TEXT)
    assert len(set(marks)) == 3
    assert [mark[-2:] for mark in marks] == [":1", ":2", ":1"]
    assert marks_of(NOTE, text=TEXT)[0] != marks_of(NOTE, text=TEXT.replace("Open.", "Shut."))[0]
