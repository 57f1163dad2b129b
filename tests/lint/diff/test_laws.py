"""Laws of the comparison, on the procedure that has nearly every word of the language in it and on changed copies of it."""

import json
import random
import re
from collections import Counter

import pytest

from runner.lint.diff.change import Diff, Weight
from runner.lint.diff.differ import diff
from runner.lint.diff.rows import ROWS
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.procedure.reference import whole
from runner.procedure.source import read
from tests.procedure.trees import mutate

PAIRED = {row.name for row in ROWS if row.paired}


def compiled(text: str) -> Procedure | None:
    return compile_procedure(text, whole.PROCEDURE_PATH, {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}.get).procedure


def plain() -> Procedure:
    found = compiled(whole.PROCEDURE_TEXT)
    assert found is not None
    return found


def told(found: Diff, weight: Weight) -> Counter[str]:
    return Counter(change.kind for change in found.of(weight) if change.kind in PAIRED)


def check(one: Procedure, other: Procedure) -> Diff:
    """Weaker one way is stronger the other way, and every change has words, a reason and places."""
    there, back = diff(one, other), diff(other, one)
    assert told(there, Weight.WEAKER) == told(back, Weight.STRONGER)
    assert told(there, Weight.STRONGER) == told(back, Weight.WEAKER)
    meant = [{c.kind for c in found.changes if c.weight is not Weight.UNTOLD} for found in (there, back)]
    assert bool(meant[0]) == bool(meant[1])
    for change in there.changes:
        assert change.words
        assert change.reason
        assert change.old_place is not None
        assert change.new_place is not None
    return there


FIRST_LINE = 19
"""The head above it is left as it is."""

NUMBER = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?(?=[\w\s,\]}%]|$)")


def other_numbers(text: str, chance: random.Random) -> str:
    """One number of the text doubled or halved, as a slip of an editor would."""
    spots = list(NUMBER.finditer(text, text.index("cautions")))
    spot = chance.choice(spots)
    return text[: spot.start()] + f"{float(spot.group()) * chance.choice((0.5, 2)):g}" + text[spot.end() :]


def fewer_lines(text: str, chance: random.Random) -> str:
    """One line of the text gone."""
    lines = text.split("\n")
    del lines[chance.randrange(FIRST_LINE, len(lines))]
    return "\n".join(lines)


def fewer_keys(text: str, chance: random.Random) -> str:
    """One key of a small map gone."""
    spots = list(re.finditer(r", [a-z_]+: (?:[^,{}\[\]]+|\[[^\[\]]*\])(?=[,}])", text))
    spot = chance.choice(spots)
    return text[: spot.start()] + text[spot.end() :]


@pytest.mark.parametrize("seed", range(4))
def test_slips_of_an_editor_are_told_the_same_both_ways(seed: int) -> None:
    chance, changed = random.Random(seed), 0
    for _ in range(25):
        text = whole.PROCEDURE_TEXT
        for _ in range(chance.choice((1, 1, 2, 4))):
            text = chance.choice((other_numbers, fewer_lines, fewer_keys))(text, chance)
        other = compiled(text)
        if other is not None:
            changed += bool(check(plain(), other).changes)
    assert changed >= 5


@pytest.mark.parametrize("seed", range(2))
def test_odd_trees_are_told_the_same_both_ways(seed: int) -> None:
    chance, seen = random.Random(seed), 0
    for _ in range(120):
        root = read(whole.PROCEDURE_TEXT, "x").root
        assert root is not None
        mutate(root, chance)
        other = compiled(json.dumps(root, ensure_ascii=False))
        if other is not None:
            seen += 1
            check(plain(), other)
    assert seen >= 3


WEAKER = [
    ("repeat", 'repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}', 'repeat: {until: "core_pressure >= 5.8 [bar]", at_most: 3, else: leak}'),
    ("repeat", 'repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}', 'repeat: {until: "core_pressure >= 6 [bar]", at_most: 9, else: leak}'),
    ("repeat", 'repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}', 'repeat: {until: "core_pressure >= 6 [bar]", at_most: 3}'),
    ("repeat", '        repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}\n', ""),
    ("wait", "wait: {at_least: 30 s, at_most: 5 min}", "wait: {at_least: 20 s, at_most: 5 min}"),
    ("wait", "wait: {at_least: 30 s, at_most: 5 min}", "wait: {at_least: 30 s, at_most: 6 min}"),
    ("ask", "        wait: {at_least: 30 s, at_most: 5 min}\n", ""),
    ("trouble-blocking", "then: stop, blocking: true", "then: stop"),
    ("trouble", "        trouble:\n          - {sign: The roll swings, do: Lower it to the floor and unhook it., back_to: fetch-crane}\n", ""),
    ("state-one-owner", "of: [free, carrying], at_end: free, one_owner: true, keeps: true", "of: [free, carrying], at_end: free, keeps: true"),
    ("phase-make-safe", "      - {do: Press the emergency stop., makes: {unwind_drive: stopped}}\n    steps", "    steps"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "old", "new"), WEAKER)
def test_each_is_weaker_and_nothing_else(kind: str, old: str, new: str) -> None:
    assert whole.PROCEDURE_TEXT.count(old) == 1
    other = compiled(whole.PROCEDURE_TEXT.replace(old, new))
    assert other is not None
    found = check(plain(), other)
    assert [(c.kind, c.weight) for c in found.changes if c.weight is not Weight.UNTOLD] == [(kind, Weight.WEAKER)]
