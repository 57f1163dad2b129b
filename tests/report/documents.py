"""The documents that the tests of this folder render: every content with events that show all of it."""

from collections.abc import Callable, Mapping

from runner.report.contents.run_record import run_record
from runner.report.document import Document
from tests.report import sample


def full() -> Document:
    """A live run with one of everything, its record whole."""
    entries = sample.full_run()
    return run_record(entries, sample.checked(entries), sample.procedure())


def without_end() -> Document:
    """A dry run, played, of a draft, without an end; the record is damaged and the procedure not at hand."""
    entries = sample.open_run()
    return run_record(entries, sample.checked(entries, ("line 18: changed, its hash does not fit",)), None)


def plain() -> Document:
    """A live run of an approved procedure in which nothing went otherwise than written."""
    entries = sample.plain_run()
    return run_record(entries, sample.checked(entries), sample.procedure())


DOCUMENTS: Mapping[str, Callable[[], Document]] = {
    "run-record-full": full,
    "run-record-without-end": without_end,
    "run-record-plain": plain,
}
