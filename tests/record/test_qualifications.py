"""The register of qualifications: only ever added to, chained, bound to the record that shows it, and read for the rule."""

from dataclasses import replace
from pathlib import Path

import pytest

from runner.procedure.qualified import may_do
from runner.record.qualifications import (
    WITHDRAWN,
    Entered,
    enter_qualification,
    in_force,
    qualifications_at,
    read_qualifications,
)
from runner.record.refused import Refused
from tests.engine.bench import compiled

ENTRY = Entered(
    "Ilka Foss", "bench", 1, "demonstrate", "simulate", "2026-11-25", "2028-11-24", "Mara Quist", "identity not verified",
    "leaking-chuck", "20261125-0940-k7m2", "a" * 64, 210, "Read the gauge well", "2026-11-25T10:00:00+00:00",
)  # fmt: skip
SHOWN = replace(ENTRY, level="perform")
PROCEDURE = compiled("""
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
""")


def entered(path: Path, *entries: Entered) -> bytes:
    for entry in entries:
        assert enter_qualification(str(path), entry) is None
    return path.read_bytes()


def test_what_is_entered_is_read_back_in_order(tmp_path: Path) -> None:
    path = tmp_path / "qualifications.register"
    second = replace(ENTRY, person="Rune Tavik", until="", words="")
    entered(path, ENTRY, second)
    found = qualifications_at(str(path))
    assert not isinstance(found, Refused)
    assert (found.entries, found.flaw) == ((ENTRY, second), "")


def test_a_register_that_is_not_there_is_empty(tmp_path: Path) -> None:
    found = qualifications_at(str(tmp_path / "qualifications.register"))
    assert not isinstance(found, Refused)
    assert found.entries == ()


def test_every_change_of_a_byte_is_seen(tmp_path: Path) -> None:
    content = entered(tmp_path / "q", ENTRY, replace(ENTRY, person="Rune Tavik"))
    for at in range(0, len(content) - 1, 7):
        changed = content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :]
        found = read_qualifications(changed)
        assert found.flaw or len(found.entries) < 2, at


def test_a_line_taken_out_or_put_elsewhere_is_seen(tmp_path: Path) -> None:
    lines = entered(tmp_path / "q", ENTRY, replace(ENTRY, level="observe"), replace(ENTRY, level="read")).splitlines(
        True
    )
    for wrong in ([lines[0], lines[2]], [lines[1], lines[0], lines[2]], [lines[0], lines[0], *lines[1:]]):
        assert read_qualifications(b"".join(wrong)).flaw


@pytest.mark.parametrize("cut", [1, 40, 200])
def test_an_unfinished_last_line_is_no_flaw_and_goes_with_the_next_entry(tmp_path: Path, cut: int) -> None:
    path = tmp_path / "q"
    content = entered(path, ENTRY, replace(ENTRY, person="Rune Tavik"))
    path.write_bytes(content[:-cut])
    found = read_qualifications(content[:-cut])
    assert (found.flaw, found.entries) == ("", (ENTRY,))
    entered(path, replace(ENTRY, person="Bea Lund"))
    after = read_qualifications(path.read_bytes())
    assert (after.flaw, [one.person for one in after.entries]) == ("", ["Ilka Foss", "Bea Lund"])


def test_nothing_is_added_behind_damage(tmp_path: Path) -> None:
    path = tmp_path / "q"
    content = entered(path, ENTRY, ENTRY)
    damaged = content.replace(b"Mara Quist", b"Mara Quiet", 1)
    path.write_bytes(damaged)
    refused = enter_qualification(str(path), ENTRY)
    assert isinstance(refused, Refused)
    assert "damaged" in refused.words
    assert path.read_bytes() == damaged


def test_the_rule_takes_what_the_register_gives() -> None:
    assert may_do("ilka  foss", PROCEDURE, in_force((SHOWN,)), "2026-11-26") == ""
    assert "until 2028-11-24" in may_do("Ilka Foss", PROCEDURE, in_force((SHOWN,)), "2028-11-25")
    assert "does not have" in may_do("Rune Tavik", PROCEDURE, in_force((SHOWN,)), "2026-11-26")
    assert "so far: observe" in may_do(
        "Ilka Foss", PROCEDURE, in_force((replace(ENTRY, level="observe"),)), "2026-11-26"
    )


def test_what_is_withdrawn_counts_no_more_and_stays_in_the_register() -> None:
    taken_back = replace(ENTRY, level=WITHDRAWN, words="A roll was lifted without release")
    assert in_force((ENTRY, taken_back)) == ()
    assert len(in_force((ENTRY, taken_back, ENTRY))) == 1
    assert len(in_force((ENTRY, replace(taken_back, procedure="web-break")))) == 1
