"""What times take from lines alone is what reading every event in full gives: over journals of documents, of shipped
procedures as they are played, and of people who do anything."""

import random
from hashlib import sha256
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine.events import Event
from runner.procedure.model import Procedure
from runner.record.disk import DISK
from runner.record.left_behind import as_text, left_behind
from runner.record.line import GENESIS, Entry, Mark, encode
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.record.store import summarise
from runner.report.times.figures import as_data, figures_of
from runner.report.times.known import NO_PROCEDURE, Figured, fault_of
from runner.report.times.plan import plan_of
from runner.report.times.read import Reader, dump
from runner.report.times.run_times import run_times
from tests.bench.written_records import write_records
from tests.engine.test_laws import SHIPPED, begun, shipped
from tests.engine.wanderer import wish

DAMAGED = sorted((Path(__file__).parents[2] / "record" / "damaged").glob("*.journal"))


def in_full(path: Path) -> tuple[list[tuple[int, Event]], object]:
    """Every event of a journal, and what verifying found."""
    events: list[tuple[int, Event]] = []

    def take(entry: Entry) -> None:
        events.append((entry.number, entry.event))

    found = read_journal(str(path), take)
    return events, found


def same(path: Path) -> None:
    """The figures of a journal, both ways."""
    events, _ = in_full(path)
    kept = Reader().read(str(path))
    begun_with = events[0][1]
    assert isinstance(begun_with, ev.RunBegun)
    procedure = pinned_procedure(begun_with)
    assert isinstance(procedure, Procedure)
    wanted = figures_of(run_times(events, plan_of(procedure)))
    assert kept is not None
    assert kept.summary == summarise(str(path))
    assert kept.left == as_text(left_behind(str(path), DISK))
    assert kept.extract == dump(as_data(wanted))
    (again,) = Figured(lambda _: "").figures([kept])
    assert as_data(again) == as_data(wanted)
    assert again.chain() == wanted.chain()
    assert dict(again.plan) == dict(wanted.plan)
    assert (again.counts, again.done, list(again.took)) == (wanted.counts, wanted.done, list(wanted.took))
    assert again.on_chain == wanted.on_chain


@pytest.mark.parametrize("name", ["change-roll", "web-break", "slitter-knives"])
def test_played_runs_of_shipped_procedures_give_the_same(name: str, tmp_path: Path) -> None:
    write_records(str(tmp_path), 2, name)
    paths = sorted(tmp_path.rglob("*.journal"))
    assert len(paths) == 2
    for path in paths:
        same(path)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_runs_of_people_who_do_anything_give_the_same(path: Path, tmp_path: Path) -> None:
    chance = random.Random(path.stem)
    bench = begun(shipped(path), path)
    for _ in range(250):
        bench.tick += chance.uniform(0, 40)
        bench.attempt(wish(bench, chance))
    journal, prev, lines = tmp_path / "one.journal", GENESIS, []
    events = [event for event in bench.events if not isinstance(event, ev.Finished | ev.Abandoned)]
    first = events[0]
    assert isinstance(first, ev.RunBegun)
    for number, event in enumerate(events, start=1):
        line, prev = encode(event, number, prev, Mark(first.run, first.mode))
        lines.append(line)
    journal.write_bytes(b"".join(lines))
    same(journal)


@pytest.mark.parametrize("path", DAMAGED, ids=lambda path: path.stem)
def test_journals_of_documents_are_judged_alike(path: Path) -> None:
    events, found = in_full(path)
    kept = Reader().read(str(path))
    if kept is None or kept.summary.words:
        return
    assert not isinstance(found, Refused)
    whole = bool(getattr(found, "whole", False))
    why, words = fault_of(kept)
    if not whole:
        assert words == str(found.flaws[0])  # type: ignore[attr-defined]
        return
    first = events[0][1]
    assert isinstance(first, ev.RunBegun)
    if not isinstance(pinned_procedure(first), Procedure):
        assert why == NO_PROCEDURE
        return
    same(path)


@pytest.mark.parametrize("field", ['"boot":"', '"step":"', '"run":"', '"mode":"', '"utc":"'])
def test_bytes_that_are_no_text_are_damage_and_no_fault_of_the_program(field: str, tmp_path: Path) -> None:
    write_records(str(tmp_path), 1)
    (path,) = tmp_path.rglob("*.journal")
    lines = path.read_bytes().splitlines(keepends=True)
    at = next(at for at, line in enumerate(lines) if b'"step-done"' in line)
    text = lines[at].split(b" ", 2)[2][:-1].replace(field.encode(), field.encode() + b"\xff", 1)
    lines[at] = b"%d %s %s\n" % (len(text), sha256(text).hexdigest().encode(), text)
    path.write_bytes(b"".join(lines))
    kept = Reader().read(str(path))
    assert kept is not None
    assert (kept.extract, kept.more) == ("", f"line {at + 1}: malformed: is no JSON that this program writes")
