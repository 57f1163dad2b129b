"""A run that another terminal keeps, behind the same few methods: what is wanted goes there, what happened is read here.

A thread listens to the keeper. Where the line is cut it calls again and asks once more for the answer that is due, by its
number, so that a lost answer doubles nothing. Where the keeper is gone the run is `lost`: the next act takes it over, as
`resume` would, and from then on it is kept here.
"""

import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress

from runner.engine.events import Event
from runner.engine.intents import Refusal, Resume, Wanted, WithPin
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.record.clock import Clock
from runner.record.line import Entry
from runner.record.reading import Reading, lines_of
from runner.record.refused import Refused
from runner.record.shared.address import Line, call
from runner.record.shared.follow import Follower
from runner.record.shared.keeper import Keeper, Watch
from runner.record.shared.messages import (
    KEEPER,
    NOT_SENT,
    VERSION,
    Answer,
    Ask,
    Bad,
    Broken,
    Bye,
    Closed,
    FromJoined,
    Grown,
    Hello,
    Lines,
    Told,
    TooLongError,
    TurnedAway,
    Welcome,
    decode,
    encode,
)
from runner.say.text import mark, say

ANSWER_S = 6.0
"""A keeper that says nothing for so long counts as gone; its lock says whether it is."""
AGAIN_S = (0.0, 0.1, 0.3)
"""After so long each a cut line is tried again before anybody is told."""
RETRY_S = 1.0
PART = 1 << 16

DIED = mark("The terminal that keeps the record does not answer any more.")
LEFT = mark("The terminal that kept the record has left the run.")
OPEN_QUESTION = mark("Whether this last act is kept shows when the run goes on. Look before you say it again.")


