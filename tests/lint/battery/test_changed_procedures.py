"""Changed procedures: no traceback, no finding outside the file, none that takes long; thousands behind `--long`."""

from random import Random
from time import process_time

import pytest

from runner.lint.linter import lint
from runner.lint.output import FORMATS
from tests.lint.battery.changed import BASES, FRAGMENTS, change

MOST_SECONDS = 2.0
"""Of this process for one text; the slowest takes a small part of it, so a machine under load does not fail the battery."""

FEW, MANY = range(4), range(4, 200)
EACH = 50


def look_at(seed: int) -> None:
    """Lint fifty changed texts of one seed."""
    random = Random(seed)
    for number in range(EACH):
        name, text = BASES[random.randrange(len(BASES))]
        text = change(text, random)
        began = process_time()
        linted = lint(text, name, lambda path: FRAGMENTS.get(path.rpartition("/")[2]))
        took = process_time() - began
        where = f"text {number} of seed {seed}, from {name}"
        assert took < MOST_SECONDS, f"{where} took {took:.1f} s"
        for finding in linted.findings:
            lines = linted.texts[finding.place.path].splitlines() or [""]
            assert 1 <= finding.place.line <= len(lines) + 1, (where, finding)
            line = lines[finding.place.line - 1] if finding.place.line <= len(lines) else ""
            assert 1 <= finding.place.column <= len(line) + 1, (where, finding)
            assert finding.message, where
        assert FORMATS["text"].render(linted.findings, linted.texts, False) or not linted.findings


@pytest.mark.parametrize("seed", FEW)
def test_a_changed_procedure_is_answered_with_findings_inside_it(seed: int) -> None:
    look_at(seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", MANY)
def test_ten_thousand_changed_procedures_are(seed: int) -> None:
    look_at(seed)
