"""The page on records says what the code does: its tables are the code's, and every event and field is on it."""

from dataclasses import fields
from pathlib import Path

from runner.engine.events import EVENTS, StepBegun, WorkedOut
from runner.record.fields import word_of
from runner.record.reference import TABLES, field_words, renewed

PAGE = (Path(__file__).parents[2] / "schemas" / "README.md").read_text(encoding="utf-8")


def test_the_tables_of_the_page_are_those_of_the_code() -> None:
    """When this fails: python -m runner.record.reference < schemas/README.md, and read the difference."""
    assert renewed(PAGE) == PAGE
    for name, table in TABLES.items():
        assert f"<!-- begin {name} -->\n{table()}\n<!-- end {name} -->" in PAGE


def test_every_event_and_field_is_on_the_page() -> None:
    for event in EVENTS:
        part = PAGE.partition(f"**`{word_of(event)}`** ")[2].partition("\n**`")[0]
        assert part.split("\n")[0].endswith(".")
        for field in fields(event):
            of_all = field.name in ("by", "at", "terminal")
            assert f"| `{field.name}` |" in PAGE if of_all else f"`{field.name}`" in part


def test_words_below_a_field_are_quoted() -> None:
    assert field_words(StepBegun)["act"] in PAGE
    assert field_words(WorkedOut)["working"] in PAGE
