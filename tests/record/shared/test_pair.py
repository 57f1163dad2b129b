"""Two terminals on one run, over real sockets: one writer, the other's state is a replay, nothing twice, nothing lost."""

import errno
import socket
import threading
from collections import Counter
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.evolve import replay
from runner.engine.intents import Refusal
from runner.record.clock import SystemClock
from runner.record.disk import DISK
from runner.record.refused import Refused
from runner.record.shared import address
from runner.record.shared import joined as joining
from runner.record.shared.address import NOBODY, call
from runner.record.shared.joined import Joined, join
from runner.record.shared.keeper import Keeper
from tests.record.disks import FaultyDisk, failing
from tests.record.shared.bench import events_of, joined, kept, opened_again, until
from tests.record.test_run import PROCEDURE

RACES = 200


def note(words: str) -> want.NoteException:
    """An intent that every state of an open run takes."""
    return want.NoteException("Uma", "", "other", "note", words)


def same_head(other: Joined, here: Keeper) -> bool:
    """Whether a terminal has read all that is on the disk."""
    return other.head == here.head


def at_once(terminals: tuple[Keeper | Joined, ...], intent: AnyIntent) -> list[object]:
    """The same at all of them at the same time; the answers."""
    ready, answers = threading.Barrier(len(terminals)), list[object]()

    def act(at: Keeper | Joined) -> None:
        ready.wait(5)
        answers.append(at.submit(intent))

    acting = [threading.Thread(target=act, args=(one,)) for one in terminals]
    for one in acting:
        one.start()
    for one in acting:
        one.join(20)
    return answers


