"""SARIF 2.1.0, the interchange format of OASIS for results of static analysis; section numbers below are its.

One log with one run: the rules that found something with their pages, every file that was looked at, every finding. Columns
count characters, which `columnKind` says. Paths below the current folder are relative references, others `file:` URIs.
"""

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from runner import VERSION
from runner.lint.output.form import Texts, files_of, said
from runner.lint.output.marks import marks
from runner.lint.pages import Entry, every_rule, printed
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Place, Severity

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
"""As section 3.13.3 gives it."""
LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}
ROOT = "CHECKED"
"""The name of the folder that relative references start from: the one in which the command ran."""
NAMED_STEP = re.compile(r"^step [^ ]+ \(([^()]+)\)")
"""How a line of a trace names its step."""

DRIVE = re.compile("[A-Za-z]:/")


def render(findings: Sequence[Finding], texts: Texts, *, colour: bool, failing: Severity | None) -> str:  # noqa: ARG001 - every format's function has this shape
    """The log as JSON in ASCII."""
    files = {path: number for number, path in enumerate(files_of(findings, texts))}
    rules = {rule: number for number, rule in enumerate(dict.fromkeys(f.rule for f in findings))}
    printed_marks = marks(findings, texts)
    run = {
        "tool": {"driver": {"name": "changeover lint", "version": VERSION, "rules": _rules(rules)}},
        "columnKind": "unicodeCodePoints",
        "originalUriBaseIds": {ROOT: {"description": {"text": "The folder in which the command ran."}}},
        "artifacts": [{"location": _artifact(path), "sourceLanguage": "yaml"} for path in files],
        "results": [_result(f, mark, rules, files, texts) for f, mark in zip(findings, printed_marks, strict=True)],
    }
    return json.dumps({"version": "2.1.0", "$schema": SCHEMA, "runs": [run]}, indent=1) + "\n"


def _rules(wanted: Mapping[str, int]) -> list[dict[str, Any]]:
    """Section 3.49: the rules of the findings, with their pages."""
    entries = {entry.id: entry for entry in every_rule()} if wanted else {}
    return [_rule(name, entries.get(name)) for name in wanted]


def _rule(name: str, entry: Entry | None) -> dict[str, Any]:
    if entry is None:
        return {"id": name}
    return {
        "id": name,
        "shortDescription": {"text": message_text(entry.what)},
        "fullDescription": {"text": message_text(f"{entry.what} {entry.why}")},
        "help": {"text": message_text(printed(entry), lines=True)},
        "defaultConfiguration": {"level": LEVELS[entry.severity]},
    }


def _result(
    finding: Finding, mark: str, rules: Mapping[str, int], files: Mapping[str, int], texts: Texts
) -> dict[str, Any]:
    """Section 3.27. The way to the fault is one code flow with one thread flow."""
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": rules[finding.rule],
        "level": LEVELS[finding.severity],
        "message": {"text": message_text("\n".join(said(finding, trace=False)), lines=True)},
        "locations": [{"physicalLocation": _physical(finding.place, files)}],
        "partialFingerprints": {"ruleAndLine/v1": mark},
    }
    if finding.trace:
        steps = [{"location": _step(step, finding.place.path, files, texts)} for step in finding.trace]
        result["codeFlows"] = [{"threadFlows": [{"locations": steps}]}]
    return result


def _physical(place: Place, files: Mapping[str, int]) -> dict[str, Any]:
    """Section 3.29; without an end the region runs to the end of its line (3.30.8)."""
    return {
        "artifactLocation": {**_artifact(place.path), "index": files[place.path]},
        "region": {"startLine": place.line, "startColumn": place.column},
    }


def _step(words: str, path: str, files: Mapping[str, int], texts: Texts) -> dict[str, Any]:
    """A line of a trace; with its place where it names a step whose `id` stands in the same file."""
    location: dict[str, Any] = {"message": {"text": message_text(words)}}
    named = NAMED_STEP.match(words)
    if named is not None:
        wanted = re.compile(rf"\bid:[ ]*{re.escape(named.group(1))}(?![\w-])")
        for number, line in enumerate(texts.get(path, "").split("\n"), start=1):
            found = wanted.search(line)
            if found is not None:
                location["physicalLocation"] = _physical(Place(path, number, found.start() + 1), files)
                break
    return location


def message_text(text: str, lines: bool = False) -> str:
    """A plain text message: braces doubled (3.11.5), and no `](`, which would begin the target of a link (3.11.6)."""
    return clean(text, lines=lines).replace("{", "{{").replace("}", "}}").replace("](", "] (")


def _artifact(path: str) -> dict[str, str]:
    """Section 3.4: where a file is. A relative reference says what it is relative to."""
    uri = uri_of(path)
    return {"uri": uri} if uri.startswith("file:") else {"uri": uri, "uriBaseId": ROOT}


def uri_of(path: str) -> str:
    """A path with forward slashes as RFC 3986 writes it: percent-encoded UTF-8, an absolute one with the scheme `file`."""
    from urllib.parse import quote_from_bytes

    quoted = quote_from_bytes(path.encode("utf-8", "surrogateescape"), safe="/!$&'()*+,;=@~-._")
    if DRIVE.match(path):
        return f"file:///{path[0]}:{quoted[4:]}"
    return f"file://{quoted}" if path.startswith("/") else quoted
