"""The tolerant tree: the same as the exact reading where the text is sound, and something sensible wherever it is not."""

import io
from time import perf_counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from runner.editor.outline import outline
from runner.editor.seen import RECORDS, visit
from runner.editor.tree import Entries, Pairs, Scalar, Tree
from runner.lint.kinds import kind_of
from runner.procedure.nodes import Map, Seq
from runner.procedure.source import read
from tests.editor.shelf import DOCUMENTS, PROCEDURES

FILES = sorted([*DOCUMENTS.rglob("*.yaml"), *PROCEDURES.glob("*.yaml")])
NOT_READ_ALIKE = {"anchor", "tag", "duplicate-key"}
"""What the compiler refuses but steps over; here it stays a part of the text."""


def data(node: Tree | None) -> Any:
    match node:
        case None:
            return ""
        case Scalar():
            return node.value
        case Pairs(pairs=pairs):
            return {pair.key.value: data(pair.value) for pair in pairs}
        case Entries(entries=entries):
            return [data(entry) for entry in entries]


def exact(node: Any) -> Any:
    if isinstance(node, Map):
        return {key: exact(value) for key, value in node.items()}
    return [exact(entry) for entry in node] if isinstance(node, Seq) else node


def starts(node: Tree | None) -> Any:
    match node:
        case Pairs(pairs=pairs):
            return {pair.key.value: (pair.key.start, starts(pair.value)) for pair in pairs}
        case Entries(entries=entries):
            return [starts(entry) for entry in entries]
        case None:
            return None
        case _:
            return node.start


def test_a_sound_text_is_read_as_the_compiler_reads_it() -> None:
    compared = 0
    for path in FILES:
        text = path.read_bytes().decode("utf-8", "replace")
        source = read(text, str(path))
        if source.root is None or {finding.rule for finding in source.findings} & NOT_READ_ALIKE:
            continue
        assert data(outline(text)) == exact(source.root), path
        compared += 1
    assert compared > 150


def test_every_key_and_value_begins_where_the_compiler_says() -> None:
    text = (PROCEDURES / "change-roll.procedure.yaml").read_text(encoding="utf-8")
    lines = text.split("\n")
    begins = [0]
    for line in lines:
        begins.append(begins[-1] + len(line) + 1)

    def placed(node: Any, at: tuple[int, int] | None) -> Any:
        if isinstance(node, Map):
            return {
                key: (begins[spot[0]] + spot[1], placed(node[key], (spot[2], spot[3])))
                for key, spot in node.places.items()
            }
        if isinstance(node, Seq):
            return [placed(entry, spot) for entry, spot in zip(node, node.places, strict=True)]
        return None if at is None else begins[at[0]] + at[1]

    root = read(text, "change-roll").root
    assert root is not None
    assert starts(outline(text)) == placed(root, None)


texts = st.text(st.sampled_from("ab: #-'\"\\{}[],|>é𝄞\n"), max_size=12)
trees = st.recursive(
    texts,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text("abc", min_size=1, max_size=3), inner, max_size=4)
    ),
    max_leaves=12,
)


@given(st.dictionaries(st.text("abc", min_size=1, max_size=3), trees, min_size=1, max_size=4), st.booleans())
@settings(max_examples=250, deadline=None)
def test_what_a_yaml_library_writes_is_read_back_as_the_compiler_does(tree: dict[str, Any], flow: bool) -> None:
    # the writer is ruamel.yaml, of which nothing here makes use
    yaml = YAML(typ="safe", pure=True)
    yaml.default_flow_style = flow
    yaml.width = 4096
    out = io.StringIO()
    yaml.dump(tree, out)
    source = read(out.getvalue(), "written")
    if source.root is None or source.findings:
        return
    assert data(outline(out.getvalue())) == exact(source.root)


@given(st.text(max_size=200) | texts.map(lambda one: one * 20))
@settings(max_examples=300, deadline=None)
def test_any_text_at_all_has_a_tree_inside_the_text(text: str) -> None:
    for kind, record in RECORDS.items():
        for seen in visit(outline(text), record):
            assert 0 <= seen.scalar.start <= seen.scalar.end <= len(text), kind


@pytest.mark.parametrize(
    "text", ["[" * 3000, "{a: " * 3000, "- " * 3000, "a:\n" * 10, "\ufeff", "'", '"\\', "|", "? a\n: b", "---", "%"]
)
def test_odd_texts_neither_fail_nor_nest_without_end(text: str) -> None:
    outline(text)


@pytest.mark.parametrize(
    ("broken", "after"),
    [
        ("needs: {drive: stop", "an open brace"),
        ("do: 'Stop the", "an open quote"),
        ('do: "Stop the', "an open double quote"),
        ("cautions: [hang", "an open bracket"),
        ("ne", "half a key"),
        ("needs: {drive", "half a key in braces"),
        ("when: }{", "brackets the wrong way round"),
    ],
)
def test_what_is_half_typed_leaves_the_steps_behind_it_whole(broken: str, after: str) -> None:
    text = f"phases:\n  - phase: One\n    steps:\n      - id: first\n        {broken}\n        why: x\n      - id: second\n        do: Go on.\n"
    ids = [
        seen.scalar.value
        for seen in visit(outline(text), RECORDS[kind_of("a.procedure.yaml")])
        if seen.site == ("a step", "id", "value")
    ]
    assert ids == ["first", "second"], after


@pytest.mark.parametrize(
    "piece",
    [
        "a ",
        "a",
        " ",
        "[,",
        "{a: b, ",
        "'",
        '"\\',
        "- ",
        "a:\n",
        "  x\n",
        "#\n",
        "a: {\n",
        "? ",
        "|\n",
        "a: 'b\n",
        "- [b\n",
        "\n \n",
        "x: >\n",
        "[{",
        "a: b\n c\n",
    ],
)
def test_a_tree_costs_no_more_than_the_length_of_the_text(piece: str) -> None:
    text = "k: a" + piece * (200_000 // len(piece))
    began = perf_counter()
    outline(text)
    assert perf_counter() - began < 4  # a walk that is not linear takes minutes
