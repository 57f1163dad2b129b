"""The keeper's side of the talk: who has joined, and what each message leads to. Pure; the run's door is an argument.

Each intent is done once: its answer is remembered until the next one of its session, and the same number again gets it
anew. Whoever talks out of turn is dropped; nobody else notices.
"""

from collections import OrderedDict
from collections.abc import Callable
from typing import NamedTuple, assert_never

from runner.engine.intents import Refusal, Wanted
from runner.procedure.clean import clean
from runner.record.shared.messages import (
    VERSION,
    Answer,
    Ask,
    Bye,
    FromJoined,
    FromKeeper,
    Hello,
    Told,
    TurnedAway,
    Welcome,
)
from runner.say.text import say

MOST_GUESTS = 8
MOST_SESSIONS = 1000
"""Whose last answer is remembered."""
LONGEST_NAME = 40


class Done(NamedTuple):
    """What the run made of an intent: `first` to `last` are the lines kept because of it, 0 where there are none."""

    refusal: Refusal | None
    first: int = 0
    last: int = 0


class Standing(NamedTuple):
    """How the run stands, for a Welcome."""

    run: str
    number: int
    interrupted: bool


class Guest(NamedTuple):
    """A terminal that has joined."""

    session: str
    terminal: str


class Led(NamedTuple):
    """What a message led to."""

    replies: tuple[FromKeeper, ...] = ()
    """To the one it came from, in order."""
    others: tuple[FromKeeper, ...] = ()
    """To all other guests."""
    end: bool = False
    """The connection ends after the replies."""
    drop: tuple[int, ...] = ()
    """Connections that end because this one took their place."""
    notice: str = ""
    """Said at the keeper's terminal."""


class Guests:
    """All that have joined, by the number of their connection."""

    def __init__(self, keeper: str, token: str, submit: Callable[[Wanted, str, int], Done]) -> None:
        self.keeper, self.token, self.submit = keeper, token, submit
        self.here: dict[int, Guest] = {}
        self.answers: OrderedDict[str, Answer] = OrderedDict()

    def came(self, connection: int, message: FromJoined, standing: Standing) -> Led:
        """What a message leads to."""
        match message:
            case Hello():
                return self.hello(connection, message, standing)
            case Ask():
                return self.ask(connection, message)
            case Bye():
                return self.gone(connection)._replace(end=True)
            case _:
                assert_never(message)

    def hello(self, connection: int, hello: Hello, standing: Standing) -> Led:
        """Let in, or turned away with a reason."""
        if connection in self.here:
            return self.gone(connection)._replace(end=True)
        if hello.token != self.token:
            return turned_away(say("This terminal may not join."))
        if hello.version != VERSION:
            return turned_away(
                say("The other terminal runs another version of this program; use the same one for both.")
            )
        old = tuple(other for other, guest in self.here.items() if guest.session == hello.session)
        for other in old:
            del self.here[other]
        if len(self.here) >= MOST_GUESTS:
            return turned_away(say("{count} terminals have joined this run already.", count=MOST_GUESTS))
        name = self.free_name(hello.terminal)
        self.here[connection] = Guest(hello.session, name)
        joined = "" if old else say("Terminal {name} has joined this run.", name=name)
        others = (Told(joined),) if joined else ()
        welcome = Welcome(VERSION, self.keeper, standing.run, standing.number, standing.interrupted, name)
        return Led((welcome,), others, drop=old, notice=joined)

    def free_name(self, wanted: str) -> str:
        """A name that no other guest has."""
        base = clean(wanted).strip()[:LONGEST_NAME] or "another"
        taken = {guest.terminal for guest in self.here.values()}
        names = (base, *(f"{base} ({count})" for count in range(2, MOST_GUESTS + 2)))
        return next(name for name in names if name not in taken)

    def ask(self, connection: int, ask: Ask) -> Led:
        """Do it once, and answer; or answer again."""
        guest = self.here.get(connection)
        if guest is None:
            return Led(end=True)
        before = self.answers.get(guest.session)
        if before is not None and ask.number <= before.number:
            if ask.number == before.number:
                return Led((before,))
            return self.gone(connection)._replace(end=True)
        done = self.submit(ask.wanted, guest.terminal, ask.seen)
        answer = Answer(ask.number, done.refusal is None, done.first, done.last)
        if done.refusal is not None:
            refusal = done.refusal
            answer = Answer(
                ask.number,
                False,
                done.first,
                done.last,
                str(refusal.reason),
                tuple(map(str, refusal.missing)),
                refusal.pin_of,
            )
        self.answers[guest.session] = answer
        self.answers.move_to_end(guest.session)
        while len(self.answers) > MOST_SESSIONS:
            self.answers.popitem(last=False)
        return Led((answer,))

    def gone(self, connection: int) -> Led:
        """A connection has ended, or must."""
        guest = self.here.pop(connection, None)
        if guest is None:
            return Led()
        words = say("Terminal {name} has left this run; its list can be done here.", name=guest.terminal)
        return Led(others=(Told(words),), notice=words)


def turned_away(words: str) -> Led:
    """Not let in."""
    return Led((TurnedAway(words),), end=True)
