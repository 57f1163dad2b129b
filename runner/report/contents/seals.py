"""The seals of a record: when it was closed, and again after each addition, and by which terminal's key it is signed.

A report quotes the seal. Whether a signature is right only `changeover verify` says, which has the keys.
"""

from runner.engine import events as ev
from runner.record.keys import key_name
from runner.report.contents.names import Entries
from runner.report.contents.section import Column, Row, Section, stamp
from runner.report.contents.words import moment_words


def seals_section(entries: Entries) -> Section:
    """Every seal, the newest last."""
    rows = tuple(
        {
            **stamp(number, event),
            "count": event.count,
            "head": event.head,
            "key": event.key,
            "signature": event.signature,
        }
        for number, event in entries
        if isinstance(event, ev.Sealed)
    )
    columns = (
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        Column("Lines", "count", numeric=True),
        Column("Signature", signature_words),
        Column("Event", "event", numeric=True),
    )
    return Section("seals", "Seals of the record", columns, rows, "The record has no seal.")


def signature_words(row: Row) -> str:
    """What the seal says of itself."""
    return f"by the key {key_name(row['key'])}; verify says whether it is right" if row["signature"] else "not signed"
