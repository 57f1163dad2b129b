"""Text to nodes: places agree with another parser, and nothing is guessed."""

from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from runner.procedure import source
from runner.procedure.finding import Finding
from runner.procedure.nodes import Map, Seq, in_braces, key_place, node_place, value_place
from runner.procedure.source import decode, plain_lines, read
from tests.procedure.documents import BAD, GOOD


def places(node: Map | Seq) -> list[tuple[int, int, str]]:
    """(line, column, text) of every key and value, from 1, in the order of the text."""
    found: list[tuple[int, int, str]] = []
    entries: Any = node.items() if isinstance(node, Map) else enumerate(node)
    for key, value in entries:
        if isinstance(node, Map):
            at = key_place(node, key)
            found.append((at.line, at.column, key))
        at = value_place(node, key)
        found.append((at.line, at.column, value if isinstance(value, str) else type(value).__name__))
        if isinstance(value, Map | Seq):
            assert node_place(value) == at
            found += places(value)
    return found


def composed(node: Any) -> list[tuple[int, int, str]]:
    """The same from nodes of the pure Python parser of ruamel.yaml, which shares no code with the C parser."""
    found: list[tuple[int, int, str]] = []
    pairs = node.value if node.id == "mapping" else [(None, value) for value in node.value]
    names = {"mapping": "Map", "sequence": "Seq"}
    for key, value in pairs:
        if key is not None:
            found.append((key.start_mark.line + 1, key.start_mark.column + 1, key.value))
        text = value.value if value.id == "scalar" else names[value.id]
        found.append((value.start_mark.line + 1, value.start_mark.column + 1, text))
        if value.id != "scalar":
            found += composed(value)
    return found


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.name)
def test_places_and_texts_agree_with_another_parser(path: Path) -> None:
    text = plain_lines(path.read_bytes().decode("utf-8"))
    root = read(text, path.name).root
    assert root is not None
    # A value that is left empty has no place of its own; both parsers put it behind its key, but not at the same blank.
    theirs = [entry for entry in composed(YAML(typ="safe", pure=True).compose(text)) if entry[2]]
    assert [entry for entry in places(root) if entry[2]] == theirs


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.name)
def test_the_parser_without_c_gives_the_same(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = path.read_text(encoding="utf-8")
    with_c = read(text, path.name)
    monkeypatch.setattr(source, "event_source", pure_events)
    without = read(text, path.name)
    assert with_c.root is not None
    assert without.root is not None
    assert places(with_c.root) == places(without.root)


def pure_events(text: str) -> Any:
    events = YAML(typ="safe", pure=True).parse(text)
    return lambda: next(events)


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name)
def test_the_parser_without_c_never_raises_either(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = decode(path.read_bytes(), path.name)
    if isinstance(text, Finding):
        return
    monkeypatch.setattr(source, "event_source", pure_events)
    found = read(text, path.name)
    assert found.root is not None or found.findings
    for finding in found.findings:
        assert 1 <= finding.place.line <= text.count("\n") + 1


def test_columns_count_characters() -> None:
    root = read("title: {ä🔧: [Ω, x]}\n", "a").root
    assert root is not None
    inner = root["title"]
    assert key_place(inner, "ä🔧").column == 9
    assert value_place(inner["ä🔧"], 1).column == 17


def test_braces_are_told_from_lines() -> None:
    root = read("a: {b: c}\nd:\n  e: f\ng: [h]\n", "a").root
    assert root is not None
    assert [in_braces(root[key]) for key in ("a", "d", "g")] == [True, False, True]


def test_bytes_that_are_no_utf_8_are_placed() -> None:
    found = decode(b"a: b\nc: \xc3\xa4\xff", "x")
    assert isinstance(found, Finding)
    assert (found.rule, found.place.line, found.place.column) == ("not-utf8", 2, 5)
    utf_16 = decode("a: b".encode("utf-16"), "x")
    assert isinstance(utf_16, Finding)
    assert utf_16.rule == "not-utf8"
    assert decode(b"\xef\xbb\xbfa: b", "x") == "a: b"


def test_a_huge_list_of_faults_is_cut_short() -> None:
    assert len(read("a: 1\n" * 5000, "x").findings) == source.MOST


def rules(text: str) -> list[str]:
    return [finding.rule for finding in read(text, "x").findings]


def test_a_text_of_more_than_two_mebibytes_is_refused() -> None:
    fits = "title: x\n" + "#" * (source.MOST_BYTES - 10) + "\n"
    assert len(fits) == source.MOST_BYTES
    assert rules(fits) == []
    assert rules(fits + "#") == ["too-large"]
    assert rules("title: " + "ä" * (source.MOST_BYTES // 2) + "\n") == ["too-large"]


@pytest.mark.parametrize(
    "text", ["a: " + "[" * 100_000, "a: " + "[1, " * 100_000, "a:\n" + "- " * 100_000, "a: " + "{b: " * 100_000]
)
def test_endless_nesting_is_refused_at_once(text: str) -> None:
    assert rules(text) == ["too-deep"]
    (finding,) = read(text, "x").findings
    assert finding.place.column <= 4 * source.MOST_LEVELS + 4


def test_forty_levels_are_allowed() -> None:
    deep = source.MOST_LEVELS - 1  # the top map is a level too
    assert rules("a: " + "[" * deep + "]" * deep) == []
    assert rules("a: " + "[" * (deep + 1) + "]" * (deep + 1)) == ["too-deep"]
