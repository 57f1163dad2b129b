"""The reference is derived, and everything that it shows works."""

import copy
from pathlib import Path
from typing import Any

import pytest

from runner.formula.syntax import BINDING
from runner.formula.units import UNITS
from runner.lint.linter import lint_text
from runner.procedure.answers import read_answers
from runner.procedure.compile import compile_procedure
from runner.procedure.faults import FAULTS
from runner.procedure.finding import Finding, Severity
from runner.procedure.job import read_job
from runner.procedure.language.files import ANSWERS, FRAGMENT, JOB, PROCEDURE
from runner.procedure.language.shape import Key, ListOf, MapOf, Record, Shape, key_of, variant
from runner.procedure.language.site import SITE
from runner.procedure.nodes import Map, Seq
from runner.procedure.reference import prose, whole
from runner.procedure.reference.formulas import OPERATORS, operators
from runner.procedure.reference.keys import records_in
from runner.procedure.reference.page import page
from runner.procedure.source import read

README = Path(__file__).parents[2] / "procedures" / "README.md"

Path_ = tuple[str | int, ...]


def test_the_page_is_the_one_that_the_tables_give() -> None:
    assert README.read_text(encoding="utf-8") == page()


def test_the_page_holds_every_key_function_unit_and_fault() -> None:
    text = page()
    for record in records_in(PROCEDURE, FRAGMENT, JOB, ANSWERS):
        for key in record.keys:
            assert f"**`{key.name}`**" in text
            assert key.doc in text
    assert all(f"`{unit}`" in text for unit in UNITS)
    assert all(f"| `{rule}` |" in text for rule in FAULTS)
    assert OPERATORS.keys() == BINDING.keys()


def test_operators_of_equal_strength_stand_in_one_row() -> None:
    rows = [line.split("|")[1].split() for line in operators().split("\n") if line.startswith("| `")]
    assert [[BINDING.get(sign.strip("`"), 0) for sign in row] for row in rows if row != ["`-`"]] == [
        [8], [6, 6], [5, 5], [4] * 6, [3], [2], [1],
    ]  # fmt: skip


def test_the_comment_that_the_page_shows_silences_a_finding() -> None:
    (line,) = [line.strip() for line in page().split("\n") if "# lint: allow" in line]
    text = prose.SMALLEST_TEXT.partition("phases:")[0] + (
        "make_safe: [{do: Press the stop button.}]\n"
        f"phases:\n  - phase: Wipe\n    park: after\n    steps:\n      - id: wipe\n        {line}\n"
    )
    assert lint_text(text, "x.procedure.yaml", lambda _: None) == ()
    assert lint_text(text.partition("   # lint")[0] + "\n", "x.procedure.yaml", lambda _: None) != ()


def test_every_link_of_the_page_leads_to_a_heading() -> None:
    text = page()
    headings = {line.lstrip("#").strip().lower().replace(" ", "-") for line in text.split("\n") if line.startswith("#")}
    links = {part.split(")")[0] for part in text.split("](#")[1:]}
    assert links <= headings


def test_the_smallest_procedure_compiles() -> None:
    assert compile_procedure(prose.SMALLEST_TEXT, "x", lambda _: None).findings == ()


def test_no_key_can_be_taken_from_the_smallest_procedure() -> None:
    for line in prose.SMALLEST_TEXT.split("\n")[:7]:
        made = compile_procedure(prose.SMALLEST_TEXT.replace(line + "\n", ""), "x", lambda _: None)
        assert [finding.rule for finding in made.findings] == ["missing-key"], line


TEXTS = {
    PROCEDURE.name: whole.PROCEDURE_TEXT,
    FRAGMENT.name: whole.FRAGMENT_TEXT,
    JOB.name: whole.JOB_TEXT,
    ANSWERS.name: whole.ANSWERS_TEXT,
    SITE.name: whole.SITE_TEXT,
}


def as_data(node: Any) -> Any:
    """Nodes as plain maps, lists and texts."""
    if isinstance(node, Map):
        return {key: as_data(value) for key, value in node.items()}
    return [as_data(value) for value in node] if isinstance(node, Seq) else node


def parsed(text: str) -> Any:
    source = read(text, "x")
    assert source.root is not None, (text, source.findings)
    return as_data(source.root)


