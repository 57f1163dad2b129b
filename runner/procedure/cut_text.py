"""Texts that a comment cuts off without a word: `do: Use tool #3` loses its number.

Only a `#` that touches the next character is looked at; a remark has a blank after it.
"""

import re

from runner.procedure.finding import Finding, Place, Severity
from runner.procedure.nodes import Map, Node, Seq
from runner.procedure.spots import spot_at

MOST = 500
"""So many are looked at."""

TOUCHING = re.compile(r"#(?=[^\s#!=-])")
"""A `#` that touches what follows; it begins a comment where a blank stands before it."""


def texts_cut_by_comment(root: Map) -> list[Finding]:
    """A warning for each plain text that ends where a touching `#` begins."""
    text = root.origin.text
    spots = [
        found.start() for found in TOUCHING.finditer(text) if text[found.start() - 1 : found.start()] in (" ", "\t")
    ]
    if not spots:
        return []
    ends = plain_ends(root)
    findings = []
    for spot in spots[:MOST]:
        line, column = spot_at(text, spot)
        before = text[spot - column : spot].rstrip()
        if (line, len(before)) in ends:
            place = Place(root.origin.path, line + 1, column + 1)
            message = "the text ends before the `#`: what follows is taken as a comment"
            hint = "Put the text in quotes; for a comment put a blank after the #."
            findings.append(Finding("comment-cuts-text", Severity.WARNING, message, place, hint))
    return findings


def plain_ends(root: Map) -> set[tuple[int, int]]:
    """(line, column) after every scalar that could be plain and stands on one line."""
    ends: set[tuple[int, int]] = set()
    waiting: list[Node] = [root]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Map):
            for key, value in node.items():
                if isinstance(value, str):
                    line, column = node.places[key][2:]
                    ends.add((line, column + len(value)))
                else:
                    waiting.append(value)
        elif isinstance(node, Seq):
            for (line, column), value in zip(node.places, node, strict=True):
                if isinstance(value, str):
                    ends.add((line, column + len(value)))
                else:
                    waiting.append(value)
    return ends
