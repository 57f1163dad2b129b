"""A record is closed by a seal, what may follow is sealed anew, and a run that lost lines is not gone on with."""

from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.record.clock import SteppedClock
from runner.record.disk import DISK
from runner.record.head_code import head_code, read_code
from runner.record.journal import Journal, create_journal
from runner.record.keys import TerminalKey, new_key
from runner.record.line import GENESIS, ROOM, encode
from runner.record.opening import open_journal
from runner.record.reading import read_journal, verify_journal
from runner.record.refused import Refused
from runner.record.register import Register
from runner.record.registering import register_at
from runner.record.run import Run
from runner.record.store import summarise
from runner.record.verify import Verification, verify, verify_bytes
from runner.record.vouched import Vouched, vouched
from tests.record.sample import LIVE, actions, content, moment
from tests.record.test_run import TO_THE_HOLD, begin, must


def ended_run(folder: Path) -> Run:
    run = begin(folder, SteppedClock())
    must(run, want.Abandon("Uma", "the roll is damaged"))
    return run


def checked(
    path: str, register: Register | None = None, given: str | None = None, **trusted: str
) -> tuple[Verification, Vouched]:
    hashes: list[str] = []
    found = read_journal(path, lambda entry: hashes.append(entry.hash))
    assert isinstance(found, Verification)
    keys = {key: name for name, key in trusted.items()}
    return found, vouched(found, hashes, "2026", register, keys, bool(keys), given)


def test_the_end_of_a_run_is_one_action_with_its_seal(tmp_path: Path) -> None:
    run = ended_run(tmp_path)
    run.close()
    found = verify_journal(run.path)
    assert isinstance(found, Verification)
    assert (found.whole, found.outcome, found.head, found.version) == (True, "abandoned", run.head, 2)
    (seal,) = found.seals
    assert isinstance(seal.event, ev.Sealed)
    assert (seal.event.count, seal.event.head, seal.event.outcome) == (seal.number - 1, seal.prev, "abandoned")
    assert seal.first < seal.number
    summary = summarise(run.path)
    assert summary is not None
    assert (summary.outcome, summary.events) == ("abandoned", seal.number)


def test_after_a_seal_only_marked_events_are_taken_and_each_batch_is_sealed_anew(tmp_path: Path) -> None:
    path = str(tmp_path / "run.journal")
    journal = create_journal(path, DISK, LIVE)
    assert isinstance(journal, Journal)
    for action in actions(1):
        assert journal.append(action) is None
    before = journal.number
    assert isinstance(journal.append((ev.Paused("Ada", moment(900), "x"),)), Refused)
    assert journal.append((ev.ExceptionClosed("Ben", moment(900), 1, "seen to"),)) is None
    assert journal.number == before + 2
    journal.close()
    assert isinstance(open_journal(path, DISK, lambda _: None), Refused)
    again = open_journal(path, DISK, lambda _: None, after_end=True)
    assert isinstance(again, Journal)
    assert isinstance(again.append((ev.StepDone("Ada", moment(950), "s", "1", ()),)), Refused)
    noted = ev.ExceptionNoted("Ben", moment(950), 2, "other", "note", "late", "", "", False)
    assert again.append((noted, ev.ExceptionClosed("Ben", moment(950), 2, "no matter"))) is None
    again.close()
    found = verify_bytes(Path(path).read_bytes())
    assert (found.whole, found.outcome) == (True, "finished")
    assert [seal.number for seal in found.seals] == [before, before + 2, before + 5]


