"""Every bad document gives exactly the findings that its remarks expect, and every row of the table has a document."""

from pathlib import Path

import pytest

from runner.procedure.faults import FAULTS
from runner.procedure.faults.scenarios import SCENARIO_FAULTS
from runner.procedure.finding import Finding
from tests.documents.markers import Expected
from tests.procedure.documents import BAD, expectations, outcome


def matches(finding: Finding, path: str, one: Expected) -> bool:
    """True where a finding is the expected one; a column counts where it is named."""
    place = finding.place
    same_place = (place.path, place.line) == (path, one.line) and one.column in (0, place.column)
    return same_place and (finding.severity.word, finding.rule) == (one.severity, one.rule)


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name.removesuffix(".procedure.yaml"))
def test_a_bad_document_gives_the_findings_that_it_expects(path: Path) -> None:
    findings, texts = outcome(path)
    left = list(findings)
    missing = []
    wanted = expectations(texts)
    for file, one in wanted:
        hit = next((finding for finding in left if matches(finding, file, one)), None)
        if hit is None:
            missing.append(f"{file}:{one.line}:{one.column} {one.rule}")
        else:
            left.remove(hit)
    said = [f"{finding.place} {finding.severity.word} {finding.rule}: {finding.message}" for finding in left]
    assert (missing, said) == ([], [])
    assert wanted


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name.removesuffix(".procedure.yaml"))
def test_every_finding_lies_inside_its_file(path: Path) -> None:
    findings, texts = outcome(path)
    for finding in findings:
        lines = texts[finding.place.path].removeprefix("\ufeff").split("\n")
        assert 1 <= finding.place.line <= len(lines)
        assert 1 <= finding.place.column <= len(lines[finding.place.line - 1]) + 1


def test_there_are_at_least_sixty_traps() -> None:
    assert len(BAD) >= 60


def test_every_row_of_the_table_has_a_bad_document_and_every_finding_a_row() -> None:
    found = {finding.rule: finding.severity for path in BAD for finding in outcome(path).findings}
    assert found.keys() <= FAULTS.keys()
    # Two need a procedure beside the file (test_job.py, test_answers.py), one a file too large to keep (test_source.py).
    from_elsewhere = {"other-procedure", "entry-unfit", "too-large"}
    from_elsewhere |= {row.rule for row in SCENARIO_FAULTS}  # tests/lint/test_scenarios.py
    assert FAULTS.keys() - found.keys() == from_elsewhere
    assert all(FAULTS[rule].severity is severity for rule, severity in found.items())