def test_what_one_does_the_other_sees_as_a_replay_of_the_record(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    assert there.state == here.state
    assert not isinstance(here.submit(want.BeginStep("Uma", "off")), Refusal)
    until(lambda: there.follower.number == here.run.journal.number)
    done = there.submit(want.EndStep("Uma", "off"))
    assert not isinstance(done, Refusal)
    assert any(isinstance(event, ev.StepDone) for event in done)
    assert there.state == here.state == replay(PROCEDURE, events_of(here.path))
    assert there.head == here.head
    there.close()
    here.close()


def test_an_act_says_at_which_terminal_it_was_done_and_one_of_the_keeper_says_nothing(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path, "line 3, rewind")
    here.submit(note("here"))
    there.submit(note("there"))
    found = {event.words: event.terminal for event in events_of(here.path) if isinstance(event, ev.ExceptionNoted)}
    assert found == {"here": "", "there": "line 3, rewind"}
    there.close()
    here.close()


def test_a_refusal_comes_with_its_reason_and_leaves_nothing(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    head = here.head
    refused = there.submit(want.EndStep("Uma", "off"))
    assert refused == here.run.submit(want.EndStep("Uma", "off"))
    assert isinstance(refused, Refusal)
    assert here.head == head
    there.close()
    here.close()


def test_200_races_of_two_terminals_give_one_record_with_every_act_once(tmp_path: Path) -> None:
    here = kept(tmp_path)
    terminals = (here, joined(here.path, "B"), joined(here.path, "C"))
    taken: list[list[str]] = [[] for _ in terminals]

    def sit(at: int) -> None:
        for number in range(RACES):
            words = f"{at}/{number}"
            if not isinstance(terminals[at].submit(note(words)), Refusal):
                taken[at].append(words)

    sitting = [threading.Thread(target=sit, args=(at,)) for at in range(len(terminals))]
    for one in sitting:
        one.start()
    for one in sitting:
        one.join(60)
    found = [event.words for event in events_of(here.path) if isinstance(event, ev.ExceptionNoted)]
    assert Counter(found) == Counter(words for mine in taken for words in mine)
    assert [len(mine) for mine in taken] == [RACES] * 3
    others = [one for one in terminals if isinstance(one, Joined)]
    for other in others:
        until(partial(same_head, other, here))
        assert other.state == here.state
        other.close()
    here.close()


def test_one_act_wanted_at_both_at_once_happens_once(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    for intent in (want.BeginStep("Uma", "off"), want.EndStep("Uma", "off")):
        answers = at_once((here, there), intent)
        assert sum(isinstance(answer, Refusal) for answer in answers) == 1
    found = events_of(here.path)
    assert sum(isinstance(event, ev.StepBegun) for event in found) == 1
    assert sum(isinstance(event, ev.StepDone) for event in found) == 1
    there.close()
    here.close()


def test_an_act_counts_only_for_the_step_as_it_was_seen(tmp_path: Path) -> None:
    here = kept(tmp_path)
    before = here.run.journal.number
    here.submit(want.BeginStep("Uma", "off"))
    late = here.run.submit(want.EndStep("Uma", "off"), "B", before)
    assert isinstance(late, Refusal)
    assert "Look again" in late.reason
    assert not isinstance(here.run.submit(note("odd"), "B", before), Refusal)
    assert not isinstance(here.run.submit(want.EndStep("Uma", "off"), "B", here.run.journal.number), Refusal)
    here.close()


def test_a_lost_answer_is_asked_for_again_and_nothing_is_done_twice(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    keep = here.do
    cut: list[object] = []

    def keep_and_cut(*asked: object) -> object:
        done = keep(*asked)  # type: ignore[arg-type] # as the keeper asks
        if len(cut) < 3:
            cut.append(there.line)
            there.hang_up()
        return done

    assert here.turns is not None
    here.turns.guests.submit = keep_and_cut  # type: ignore[assignment] # the line is cut between the deed and its answer
    for number in range(5):
        assert not isinstance(there.submit(note(str(number))), Refusal)
    found = [event.words for event in events_of(here.path) if isinstance(event, ev.ExceptionNoted)]
    assert found == [str(number) for number in range(5)]
    assert len(cut) == 3
    assert not there.lost
    there.close()
    here.close()


def test_when_the_keeper_leaves_the_other_says_so_and_takes_the_run_over_with_its_next_act(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    there.submit(note("before"))
    here.close()
    until(lambda: there.lost)
    assert "has left" in there.lost
    assert there.submit(want.Resume("Uma")) == ()
    assert (there.lost, there.interrupted) == ("", True)
    assert not isinstance(there.submit(want.Resume("Uma")), Refusal)
    assert not isinstance(there.submit(note("after")), Refusal)
    third = joined(there.path, "C")
    assert third.state == there.state
    third.close()
    there.close()
    found = [event.words for event in events_of(there.path) if isinstance(event, ev.ExceptionNoted)]
    assert found == ["before", "after"]


def test_stopping_takes_the_run_over_at_once(tmp_path: Path) -> None:
    here = kept(tmp_path)
    there = joined(here.path)
    here.close()
    until(lambda: there.lost)
    assert not isinstance(there.submit(want.MakeSafe("Uma")), Refusal)
    assert there.state.halted == "make-safe"
    there.close()


def test_of_two_that_are_left_one_takes_over_and_the_other_comes_back_by_itself(tmp_path: Path) -> None:
    here = kept(tmp_path)
    first, second = joined(here.path, "B"), joined(here.path, "C")
    here.close()
    until(lambda: first.lost and second.lost)
    assert first.submit(want.Resume("Uma")) == ()
    until(lambda: not second.lost)
    assert not isinstance(second.submit(want.Resume("Uma")), Refusal)
    until(lambda: first.state.last == second.state.last)
    second.close()
    first.close()


def test_a_terminal_that_leaves_is_told_of_and_one_that_joins(tmp_path: Path) -> None:
    here = kept(tmp_path)
    told: list[str] = []
    here.watch(lambda words, _: told.append(words))
    there = joined(here.path)
    until(lambda: told)
    there.close()
    until(lambda: len(told) == 2)
    assert told == ["Terminal B has joined this run.", "Terminal B has left this run; its list can be done here."]
    here.close()


def test_two_of_one_name_get_two_names(tmp_path: Path) -> None:
    here = kept(tmp_path)
    one = joined(here.path, "B")
    two = join(here.path, SystemClock(), "another session", "B", lambda: opened_again(here.path))
    assert isinstance(two, Joined)
    assert (one.terminal, two.terminal) == ("B", "B (2)")
    one.close()
    two.close()
    here.close()


def test_when_the_record_cannot_be_written_both_say_so_and_nothing_more_is_taken(tmp_path: Path) -> None:
    here = kept(tmp_path)
    here.run.journal.io = FaultyDisk(DISK, 2, failing(errno.ENOSPC), ("write",))
    there = joined(here.path)
    assert not isinstance(there.submit(note("kept")), Refusal)
    refused = there.submit(note("not kept"))
    assert isinstance(refused, Refusal)
    assert "No space left on device" in refused.reason
    until(lambda: there.poisoned)
    assert here.poisoned == there.poisoned == "No space left on device"
    assert isinstance(there.submit(note("more")), Refusal)
    there.close()
    here.close()


def test_nothing_is_left_of_the_socket_when_the_run_is_left(tmp_path: Path) -> None:
    here = kept(tmp_path)
    folder = Path(here.path).parent
    assert here.place is not None
    assert Path(here.place.path).exists()
    here.close()
    assert sorted(path.name for path in folder.iterdir()) == [
        "20261125-0800-aaaa.journal", "20261125-0800-aaaa.journal.lock",
    ]  # fmt: skip
    assert call(here.path) == Refused(NOBODY)


@pytest.fixture
def short(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder with a path that leaves room for a socket's name; the user's runtime folder lies in it."""
    with TemporaryDirectory(prefix="two-") as folder:
        monkeypatch.setenv("XDG_RUNTIME_DIR", f"{folder}/r")
        yield Path(folder)


def test_only_the_owner_may_connect_beside_the_journal(short: Path) -> None:
    here = kept(short)
    assert here.place is not None
    assert here.place.path == here.path + ".socket"
    assert Path(here.place.path).stat().st_mode & 0o777 == 0o600
    there = joined(here.path)
    there.close()
    here.close()


def test_where_the_path_is_too_long_the_socket_lies_in_a_folder_of_the_user_alone(short: Path) -> None:
    here = kept(short / ("a" * 90))
    assert here.place is not None
    place = Path(here.place.path)
    assert place.parent == short / "r" / "changeover"
    assert place.parent.stat().st_mode & 0o777 == 0o700
    assert place.stat().st_mode & 0o777 == 0o600
    there = joined(here.path)
    there.close()
    here.close()
    assert not place.exists()


def test_a_folder_that_others_can_write_to_is_not_used_for_the_socket(short: Path) -> None:
    (short / "r" / "changeover").mkdir(parents=True)
    (short / "r" / "changeover").chmod(0o777)
    here = kept(short / ("a" * 90))
    assert here.place is not None
    assert here.place.path == here.path + ".port"
    joined(here.path).close()
    here.close()


def test_a_dead_ones_socket_stands_in_nobodys_way_and_another_file_is_left_alone(short: Path) -> None:
    here = kept(short)
    path = here.path
    here.close()
    dead = socket.socket(socket.AF_UNIX)
    dead.bind(path + ".socket")
    dead.close()
    again = opened_again(path)
    assert isinstance(again, Keeper)
    joined(path).close()
    again.close()
    Path(path + ".socket").write_text("mine", encoding="ascii")
    again = opened_again(path)
    assert isinstance(again, Keeper)
    joined(path).close()
    again.close()
    assert Path(path + ".socket").read_text(encoding="ascii") == "mine"


def test_a_keeper_that_hangs_counts_as_gone_and_is_not_taken_over_while_it_has_the_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(joining, "ANSWER_S", 0.3)
    monkeypatch.setattr(address, "CONNECT_S", 0.1)
    here = kept(tmp_path)
    there = joined(here.path)
    here.run.turn.acquire()  # as if its disk hung
    refused = there.submit(note("hangs"))
    assert isinstance(refused, Refusal)
    assert "Whether this last act is kept" in refused.reason
    until(lambda: there.lost)
    refused = there.submit(want.Resume("Uma"))
    assert isinstance(refused, Refusal)
    assert "cannot be taken over yet" in refused.reason
    here.run.turn.release()
    until(lambda: not there.lost)
    assert not isinstance(there.submit(note("again")), Refusal)
    assert Counter(event.words for event in here.state.exceptions) == Counter(("hangs", "again"))
    there.close()
    here.close()


def test_without_such_sockets_a_port_and_a_token_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("runner.record.shared.address.socket_paths", lambda _: ())
    here = kept(tmp_path)
    assert here.place is not None
    assert Path(here.place.path).stat().st_mode & 0o777 == 0o600
    there = joined(here.path)
    assert not isinstance(there.submit(note("by port")), Refusal)
    there.close()
    port = Path(here.place.path)
    port.write_text(port.read_text().split()[0] + " " + "0" * 64, encoding="ascii")
    turned = join(here.path, SystemClock(), "x", "B", lambda: opened_again(here.path))
    assert turned == Refused("This terminal may not join.")
    here.close()
    assert not port.exists()


def test_where_there_is_no_place_to_meet_the_run_goes_on_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("runner.record.shared.address.socket_paths", lambda _: ())
    monkeypatch.setattr("runner.record.shared.address.write_private", failing_write)
    here = kept(tmp_path)
    assert here.alone == "No other terminal can join this run: No space left on device."
    assert not isinstance(here.submit(note("alone")), Refusal)
    assert call(here.path) == Refused(NOBODY)
    here.close()


def failing_write(_path: str, _text: str) -> None:
    """A full disk."""
    raise OSError(errno.ENOSPC, "No space left on device")


def test_a_record_that_was_changed_is_not_followed(tmp_path: Path) -> None:
    here = kept(tmp_path)
    here.submit(note("kept"))
    with Path(here.path).open("r+b") as file:
        file.seek(300)
        file.write(b"#")
    refused = join(here.path, SystemClock(), "session", "B", lambda: opened_again(here.path))
    assert isinstance(refused, Refused)
    assert "The record cannot be followed: line 1" in refused.words
    here.close()
