"""What is no change of meaning is no change: layout, quoting, order of keys, comments, fragments, formulas in other words."""

import json
import random
from pathlib import Path
from typing import Any

import pytest

from runner.lint.diff.change import Weight
from runner.lint.diff.differ import diff
from runner.lint.rule import Rule, all_rules
from runner.procedure.compile import compile_procedure
from runner.procedure.source import read
from tests.lint.diff.written import FOLDER, MAIN, Edit, compiled, diff_of, plain, text_of
from tests.lint.examples import whole
from tests.procedure.documents import GOOD
from tests.procedure.documents import compiled as document

SHIPPED = sorted(FOLDER.glob("*.procedure.yaml"))
ORDERED = {"columns"}
"""Maps whose order says in which order the rows are written."""


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.name)
def test_a_document_does_not_differ_from_itself(path: Path) -> None:
    one, other = document(path).procedure, document(path).procedure
    assert one is not None
    assert other is not None
    assert diff(one, other).changes == ()


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_a_shipped_procedure_does_not_differ_from_itself(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert diff(compiled(text, path=path.name), compiled(text, path=path.name)).changes == ()


@pytest.mark.parametrize("rule", all_rules().values(), ids=lambda rule: rule.id)
def test_an_example_of_a_lint_rule_does_not_differ_from_itself(rule: Rule) -> None:
    for example in (rule.page.wrong, rule.page.right):
        one, other = (compile_procedure(whole(example), MAIN, lambda _: None).procedure for _ in range(2))
        assert (one is None) == (other is None)
        assert one is None or other is None or diff(one, other).changes == ()


def shuffled(node: Any, chance: random.Random, key: str = "") -> Any:
    """The same tree with the keys of its maps in another order; the first key stays, since it says what file it is."""
    if isinstance(node, dict):
        keys = list(node)
        if key == "":
            first, rest = keys[:1], keys[1:]
            chance.shuffle(rest)
            keys = first + rest
        elif key not in ORDERED:
            chance.shuffle(keys)
        return {name: shuffled(node[name], chance, name) for name in keys}
    return [shuffled(part, chance, "-") for part in node] if isinstance(node, list) else str(node)


@pytest.mark.parametrize("seed", range(3))
def test_braces_quotes_and_the_order_of_keys_change_nothing(seed: int) -> None:
    root = read(text_of(MAIN), MAIN).root
    assert root is not None
    text = json.dumps(shuffled(root, random.Random(seed)), ensure_ascii=False, indent=1)
    without_comments = [change for change in diff(plain(), compiled(text)).changes if change.kind != "silenced-finding"]
    assert without_comments == []


def test_a_comment_that_allows_a_finding_is_told_and_no_other_comment() -> None:
    assert diff_of(Edit("", "status: draft\n", "# A word to the reader.\nstatus: draft\n")).changes == ()
    allow = "  # lint: allow unit-odd, it is wanted so\n  hook_load:\n"
    (change,) = diff_of(Edit("", "  hook_load:\n", allow)).changes
    assert (change.kind, change.weight) == ("silenced-finding", Weight.CHANGED)
    assert change.new_place is not None
    assert change.now == "unit-odd: it is wanted so"


def test_a_fragment_written_out_in_its_place_changes_nothing() -> None:
    use = "        - {use: take-roll-off.fragment.yaml, with: {side: unwind, other: rewind, roll: old roll, place: rest stand}}\n"
    body = text_of("take-roll-off.fragment.yaml").split("steps:\n", 1)[1]
    for name, given in (("side", "unwind"), ("other", "rewind"), ("roll", "old roll"), ("place", "rest stand")):
        body = body.replace(f"<{name}>", given)
    out = "".join("      " + line + "\n" for line in body.splitlines())
    assert diff_of(Edit("", use, out)).changes == ()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("formula: 0.3 * feed_speed", "formula: feed_speed * (0.3)"),
        ('formula: "roll_mass + 48 [kg] + 9 [kg]"', 'formula: "0.057 [t] + roll_mass"'),
        ("formula: set_tension * web_width * bar_factor(unwind_path, 'tension bar')",
         "formula: bar_factor(unwind_path, 'tension bar') * (web_width * set_tension)"),
        ("formula: pi * (roll_od^2 - core_od^2) / (4 * caliper)", "formula: 0.25 * (roll_od^2 - core_od^2) / caliper * pi"),
        ("formula: job_length / run_speed", "formula: job_length * 2 / (run_speed + run_speed)"),
        ('limit: "<= 800 [kg]"', 'limit: "<= 0.8 [t]"'),
        ("unit: deg, within: [45, 90]", 'unit: deg, within: [45, "0.5 * pi * 1 [rad]"]'),
        ("when: substrate == 'BOPP film' or substrate == 'PE film'", "when: \"'PE film' == substrate or not (substrate != 'BOPP film')\""),
        ("expect: 4 min", "expect: 240 s"),
    ],
)  # fmt: skip
def test_the_same_in_other_words_changes_nothing(old: str, new: str) -> None:
    text = text_of(MAIN)
    assert old in text
    if text.count(old) != 1:
        text = text.replace(old, new, 1)
        assert diff(plain(), compiled(text)).changes == ()
        return
    assert diff_of(Edit("", old, new)).changes == ()


def test_renumbering_alone_changes_nothing() -> None:
    extra = "  - phase: Meet\n    press: running\n    steps:\n      - {id: meet, by: lead, do: Greet the crew.}\n"
    told = diff_of(Edit("", "phases:\n", "phases:\n" + extra)).changes
    assert {(change.kind, change.subject) for change in told} == {
        ("phase", "phase Meet"), ("step", "step 1.1 meet"), ("revision-not-raised", "procedure"),
    }  # fmt: skip