class Joined:
    """One sitting at a joined terminal. Made by `join`."""

    joined = True

    def __init__(
        self, path: str, clock: Clock, session: str, terminal: str, reopen: Callable[[], Keeper | Refused]
    ) -> None:
        self.follower = Follower(path)
        self.clock, self.session, self.terminal, self.reopen = clock, session, terminal, reopen
        self.keeper = ""
        self.kept_here: Keeper | None = None
        self.lost = ""
        self.broken = ""
        self.taking = False
        """The run is being taken over here, or is kept here by now."""
        self.due = False
        """A Resume intent is due."""
        self.line: Line | None = None
        self.lines = Lines()
        self.ready: list[bytes] = []
        self.number = 0
        self.asked: Ask | None = None
        self.answer: Answer | Refusal | None = None
        self.turn = threading.Lock()
        self.change = threading.Condition()
        self.closing = threading.Event()
        self.watchers: list[Watch] = []
        self.thread = threading.Thread(target=self.listen, name="keeper of the record", daemon=True)

    @property
    def procedure(self) -> Procedure:
        """Compiled, as pinned in the record."""
        return self.follower.procedure

    @property
    def state(self) -> RunState:
        """As of the newest line that is on the disk."""
        return self.kept_here.state if self.kept_here is not None else self.follower.state

    @property
    def interrupted(self) -> bool:
        """True where a Resume intent is due."""
        return self.kept_here.interrupted if self.kept_here is not None else self.due

    @property
    def path(self) -> str:
        """Of the record."""
        return self.follower.path

    @property
    def head(self) -> str:
        """The hash of the newest line."""
        return self.kept_here.head if self.kept_here is not None else self.follower.verifier.head

    @property
    def goes_on(self) -> bool:
        """True while another terminal keeps the record."""
        return self.kept_here is None and not self.lost

    @property
    def poisoned(self) -> str:
        """Why nothing more is taken; empty while all is well."""
        return self.kept_here.poisoned if self.kept_here is not None else self.broken

    def now(self) -> Moment:
        """This moment."""
        return self.clock.now()

    def entries(self) -> Iterator[Entry]:
        """Everything that is kept, up to what is seen here."""
        if self.kept_here is not None:
            yield from self.kept_here.entries()
            return
        with self.follower.io.open_read(self.path) as file:
            for action in Reading().actions(lines_of(file)):
                yield from (entry for entry in action if entry.number <= self.follower.number)

    def watch(self, watcher: Watch) -> None:
        """Tell `watcher` of all that is not done here."""
        self.watchers.append(watcher)
        if self.kept_here is not None:
            self.kept_here.watch(watcher)

    def tell(self, words: str, events: tuple[Event, ...] = ()) -> None:
        """Tell the terminal here; what was done at it is left out."""
        others = tuple(event for event in events if event.terminal != self.terminal)
        for watcher in self.watchers:
            watcher(words, others)

    def submit(self, intent: Wanted) -> tuple[Event, ...] | Refusal:
        """What the intent led to, kept by the keeper and read here; or why it was not taken."""
        with self.turn:
            if self.kept_here is not None:
                return self.kept_here.submit(intent)
            if self.broken:
                return Refusal(self.broken)
            if self.state.outcome and self.line is None:
                return Refusal(say("The run is {outcome}; nothing is added to it.", outcome=self.state.outcome))
            if self.lost:
                return self.take_over(intent)
            bare, pins = (intent.intent, intent.pins) if isinstance(intent, WithPin) else (intent, ())
            if isinstance(bare, NOT_SENT):
                return Refusal(say("That cannot be done at this terminal."))
            self.number += 1
            ask = Ask(self.number, self.follower.number, bare, pins)
            return self.ask(ask)

    def ask(self, ask: Ask) -> tuple[Event, ...] | Refusal:
        """Send, and wait for the answer, over another line where this one is cut."""
        try:
            encode(ask)
        except TooLongError:
            return Refusal(say("That is too long for the terminal that keeps the record. Say it in fewer words."))
        with self.change:
            self.asked, self.answer = ask, None
            self.send(ask)
            if not self.answered():
                self.hang_up()
                self.answered()
            answer = self.take_answer()
        if isinstance(answer, Answer):
            events = self.follower.events(answer.first, answer.last) if answer.first else ()
            return events if answer.taken else Refusal(answer.reason, answer.missing, events, answer.pin_of)
        return answer or Refusal(f"{say(DIED)} {say(OPEN_QUESTION)}")

    def answered(self) -> bool:
        """Wait for the answer; False where none comes in time."""
        return self.change.wait_for(lambda: self.answer is not None, ANSWER_S)

    def take_answer(self) -> Answer | Refusal | None:
        """The answer that is there; nothing is asked any more."""
        answer, self.asked = self.answer, None
        return answer

    def take_over(self, intent: Wanted) -> tuple[Event, ...] | Refusal:
        """Keep the run here from now on, as it is opened again, then do what is wanted.

        A Resume only opens it: what is open is read before the run is resumed.
        """
        self.taking = True
        opened = self.reopen()
        if isinstance(opened, Refused):
            self.taking = False
            return Refusal(say("The run cannot be taken over yet: {why}", why=opened.words))
        for watcher in self.watchers:
            opened.watch(watcher)
        self.kept_here, self.lost = opened, ""
        self.hang_up()
        bare = intent.intent if isinstance(intent, WithPin) else intent
        return () if isinstance(bare, Resume) else opened.submit(intent)

    def close(self) -> None:
        """Leave: the run goes on without this terminal, or is closed where it is kept here."""
        self.closing.set()
        self.send(Bye())
        self.hang_up()
        if self.kept_here is not None:
            self.kept_here.close()

    def send(self, message: FromJoined) -> None:
        """To the keeper; where the line is cut it is found out by who listens."""
        if self.line is not None:
            with suppress(OSError):
                self.line.socket.sendall(encode(message))

    def hang_up(self) -> None:
        """Cut the line."""
        if self.line is not None:
            with suppress(OSError):
                self.line.socket.shutdown(socket.SHUT_RDWR)

    def call(self) -> Refused | None:
        """A line to the keeper, with a Hello and a Welcome; the record read as far as it says."""
        line = call(self.path)
        if isinstance(line, Refused):
            return line
        self.line, self.lines, self.ready = line, Lines(), []
        try:
            line.socket.sendall(encode(Hello(VERSION, self.session, self.terminal, line.token)))
            welcome = self.receive()
            line.socket.settimeout(None)
        except OSError:
            welcome = None
        if not isinstance(welcome, Welcome):
            line.socket.close()
            self.line = None
            return Refused(welcome.words if isinstance(welcome, TurnedAway) else say(DIED))
        self.terminal = welcome.terminal
        events = self.follower.read_to(welcome.number)
        if isinstance(events, Refused):
            line.socket.close()
            self.line = None
            return events
        with self.change:
            self.due, self.lost = welcome.interrupted, ""
            if self.asked is not None and self.answer is None:
                if welcome.keeper == self.keeper:
                    self.send(self.asked)
                else:
                    self.answer = Refusal(f"{say('Another terminal keeps the record now.')} {say(OPEN_QUESTION)}")
                    self.change.notify_all()
            self.keeper = welcome.keeper
        self.tell("", events)
        return None

    def receive(self) -> object:
        """The next message; None where the line is cut or what comes is none. Raises OSError."""
        while not self.ready:
            if self.line is None:
                return None
            content = self.line.socket.recv(PART)
            found = self.lines.take(content) if content else Bad("has ended")
            if isinstance(found, Bad):
                return None
            self.ready = found
        message = decode(self.ready.pop(0), KEEPER)
        return None if isinstance(message, Bad) else message

    def listen(self) -> None:
        """The thread: until `close`, or until the run is kept here."""
        while not self.closing.is_set() and self.kept_here is None:
            try:
                message = self.receive()
            except OSError:
                message = None
            if not self.took(message):
                self.again(say(LEFT if isinstance(message, Closed) else DIED))
        if self.line is not None:
            self.line.socket.close()

    def took(self, message: object) -> bool:
        """What a message means here; False where the line is of no use any more."""
        match message:
            case Grown():
                return self.read_on(message.number, message.interrupted)
            case Answer():
                if not self.read_on(max(message.last, self.follower.number), self.due):
                    return False
                with self.change:
                    if self.asked is not None and self.asked.number == message.number:
                        self.answer = message
                        self.change.notify_all()
            case Broken():
                self.broken = message.words
                self.tell("")
            case Told():
                self.tell(message.words)
            case _:
                return False
        return True

    def read_on(self, number: int, interrupted: bool) -> bool:
        """Read the record on; where that fails nothing more is taken here."""
        events = self.follower.read_to(number)
        if isinstance(events, Refused):
            self.broken = events.words
            self.tell("")
            return False
        changed, self.due = interrupted != self.due, interrupted
        if events or changed:
            self.tell("", events)
        return True

    def again(self, why: str) -> None:
        """Call again; where nobody answers, say so and go on trying until the run is taken over somewhere."""
        if self.line is not None:
            self.line.socket.close()
            self.line = None
        waits = [0.0, *AGAIN_S]
        while not self.closing.wait(waits.pop(0) if waits else RETRY_S):
            if self.taking or self.broken or self.follower.state.outcome:
                self.closing.wait(RETRY_S)
                continue
            if self.call() is None:
                return
            if not waits and not self.lost:
                with self.change:
                    self.lost = why
                    if self.asked is not None and self.answer is None:
                        self.answer = Refusal(f"{why} {say(OPEN_QUESTION)}")
                    self.change.notify_all()
                self.tell("")


def join(
    path: str, clock: Clock, session: str, terminal: str, reopen: Callable[[], Keeper | Refused]
) -> Joined | Refused:
    """Join the run whose journal lies at a path. `reopen` opens it to be kept here, once nobody else does."""
    joined = Joined(path, clock, session, terminal, reopen)
    refused = joined.call()
    if refused is not None:
        return refused
    joined.thread.start()
    return joined
