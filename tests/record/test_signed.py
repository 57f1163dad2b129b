"""A signature stands for the lines before it, and verifying says where it does not."""

from dataclasses import replace

import pytest

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.record.line import GENESIS, Mark, encode
from runner.record.seal import seal
from runner.record.verify import verify_bytes
from tests.report.sample import begun_run

AT = Moment("2026-11-25T10:00:00.000Z", 1.0, "boot")
BEGUN = begun_run()
MARK = Mark(BEGUN.run, BEGUN.mode)


def journal(change: tuple[tuple[str, object], ...] = ()) -> bytes:
    """A run that is abandoned and signed, with fields of its signature changed before it was written."""
    lines: list[bytes] = []
    head, number = GENESIS, 0

    def put(events: list[ev.Event], sealed: bool) -> None:
        nonlocal head, number
        of = len(events) + sealed
        for at in range(of):
            event = events[at] if at < len(events) else seal(MARK, AT, head, number, "abandoned", None)
            number += 1
            line, head = encode(event, number, head, MARK, of - 1 - at, of)
            lines.append(line)

    put([BEGUN], sealed=False)
    put([ev.Abandoned("Uma", AT, "no film")], sealed=True)
    signed = ev.RunSigned("Lena", AT, "reviewed by", "lead", "", "identity not verified", head, number)
    put([ev.ClockStepped("", AT, 3.0), replace(signed, **dict(change))], sealed=True)  # type: ignore[arg-type]
    return b"".join(lines)


def test_a_signature_for_the_lines_before_it_is_in_order() -> None:
    assert verify_bytes(journal()).whole


@pytest.mark.parametrize(("field", "value"), [("head", "0" * 64), ("count", 2), ("count", 4)])
def test_a_signature_for_other_lines_is_a_flaw(field: str, value: object) -> None:
    # 21 CFR 11.70 (from memory): a signature cannot be carried over to another record
    found = verify_bytes(journal(((field, value),)))
    assert [flaw.line for flaw in found.flaws] == [5]
    assert "signs other lines" in found.flaws[0].words
