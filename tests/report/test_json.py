"""The plain data: of the shape that other programs may rely on, and the same figures as the readable formats."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from runner.report.document import Document
from runner.report.formats.html import render as html
from runner.report.formats.json import render
from runner.report.formats.text import render as text
from tests.report.documents import DOCUMENTS, full
from tests.report.test_html import Page

SCHEMA = json.loads((Path(__file__).parent / "run-record.schema.json").read_text(encoding="utf-8"))


def read(document: Document) -> dict[str, Any]:
    loaded = json.loads(render(document))
    assert isinstance(loaded, dict)
    return loaded


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_data_follow_their_schema(name: str) -> None:
    jsonschema.validate(read(DOCUMENTS[name]()), SCHEMA, cls=jsonschema.Draft202012Validator)


def test_the_schema_refuses_a_number_that_became_text() -> None:
    data = read(full())
    data["worked_out"][0]["magnitude"] = "814.5"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(data, SCHEMA, cls=jsonschema.Draft202012Validator)


@pytest.mark.parametrize("section", ["job", "worked_out", "answers"])
def test_the_readable_formats_show_the_same_figures(section: str) -> None:
    rows = read(full())[section]
    page = " ".join(Page(html(full())).texts)
    plain = " ".join(text(full()).decode().split())
    assert rows
    for row in rows:
        assert str(row["magnitude"]).removesuffix(".0")[:4] in row["shown"]
        assert row["shown"] in page
        assert row["shown"] in plain


def test_a_number_that_json_has_no_word_for_stands_as_text() -> None:
    document = Document("t", (), data={"a": [float("nan"), float("inf"), 1.5, 2, True, None]})
    assert json.loads(render(document)) == {"a": ["nan", "inf", 1.5, 2, True, None]}
