"""Every scenario document gives exactly the findings that its remarks expect, and every shipped scenario gives none."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft7Validator

from runner.lint.linter import lint
from runner.procedure.faults.scenarios import SCENARIO_FAULTS
from runner.procedure.language.scenario import FAULT_KINDS, SCENARIO
from runner.procedure.reference import whole
from runner.procedure.reference.keys import records_in
from runner.procedure.reference.scenarios import SCENARIO_PATH, SCENARIO_TEXT
from runner.procedure.scenarios.reading import read_scenario
from runner.procedure.schema import name_of, scenario_written
from tests.documents.markers import expected

ROOT = Path(__file__).parents[2]
DOCUMENTS = sorted((Path(__file__).parent / "scenario_documents").glob("*.scenario.yaml"))
SHIPPED = sorted((ROOT / "procedures" / "training").glob("*.scenario.yaml"))


def fetch(name: str) -> str | None:
    path = Path(name)
    return path.read_text(encoding="utf-8") if path.is_file() else None


def named(path: Path) -> str:
    return path.name.removesuffix(".scenario.yaml")


@pytest.mark.parametrize("path", DOCUMENTS, ids=named)
def test_a_document_gives_the_findings_that_it_expects(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = lint(text, str(path), fetch).findings
    wanted = [(one.line, one.severity, one.rule) for one in expected(text)]
    assert sorted((f.place.line, f.severity.word, f.rule) for f in found) == sorted(wanted), found
    columns = {(one.line, one.rule): one.column for one in expected(text) if one.column}
    assert all(columns.get((f.place.line, f.rule), f.place.column) == f.place.column for f in found)


def test_every_fault_of_scenarios_has_a_document() -> None:
    texts = "".join(path.read_text(encoding="utf-8") for path in DOCUMENTS)
    assert {row.rule for row in SCENARIO_FAULTS if f"[{row.rule}" in texts} == {row.rule for row in SCENARIO_FAULTS}


@pytest.mark.parametrize("path", SHIPPED, ids=named)
def test_a_shipped_scenario_has_no_finding(path: Path) -> None:
    assert lint(path.read_text(encoding="utf-8"), str(path), fetch).findings == ()


def test_the_shipped_scenarios_have_every_kind_of_fault() -> None:
    kinds = set()
    for path in SHIPPED:
        scenario = read_scenario(path.read_text(encoding="utf-8"), path.name).scenario
        assert scenario is not None
        kinds |= {fault.kind for fault in scenario.faults}
    assert kinds == set(FAULT_KINDS)
    assert len(SHIPPED) >= 6


def test_the_schema_file_is_the_one_that_the_table_gives_and_takes_what_is_shipped() -> None:
    """When this fails: python -m runner.procedure.schema scenario > schemas/scenario.schema.json"""
    from ruamel.yaml import YAML

    written = (ROOT / "schemas" / "scenario.schema.json").read_text(encoding="utf-8")
    assert written == scenario_written()
    judge = Draft7Validator(json.loads(written))
    for path in SHIPPED:
        assert list(judge.iter_errors(YAML(typ="safe").load(path.read_text(encoding="utf-8")))) == []


def test_every_record_of_a_scenario_has_a_name_of_its_own() -> None:
    names = [name_of(record, False) for record in records_in(SCENARIO)]
    assert len(names) == len(set(names))


def test_the_scenario_of_the_reference_fits_the_procedure_of_the_reference() -> None:
    texts = {whole.PROCEDURE_PATH: whole.PROCEDURE_TEXT, whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}
    assert lint(SCENARIO_TEXT, SCENARIO_PATH, texts.get).findings == ()


@pytest.mark.parametrize("key", [(record, key) for record in records_in(SCENARIO) for key in record.keys], ids=str)
def test_every_key_has_a_worked_example_that_names_it(key: tuple) -> None:
    record, wanted = key
    assert wanted.example.startswith(f"{wanted.name}:"), record.name


def test_a_scenario_reads_no_file_outside_its_folder_and_the_one_above(tmp_path: Path) -> None:
    from runner.cli.files import fetch_beside

    inner = tmp_path / "a" / "b"
    inner.mkdir(parents=True)
    (tmp_path / "secret.procedure.yaml").write_text("format: 1\n", encoding="utf-8")
    (tmp_path / "a" / "near.procedure.yaml").write_text("format: 1\n", encoding="utf-8")
    reads = fetch_beside(str(inner / "x.scenario.yaml"))
    assert reads(str(inner / ".." / "near.procedure.yaml")) == "format: 1\n"
    assert reads(str(inner / ".." / ".." / "secret.procedure.yaml")) is None
