"""The quick check, the JSON schema and the messages come from the same tables and agree."""

import json
import random
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft7Validator

from runner.procedure.language.files import ANSWERS, FILES, FRAGMENT, JOB, PROCEDURE
from runner.procedure.language.fits import fits
from runner.procedure.language.shape import Record
from runner.procedure.language.site import SITE
from runner.procedure.nodes import Map
from runner.procedure.prune import pruned
from runner.procedure.reference import whole
from runner.procedure.reference.keys import records_in
from runner.procedure.schema import json_schema, name_of, schema_of, written
from runner.procedure.source import read
from runner.procedure.wording import faults, plain
from tests.procedure.documents import BAD
from tests.procedure.trees import mutate

ROOT = Path(__file__).parents[2]
SHIPPED = sorted((ROOT / "procedures").glob("*.yaml")) + sorted((ROOT / "tests" / "answers").glob("*.yaml"))
TEXTS = (
    (PROCEDURE, whole.PROCEDURE_TEXT),
    (FRAGMENT, whole.FRAGMENT_TEXT),
    (JOB, whole.JOB_TEXT),
    (ANSWERS, whole.ANSWERS_TEXT),
    (SITE, whole.SITE_TEXT),
)


def root_of(text: str) -> Map:
    root = read(text, "x").root
    assert root is not None
    return root


def filled(record: Record, text: str) -> Map:
    return root_of(text.replace("<side>", "side") if record is FRAGMENT else text)


def test_the_schema_file_is_the_one_that_the_tables_give() -> None:
    assert (ROOT / "schemas" / "procedure.schema.json").read_text(encoding="utf-8") == written()


def test_the_schema_is_a_schema_of_draft_7() -> None:
    Draft7Validator.check_schema(json_schema())
    for record in FILES:
        Draft7Validator.check_schema(schema_of(record))


def test_every_record_has_a_name_of_its_own() -> None:
    names = [name_of(record, False) for record in records_in(*FILES)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_a_shipped_file_passes_an_independent_checker(path: Path) -> None:
    from ruamel.yaml import YAML

    # As an editor reads it: types guessed by YAML 1.2, dates left as texts.
    yaml = YAML(typ="safe")
    yaml.constructor.yaml_constructors["tag:yaml.org,2002:timestamp"] = yaml.constructor.yaml_constructors[
        "tag:yaml.org,2002:str"
    ]
    data = yaml.load(path.read_text(encoding="utf-8"))
    errors = [
        f"{list(error.absolute_path)} {error.message[:100]}"
        for error in Draft7Validator(json_schema()).iter_errors(data)
    ]
    assert errors == []


def test_check_jsonschema_passes_the_shipped_files_and_fails_a_bad_one() -> None:
    schema = str(ROOT / "schemas" / "procedure.schema.json")
    command = [sys.executable, "-m", "check_jsonschema", "--schemafile", schema]
    assert subprocess.run([*command, *map(str, SHIPPED)], capture_output=True, check=False).returncode == 0
    bad = str(ROOT / "tests" / "documents" / "bad" / "unknown-key.procedure.yaml")
    assert subprocess.run([*command, bad], capture_output=True, check=False).returncode == 1


@pytest.mark.parametrize(("record", "text"), TEXTS, ids=lambda value: value.name if isinstance(value, Record) else "")
def test_quick_check_and_jsonschema_agree_on_faulty_trees(record: Record, text: str) -> None:
    chance = random.Random(20261125)
    validator = Draft7Validator(schema_of(record))
    verdicts = set()
    for _ in range(150):
        root = filled(record, text)
        for _ in range(chance.choice((1, 1, 2))):
            mutate(root, chance)
        quick = fits(record)(root)
        verdicts.add(quick)
        assert quick == validator.is_valid(plain(root, record)), json.dumps(plain(root, record))[:2000]
        assert quick == (faults(root, record) == [])
    assert verdicts == {True, False}


@pytest.mark.parametrize(("record", "text"), TEXTS, ids=lambda value: value.name if isinstance(value, Record) else "")
def test_what_is_left_after_pruning_is_sound(record: Record, text: str) -> None:
    chance = random.Random(7)
    for _ in range(150):
        root = filled(record, text)
        mutate(root, chance)
        saved = pruned(root, record)
        assert saved is None or fits(record)(saved)


def test_quick_check_and_jsonschema_agree_on_every_bad_document() -> None:
    for path in BAD:
        try:
            root = read(path.read_text(encoding="utf-8"), path.name).root
        except UnicodeDecodeError:
            continue
        if root is not None and path.name.endswith(".procedure.yaml"):
            valid = Draft7Validator(schema_of(PROCEDURE)).is_valid(plain(root, PROCEDURE))
            assert fits(PROCEDURE)(root) == valid, path.name


def said(text: str) -> list[str]:
    root = root_of(text)
    return [f"{place.line}:{place.column} {message}" for _, message, place, _ in faults(root, PROCEDURE)]


HEAD = "format: 1\nid: a\ntitle: t\nrevision: 1\nequipment: e\npurpose: p\npeople: {a: A}\nphases:\n  - phase: p\n    steps:\n"


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("- {id: s}", "11:9 a step needs `do`"),
        ("- {id: s, do: d, neds: {a: b}}", "11:24 `neds` is no key of a step; `needs`?"),
        (
            "- {id: s, do: d, repeat: {until: a, at_most: 1}}",
            "11:52 `at_most` is a whole number, 2 or more; `1` is not",
        ),
        ("- {id: s, do: d, why: }", "11:29 `why` is left empty"),
        ("- {id: s, do: d, needs: open}", "11:31 `needs` is a map, each value a text"),
    ],
)
def test_a_fault_of_shape_is_said_in_the_words_of_an_author(step: str, words: str) -> None:
    assert [line.split("; did")[0] for line in said(HEAD + "      " + step + "\n")] == [words]
