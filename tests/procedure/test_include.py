"""Fragments: found by their path, filled with their parameters, pinned with the procedure."""

import pytest

from runner.procedure.compile import compile_procedure
from runner.procedure.model import steps_of

HEAD = """\
format: 1
id: x
title: X
revision: 1
equipment: Line 3
purpose: It is done
people: {unwind: Operator}
states: {unwind_guard: {of: [open, closed]}}
phases:
  - phase: Close
    steps:
"""

SIDE = """\
fragment: 1
id: side
title: Close one side
parameters: [side]
steps:
  - {id: close-<side>, by: <side>, do: Close the <side> guard., makes: {<side>_guard: closed}}
"""


def use(entry: str) -> str:
    return f"{HEAD}      - {entry}\n"


def test_parameters_fill_texts_and_keys() -> None:
    files = {"line/side.fragment.yaml": SIDE}
    result = compile_procedure(
        use("{use: side.fragment.yaml, with: {side: unwind}}"), "line/x.procedure.yaml", files.get
    )
    assert result.findings == ()
    assert result.procedure is not None
    step = steps_of(result.procedure)[0]
    assert (step.id, step.by, step.do.text, step.makes) == (
        "close-unwind",
        "unwind",
        "Close the unwind guard.",
        ((0, 1),),
    )
    assert (step.place.path, step.place.line) == ("line/side.fragment.yaml", 6)
    assert [path for path, _ in result.procedure.sources] == ["x.procedure.yaml", "side.fragment.yaml"]


@pytest.mark.parametrize(
    ("procedure", "asked"),
    [
        ("x.procedure.yaml", "sub/side.fragment.yaml"),
        ("a/b/x.procedure.yaml", "a/b/sub/side.fragment.yaml"),
        ("C:\\line\\x.procedure.yaml", "C:\\line\\sub/side.fragment.yaml"),
    ],
)
def test_a_fragment_is_asked_for_in_the_folder_of_the_procedure(procedure: str, asked: str) -> None:
    wanted: list[str] = []

    def fetch(path: str) -> str:
        wanted.append(path)
        return SIDE

    compile_procedure(use("{use: ./sub/side.fragment.yaml, with: {side: unwind}}"), procedure, fetch)
    assert wanted == [asked]


def test_a_fragment_is_relative_to_the_file_that_uses_it() -> None:
    outer = "fragment: 1\nid: outer\ntitle: Outer\nsteps:\n  - {use: deep/inner.fragment.yaml}\n"
    inner = "fragment: 1\nid: inner\ntitle: Inner\nsteps:\n  - {id: look, do: Look.}\n"
    files = {"sub/outer.fragment.yaml": outer, "sub/deep/inner.fragment.yaml": inner}
    result = compile_procedure(use("{use: sub/outer.fragment.yaml}"), "x.procedure.yaml", files.get)
    assert result.procedure is not None
    assert [path for path, _ in result.procedure.sources] == ["x.procedure.yaml", *files]


def test_a_pinned_text_compiles_to_the_same_procedure_with_its_pinned_fragments() -> None:
    files = {"line/side.fragment.yaml": SIDE}
    text = use("{use: side.fragment.yaml, with: {side: unwind}}")
    first = compile_procedure(text, "line/x.procedure.yaml", files.get).procedure
    assert first is not None
    (path, pinned), *fragments = first.sources
    again = compile_procedure(pinned, path, dict(fragments).get).procedure
    assert again is not None
    assert (again.digest, again.sources) == (first.digest, first.sources)


def test_a_fragment_is_read_once_however_often_it_is_used() -> None:
    wanted: list[str] = []

    def fetch(path: str) -> str:
        wanted.append(path)
        return SIDE.replace("by: <side>, ", "").replace(", makes: {<side>_guard: closed}", "")

    entries = "".join(f"      - {{use: side.fragment.yaml, with: {{side: s{number}}}}}\n" for number in range(30))
    result = compile_procedure(HEAD + entries, "x.procedure.yaml", fetch)
    assert result.procedure is not None
    assert len(steps_of(result.procedure)) == 30
    assert wanted == ["side.fragment.yaml"]


def test_fragments_that_multiply_are_stopped() -> None:
    files = {}
    for level in range(1, 5):
        uses = f"  - {{use: f{level + 1}.fragment.yaml}}\n" * 30
        files[f"f{level}.fragment.yaml"] = f"fragment: 1\nid: f\ntitle: F\nsteps:\n{uses}"
    files["f5.fragment.yaml"] = "fragment: 1\nid: f\ntitle: F\nsteps:\n  - {id: look, do: Look.}\n"
    result = compile_procedure(use("{use: f1.fragment.yaml}"), "x.procedure.yaml", files.get)
    assert result.procedure is None
    assert "fragment-too-deep" in {finding.rule for finding in result.findings}


def test_a_finding_inside_a_fragment_says_where_it_is_used() -> None:
    outer = "fragment: 1\nid: outer\ntitle: O\nsteps:\n  - {use: side.fragment.yaml, with: {side: unwind}}\n"
    inner = SIDE.replace("closed}", "shut}")
    files = {"line/outer.fragment.yaml": outer, "line/side.fragment.yaml": inner}
    text = use("{use: outer.fragment.yaml}") + '      - {id: look, do: "Look at {gap}."}\n'
    inside, outside = compile_procedure(text, "line/x.procedure.yaml", files.get).findings[::-1]
    assert (inside.place.path, inside.rule) == ("line/x.procedure.yaml", "unknown-name")
    assert "Used at" not in inside.hint
    assert (outside.place.path, outside.place.line) == ("line/side.fragment.yaml", 6)
    assert outside.hint.endswith(" Used at line/x.procedure.yaml:12.")


def test_one_finding_names_all_lines_that_use_its_fragment() -> None:
    entry = "{use: side.fragment.yaml, with: {side: unwind}}"
    text = use(entry) + f"      - {entry}\n" * 4
    broken = SIDE.replace("do: Close", "doo: Close")
    findings = compile_procedure(text, "x.procedure.yaml", {"side.fragment.yaml": broken}.get).findings
    (unknown,) = [finding for finding in findings if finding.rule == "unknown-key"]
    assert unknown.hint.endswith("Used at x.procedure.yaml:12, x.procedure.yaml:13, x.procedure.yaml:14 and 2 more.")
