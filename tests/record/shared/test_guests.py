"""The keeper's side without a socket: who is let in, each act once, and who talks out of turn is dropped."""

from runner.engine import intents as want
from runner.engine.intents import Refusal, Wanted
from runner.record.shared.guests import LONGEST_NAME, MOST_GUESTS, MOST_SESSIONS, Done, Guests, Standing
from runner.record.shared.messages import VERSION, Answer, Ask, Bye, Hello, Told, TurnedAway, Welcome

STANDING = Standing("run-1", 7, False)
NOTE = want.NoteException("Uma", "", "other", "note", "wet")


class Host:
    """Guests of a run that takes everything, or refuses everything."""

    def __init__(self, token: str = "", refusal: Refusal | None = None) -> None:
        self.refusal, self.done = refusal, list[tuple[Wanted, str, int]]()
        self.guests = Guests("keeper", token, self.submit)

    def submit(self, wanted: Wanted, terminal: str, seen: int) -> Done:
        self.done.append((wanted, terminal, seen))
        return Done(self.refusal) if self.refusal else Done(None, 8, 8 + len(self.done))

    def hello(
        self, connection: int, session: str = "s", name: str = "B", token: str = "", version: int = VERSION
    ) -> object:
        return self.guests.came(connection, Hello(version, session, name, token), STANDING)


def test_a_hello_is_answered_with_how_the_run_stands() -> None:
    host = Host()
    led = host.guests.came(1, Hello(VERSION, "s", "B"), STANDING)
    assert led.replies == (Welcome(VERSION, "keeper", "run-1", 7, False, "B"),)
    assert led.notice == "Terminal B has joined this run."
    assert not led.end


def test_a_wrong_token_or_another_version_is_turned_away() -> None:
    host = Host(token="right")
    for hello in (Hello(VERSION, "s", "B", "wrong"), Hello(VERSION, "s", "B"), Hello(VERSION + 1, "s", "B", "right")):
        led = host.guests.came(1, hello, STANDING)
        assert isinstance(led.replies[0], TurnedAway)
        assert led.end
    assert host.guests.here == {}
    assert not host.guests.came(1, Hello(VERSION, "s", "B", "right"), STANDING).end


def test_nothing_is_done_for_whoever_has_not_said_hello() -> None:
    host = Host()
    assert host.guests.came(1, Ask(1, 0, NOTE), STANDING).end
    assert host.done == []


def test_a_second_hello_and_an_older_number_end_the_connection() -> None:
    host = Host()
    host.hello(1)
    assert host.guests.came(1, Hello(VERSION, "s", "B"), STANDING).end
    host.hello(2)
    for number in (1, 2):
        host.guests.came(2, Ask(number, 0, NOTE), STANDING)
    assert host.guests.came(2, Ask(1, 0, NOTE), STANDING).end
    assert len(host.done) == 2


def test_the_same_number_gets_the_same_answer_and_is_done_once_over_another_connection_too() -> None:
    host = Host()
    host.hello(1)
    first = host.guests.came(1, Ask(1, 7, NOTE), STANDING).replies
    again = host.guests.came(2, Hello(VERSION, "s", "B"), STANDING)
    assert again.drop == (1,)
    assert again.notice == ""
    assert host.guests.came(2, Ask(1, 7, NOTE), STANDING).replies == first == (Answer(1, True, 8, 9),)
    assert host.done == [(NOTE, "B", 7)]


def test_a_refusal_is_answered_once_too() -> None:
    host = Host(refusal=Refusal("Not yet.", ("the guard",), pin_of="Lena"))
    host.hello(1)
    expected = (Answer(1, False, 0, 0, "Not yet.", ("the guard",), "Lena"),)
    assert host.guests.came(1, Ask(1, 0, NOTE), STANDING).replies == expected
    assert host.guests.came(1, Ask(1, 0, NOTE), STANDING).replies == expected
    assert len(host.done) == 1


def test_a_name_is_cleaned_cut_and_one_of_a_kind() -> None:
    host = Host()
    for connection, (name, known) in enumerate(
        [
            ("B", "B"),
            ("B", "B (2)"),
            ("B", "B (3)"),
            ("\x1b[2J", "␛[2J"),
            ("  ", "another"),
            ("x" * 99, "x" * LONGEST_NAME),
        ]
    ):
        host.hello(connection, f"s{connection}", name)
        assert host.guests.here[connection].terminal == known


def test_there_is_room_for_so_many_and_no_more() -> None:
    host = Host()
    for connection in range(MOST_GUESTS):
        host.hello(connection, f"s{connection}")
    led = host.guests.came(99, Hello(VERSION, "s99", "B"), STANDING)
    assert isinstance(led.replies[0], TurnedAway)
    assert host.guests.came(0, Bye(), STANDING).end
    assert not host.guests.came(99, Hello(VERSION, "s99", "B"), STANDING).end


def test_who_leaves_is_told_of_to_the_others_once() -> None:
    host = Host()
    host.hello(1, "s1", "B")
    host.hello(2, "s2", "C")
    led = host.guests.gone(1)
    assert led.others == (Told(led.notice),)
    assert "B has left" in led.notice
    assert host.guests.gone(1).notice == ""


def test_answers_are_remembered_of_so_many_sessions() -> None:
    host = Host()
    for at in range(MOST_SESSIONS + 50):
        host.hello(at, f"s{at}")
        host.guests.came(at, Ask(1, 0, NOTE), STANDING)
        host.guests.gone(at)
    assert len(host.guests.answers) == MOST_SESSIONS
