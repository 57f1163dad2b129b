"""The table of changes against the language: no key is forgotten, none is made up."""

from collections.abc import Iterator

from runner.lint.diff import untold
from runner.lint.diff.keys import NO_MEANING
from runner.lint.diff.rows import ROWS
from runner.lint.diff.subjects import SUBJECTS
from runner.procedure.language.files import FRAGMENT, PROCEDURE
from runner.procedure.language.shape import Either, ListOf, MapOf, Record, Shape


def keys_of(shape: Shape, seen: set[str]) -> Iterator[str]:
    """Every key of every record below a shape, with its record."""
    match shape:
        case Record():
            if shape.name not in seen:
                seen.add(shape.name)
                for key in shape.keys:
                    yield f"{shape.name}.{key.name}"
                    yield from keys_of(key.shape, seen)
        case ListOf():
            yield from keys_of(shape.of, seen)
        case MapOf():
            yield from keys_of(shape.value, seen)
        case Either():
            yield from keys_of(shape.has, seen)
            yield from keys_of(shape.without, seen)


LANGUAGE = {key for record in (PROCEDURE, FRAGMENT) for key in keys_of(record, set())}
IN_ROWS = {key for row in ROWS for key in row.keys}
RENAMED = {subject.record for subject in SUBJECTS.values() if subject.record}


def test_every_key_of_the_language_is_told_by_a_row_or_means_nothing_for_a_run() -> None:
    assert len(LANGUAGE) > 80
    assert LANGUAGE - IN_ROWS - RENAMED - set(untold.KEYS) - NO_MEANING.keys() == set()


def test_no_row_speaks_of_a_key_that_the_language_does_not_have() -> None:
    assert (IN_ROWS | RENAMED | set(untold.KEYS) | NO_MEANING.keys()) - LANGUAGE == set()


def test_a_key_without_meaning_has_a_reason_and_no_row() -> None:
    assert NO_MEANING.keys() & (IN_ROWS | set(untold.KEYS)) == set()
    assert all(reason for reason in NO_MEANING.values())


def test_rows_have_names_of_their_own_and_known_subjects_and_reasons() -> None:
    names = [row.name for row in ROWS]
    assert len(set(names)) == len(names)
    assert {row.subject for row in ROWS} <= SUBJECTS.keys()
    assert all(row.reason.endswith(".") for row in ROWS)