def places_of(data: Any, shape: Shape, wanted: Record, path: Path_ = ()) -> list[Path_]:
    """Paths of all records of one kind in a document."""
    shape = variant(shape, data)
    found: list[Path_] = [path] if shape == wanted else []
    match shape:
        case Record():
            for name, value in data.items():
                key = key_of(shape, name)
                found += places_of(value, key.shape, wanted, (*path, name)) if key else []
        case MapOf(value=inner):
            for name, value in data.items():
                found += places_of(value, inner, wanted, (*path, name))
        case ListOf(of=inner) if isinstance(data, list):
            for index, value in enumerate(data):
                found += places_of(value, inner, wanted, (*path, index))
        case _:
            pass
    return found


def put(data: Any, path: Path_, record: Record, key: Key) -> Any:
    """The document with the key's example put into the record at the path; keys that it excludes go."""
    data = copy.deepcopy(data)
    node = data
    for part in path:
        node = node[part]
    excluded = {
        other
        for group in record.groups
        if key.name in group.keys
        for other in group.keys
        if group.rule != "at least one"
    }
    for other in excluded:
        node.pop(other, None)
    node.update(parsed(key.example))
    return data


def written(data: Any) -> str:
    """Plain data as YAML, every text in quotes."""
    import json

    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def findings_of(top: Record, text: str) -> tuple[Finding, ...]:
    if top is JOB:
        return read_job(text, "x").findings
    if top is ANSWERS:
        return read_answers(text, "x").findings
    files = {whole.FRAGMENT_PATH: text if top is FRAGMENT else whole.FRAGMENT_TEXT}
    procedure = whole.PROCEDURE_TEXT if top is FRAGMENT else text
    return compile_procedure(procedure, whole.PROCEDURE_PATH, files.get).findings


def examples() -> list[tuple[Record, Record, Key]]:
    """(file, record, key) of every worked example."""
    told: list[Record] = []
    found = []
    for top in (PROCEDURE, FRAGMENT, JOB, ANSWERS):
        for record in records_in(top):
            if record not in told:
                told.append(record)
                found += [(top, record, key) for key in record.keys]
    return found


EXTRA = {
    # Records that the whole procedure has no example of in a place of their own.
    "a release": ("answers: 1\nprocedure: change-roll\nsteps:\n  - {step: lift, before: [{release: {}}]}\n"),
    "an approval": whole.PROCEDURE_TEXT.replace(
        "status: draft\n", "status: draft\napproval: {by: M. Arden, on: 2026-11-24, digest: " + "0" * 64 + "}\n"
    ),
}
ACT_BESIDE = {
    # What an act's key stands beside: alone it says nothing.
    "kind": "note", "severity": "note", "reason": "go_back", "words": "close", "typed": "correct", "to": "hand_over", "read_back": "hand_over",
    "judged": "explain",
}  # fmt: skip
NEEDED_BESIDE = {
    "correct": {"typed": "6.1", "reason": "Misread"},
    "hand_over": {"to": "Jon Vik", "read_back": "Guard open"},
    "go_back": {"reason": "Slipped"},
    "accept": {"reason": "Near enough for this film"},
    "explain": {"judged": "whole"},
}


@pytest.mark.parametrize(("top", "record", "key"), examples(), ids=lambda value: getattr(value, "name", ""))
def test_every_worked_example_works_where_it_belongs(top: Record, record: Record, key: Key) -> None:
    data = parsed(EXTRA.get(record.name, TEXTS[top.name]))
    places = places_of(data, top, record)
    assert places, f"no {record.name} in the whole text"
    outcomes = []
    for path in places:
        tried = put(data, path, record, key)
        if record.name == "an act":
            tried = with_act(tried, path, key)
        errors = [one for one in findings_of(top, written(tried)) if one.severity is Severity.ERROR]
        if not errors:
            return
        outcomes.append([f"{one.rule}: {one.message}" for one in errors])
    pytest.fail(f"{key.example!r}: {outcomes[:3]}")


def with_act(data: Any, path: Path_, key: Key) -> Any:
    """The act of this key alone, with what it needs beside it."""
    node = data
    for part in path[:-1]:
        node = node[part]
    act = ACT_BESIDE.get(key.name, key.name)
    own = parsed(key_of_act(act).example) if act != key.name else {}
    node[path[-1]] = {**NEEDED_BESIDE.get(act, {}), **own, **parsed(key.example)}
    return data


def key_of_act(name: str) -> Key:
    from runner.procedure.language.files import ACT

    found = key_of(ACT, name)
    assert found is not None
    return found


def test_no_code_is_broken_over_two_lines() -> None:
    inside = False
    for number, line in enumerate(page().split("\n"), 1):
        if line.startswith("```"):
            inside = not inside
        assert inside or line.startswith("```") or line.count("`") % 2 == 0, f"line {number}: {line}"
