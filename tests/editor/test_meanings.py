"""The table of meanings against the tables of the language: no place for a name is left out, none is invented."""

from runner.editor.about import FACTS
from runner.editor.meanings import MEANINGS
from runner.editor.renames import FORMS, WHY_NOT
from runner.procedure.language.files import FILES
from runner.procedure.language.shape import Either, ListOf, MapOf, OneOf, Record, Scalar, Shape
from runner.procedure.reference.keys import records_in

PLAIN = {"text", "template"}


def sites(shape: Shape, record: str, key: str) -> set[tuple[tuple[str, str, str], str]]:
    """Every place for a scalar under a key, with the name of its shape."""
    match shape:
        case Scalar(name=name):
            return {((record, key, "value"), name)}
        case ListOf(of=of):
            return sites(of, record, key)
        case MapOf(key=name, value=value):
            return {((record, key, "key"), name.name)} | sites(value, record, key)
        case Record() | Either() | OneOf():
            return set()


ALL = {site for record in records_in(*FILES) for key in record.keys for site in sites(key.shape, record.name, key.name)}


def test_every_place_for_a_name_or_an_id_or_a_file_has_a_meaning() -> None:
    assert {site for site, shape in ALL if shape in ("name", "id", "path")} - set(MEANINGS) == set()


def test_every_meaning_stands_at_a_place_of_the_language() -> None:
    assert set(MEANINGS) - {site for site, _ in ALL} == set()


def test_every_sort_that_is_defined_has_facts_and_can_be_renamed_or_says_why_not() -> None:
    defined = {meaning.sort for meaning in MEANINGS.values() if meaning.defines} | {"feed"}
    assert defined <= set(FACTS)
    assert defined <= set(FORMS) | set(WHY_NOT)
    assert not set(FORMS) & set(WHY_NOT)


def test_the_facts_of_each_sort_are_keys_of_the_language() -> None:
    keys = {key.name for record in records_in(*FILES) for key in record.keys}
    assert {key for rows in FACTS.values() for key, _ in rows} - {""} <= keys