def test_an_open_run_is_not_opened_for_its_review(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    path.write_bytes(content(actions(1, end=False)))
    refused = open_journal(str(path), DISK, lambda _: None, after_end=True)
    assert isinstance(refused, Refused)
    assert "not ended" in refused.words


def test_a_run_of_the_older_format_goes_on_and_is_sealed_when_it_ends(tmp_path: Path) -> None:
    old = Path(__file__).parent / "damaged" / "whole.journal"
    assert b'"format":1' in old.read_bytes()
    path = tmp_path / "run.journal"
    path.write_bytes(old.read_bytes())
    journal = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(journal, Journal)
    assert journal.append((ev.Finished("Ada", moment(900), 0),)) is None
    journal.close()
    found = verify_bytes(path.read_bytes())
    assert (found.whole, found.version, len(found.seals)) == (True, 1, 1)


def test_a_record_that_ended_without_a_seal_before_there_were_any_is_whole_and_may_be_reviewed(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    path.write_bytes((Path(__file__).parent / "damaged" / "ended.journal").read_bytes())
    found, beside = checked(str(path))
    assert (found.whole, found.version, found.seals) == (True, 1, ())
    assert [(one.kind, one.grave) for one in beside.findings] == [("no seal", False)]
    journal = open_journal(str(path), DISK, lambda _: None, after_end=True)
    assert isinstance(journal, Journal)
    assert journal.append((ev.ExceptionClosed("Ben", moment(900), 1, "seen to"),)) is None
    journal.close()
    assert verify_bytes(path.read_bytes()).whole


def test_a_terminal_with_a_key_signs_and_any_change_of_the_seal_shows(tmp_path: Path) -> None:
    pem = new_key()
    assert isinstance(pem, bytes)
    key = tmp_path / "terminal.key"
    key.write_bytes(pem)
    key.chmod(0o600)
    run = ended_run(tmp_path / "records")
    run.close()
    public = TerminalKey(pem).key
    found, beside = checked(run.path, line_3=public)
    assert found.whole
    assert [one.words.partition(",")[0] for one in beside.seals] == ["signed by line_3"]
    assert not beside.grave
    _, strange = checked(run.path, other="ab" * 32)
    assert [one.kind for one in strange.findings] == ["not by a trusted key"]
    # somebody without the key writes the end anew, with hashes that fit
    seal = found.seals[0]
    assert isinstance(seal.event, ev.Sealed)
    written = Path(run.path).read_bytes()
    *kept, _last = written.splitlines(keepends=True)
    forged = ev.Sealed("", seal.event.at._replace(utc="2026-11-26T08:00:00.000Z"), seal.event.head, seal.event.count, "abandoned", public, seal.event.signature)  # fmt: skip
    line, _ = encode(forged, seal.number, seal.prev, seal.mark, 0, seal.of)
    Path(run.path).write_bytes(b"".join(kept) + line)
    found, beside = checked(run.path, line_3=public)
    assert found.whole
    assert [one.kind for one in beside.findings] == ["signature", "not by a trusted key"]


def test_a_run_is_entered_when_it_begins_is_marked_and_ends(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    for intent in TO_THE_HOLD:
        must(run, intent)
    must(run, want.Pause("Uma", "shift ends"))
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    must(again, want.Resume("Uma"))
    must(again, want.Abandon("Uma", "the roll is damaged"))
    again.close()
    register = register_at(str(tmp_path))
    assert isinstance(register, Register)
    assert [one.kind for one in register.lines][:2] == ["begun", "opened"]
    assert register.lines[-1].kind == "closed"
    assert (register.lines[-1].count, register.lines[-1].head) == (again.journal.number, again.head)
    found, beside = checked(run.path, register)
    assert found.whole
    assert beside.findings == ()


@pytest.mark.parametrize("zeros", [True, False])
def test_a_run_whose_kept_lines_became_zeros_or_are_gone_is_not_gone_on_with(tmp_path: Path, zeros: bool) -> None:
    run = begin(tmp_path, SteppedClock())
    began = run.journal.end
    for intent in TO_THE_HOLD:
        must(run, intent)
    must(run, want.Pause("Uma", "shift ends"))
    run.close()
    path = Path(run.path)
    written = path.read_bytes()[:began]
    lost = written.ljust(ROOM, b"\0") if zeros else written
    path.write_bytes(lost)
    assert verify(lost.splitlines(keepends=True)).whole  # by itself it looks like a run that has just begun
    refused = Run.resume(run.path, SteppedClock())
    assert isinstance(refused, Refused)
    assert refused.damaged
    assert "lost lines that were kept" in refused.words
    assert ("ends in zeros" in refused.words) == zeros
    assert path.read_bytes() == lost


def test_a_code_from_paper_tells_whole_grown_and_replaced_records_apart(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    path.write_bytes(content(actions(1)))
    head = verify_bytes(path.read_bytes()).head
    given = read_code(head_code(head))
    _, beside = checked(str(path), given=given)
    assert "that of the last line" in beside.code_words
    assert beside.code == head_code(head)
    journal = open_journal(str(path), DISK, lambda _: None, after_end=True)
    assert isinstance(journal, Journal)
    assert journal.append((ev.ExceptionClosed("Ben", moment(900), 1, "seen to"),)) is None
    journal.close()
    _, beside = checked(str(path), given=given)
    assert "2 lines were added since" in beside.code_words
    assert not beside.grave
    _, beside = checked(str(path), given=GENESIS[:20])
    assert [one.kind for one in beside.findings] == ["code"]
    assert beside.grave
