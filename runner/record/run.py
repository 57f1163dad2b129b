"""A run, through its one door: an intent goes in, what happened comes out, and it is on the disk by then.

`submit` stamps, decides, keeps, and only then moves the state and tells the listeners. A refusal changes nothing.
When the record cannot be written the state stays as it was and nothing more is taken: the run is opened again.
One caller at a time gets in; a second one waits.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import reduce
from threading import Lock

from runner.engine.decide import AnyIntent, decide
from runner.engine.events import ClockStepped, Event, PinRefused, Resumed, RunBegun, SiteRead, TailSetAside
from runner.engine.evolve import begin_state, evolve
from runner.engine.intents import (
    Abandon,
    BeginRun,
    CloseException,
    DoSafeAct,
    HandOver,
    MakeSafe,
    NoteException,
    Refusal,
    Resume,
    SignOn,
    SignRun,
    SkipSafeAct,
    Wanted,
    WithPin,
)
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.procedure.site_facts import with_pieces
from runner.record.clock import Clock, clock_step
from runner.record.disk import DISK, Io
from runner.record.identity import checked, of_site, role_refusal, site_changed, unqualified, wrong_pin
from runner.record.journal import Journal, create_journal
from runner.record.line import Entry, Mark
from runner.record.opening import open_journal
from runner.record.reading import Reading, lines_of
from runner.record.recognised import Recognised
from runner.record.refused import Refused
from runner.record.register import Known, lost
from runner.record.registering import Registrar, kind_of
from runner.record.still_open import left_open
from runner.record.store import Store, mixed
from runner.record.terminal import signer_of
from runner.say.text import say

Listener = Callable[[tuple[Event, ...]], None]
"""Told of what happened, in the thread that submitted it."""

Watcher = Callable[[tuple[Event, ...], int, int], None]
"""Told of what was kept, with the numbers of its first and its last line."""


class Run:
    """One run that this process writes. Made by `begin` and `resume`."""

    def __init__(self, procedure: Procedure, state: RunState, journal: Journal, clock: Clock, last: Moment) -> None:
        self.procedure = procedure
        self.state = state
        self.interrupted = False
        """True after `resume` of a run that was neither paused nor made safe: a Resume intent is due."""
        self.journal = journal
        self.clock = clock
        self.last = last
        """When the newest event happened."""
        self.listeners: list[Listener] = []
        self.watchers: list[Watcher] = []
        """Told in the order of the lines, of refused acts that are kept as well, while nobody else gets in: they may not wait."""
        self.touched: dict[str, int] = {}
        """By step, the number of the newest line about it that this process wrote."""
        self.turn = Lock()
        self.terminal = ""
        """Where the act that has its turn was done; empty for here."""
        self.recognised = Recognised()
        self.site: Site | None = None
        """Whose people give PINs here; as the site file is now, not as it was when the run began."""
        self.opened = last
        """When this process took the run up."""
        self.registrar = Registrar(journal.path, journal.mark.run, journal.mark.mode, journal.io)
        """Enters how far the record has come into the register of heads."""
        journal.signing = signer_of

    @classmethod
    def begin(
        cls,
        store: Store,
        procedure: Procedure,
        intent: BeginRun,
        clock: Clock,
        io: Io = DISK,
        site: Site | None = None,
    ) -> "Run | Refusal":
        """Begin a run of a procedure. Nothing lies in the store where it is refused. A site counts in live runs of
        people: its persons and roles are pinned and asked for."""
        now = clock.now()
        if site is not None and intent.mode == "live" and not intent.played:
            refused = role_refusal(site, procedure, intent, now)
            if refused is not None:
                return refused
        if site is not None:
            intent = of_site(site, procedure, intent, now)
            procedure = with_pieces(procedure, site.facts.pieces)
        if intent.mode == "live" and not intent.played:
            intent = replace(intent, left_open=left_open(store, procedure.equipment, site.blocks if site else ()))
        state = begin_state(procedure)
        decided = decide(procedure, state, replace(intent, at=now))
        if isinstance(decided, Refusal):
            return decided
        path = store.new_path(intent.run, intent.mode, now)
        if isinstance(path, Refused):
            return Refusal(path.words)
        journal = create_journal(path, io, Mark(intent.run, intent.mode))
        if isinstance(journal, Refused):
            return Refusal(journal.words)
        run = cls(procedure, state, journal, clock, now)
        run.site = site
        refused = run.keep(decided)
        if refused is not None:
            run.close()
            return refused
        return run

    @classmethod
    def resume(
        cls,
        path: str,
        clock: Clock,
        io: Io = DISK,
        site: Site | None = None,
        after_end: bool = False,
    ) -> "Run | Refused":
        """Go on with the run whose journal lies at a path, from the procedure pinned in it. `after_end` takes one that
        has ended, and no other: for its review."""
        registrar = Registrar.of(path, io)
        replay = Replay(path, registrar.known())
        journal = open_journal(path, io, replay.take, after_end, replay.lost)
        if isinstance(journal, Refused):
            return journal
        if replay.procedure is None or replay.state is None or replay.last is None:
            journal.close()
            return Refused(say("Nothing was kept in {path}: its run never began. Begin a new one.", path=path))
        run = cls(replay.procedure, replay.state, journal, clock, replay.last)
        run.interrupted = not (replay.state.halted or replay.state.outcome)
        now = clock.now()
        run.site, run.opened, run.registrar = site, now, registrar
        site_now = site_changed(site, replay.state, now)
        aside = tuple(TailSetAside("", now, tail.size, tail.file) for tail in journal.asides)
        refused = run.keep((*aside, *site_now)) if aside or site_now else None
        if refused is not None:
            run.close()
            return Refused(refused.reason)
        return run

    @property
    def path(self) -> str:
        """Of the journal."""
        return self.journal.path

    @property
    def head(self) -> str:
        """The hash of the newest line, which vouches for all before it where it is put down elsewhere."""
        return self.journal.head

    @property
    def poisoned(self) -> str:
        """Why nothing more can be written; empty while all is well."""
        return self.journal.poisoned

    def now(self) -> Moment:
        """This moment, by the run's clock."""
        return self.clock.now()

    def listen(self, listener: Listener) -> None:
        """Tell `listener` of all that happens from now on."""
        self.listeners.append(listener)

    def submit(self, intent: Wanted, terminal: str = "", seen: int | None = None) -> tuple[Event, ...] | Refusal:
        """What the intent led to, kept; or why it was not taken. Wrong PINs are kept, as events of their own.

        `terminal` names another terminal than this one. `seen` is the newest line that the person there had before them:
        an act at a step counts only for the step as it was seen.
        """
        with self.turn:
            self.terminal = terminal
            wanted = intent
            intent = wanted.intent if isinstance(wanted, WithPin) else wanted
            if self.poisoned:
                return not_written(self.poisoned)
            if self.journal.closed:
                return Refusal(say("This run was left here. Resume it to go on."))
            refused = self.out_of_turn(intent) or self.unseen(intent, seen)
            if refused is not None:
                return refused
            now = self.clock.now()
            if self.state.unknown and self.site is not None:
                refused = role_refusal(self.site, self.procedure, intent, now)
                if refused is not None:
                    return refused
            verified = self.verified(wanted, now)
            if isinstance(verified, Refusal):
                return verified
            told = unqualified(self.site, self.procedure, intent, now) if self.state.unknown else ()
            intent = replace(intent, at=now, verified=verified, told=told)
            if isinstance(intent, SignRun):
                intent = replace(intent, head=self.head, count=self.journal.number)
            decided = decide(self.procedure, self.recognised.seen_from(self.state, terminal), intent)
            if isinstance(decided, Refusal):
                return (self.keep(decided.kept) if decided.kept else None) or decided
            if not decided:
                return decided
            step = clock_step(self.last, now)
            if step is not None:
                decided = (ClockStepped("", now, step), *decided)
            refused = self.keep(decided)
            if refused is not None:
                return refused
        for listener in self.listeners:
            listener(decided)
        return decided

    def verified(self, wanted: Wanted, now: Moment) -> tuple[str, ...] | Refusal:
        """The names whose PINs are right; a wrong one is kept, and the refusal says how long no further one is taken."""
        if not isinstance(wanted, WithPin):
            return ()
        for name, pin in wanted.pins:
            refused = checked(self.site, self.state, wanted.intent, name, pin, self.opened, now)
            if isinstance(refused, PinRefused):
                kept = self.keep((refused,))
                return kept or wrong_pin(refused)
            if refused is not None:
                return refused
        return tuple(name for name, _ in wanted.pins)

    def out_of_turn(self, intent: AnyIntent) -> Refusal | None:
        """A run that was found open is resumed before anything goes on; one that goes on is not resumed."""
        if isinstance(intent, Resume) and not (self.interrupted or self.state.halted):
            return Refusal(say("The run is going on; there is nothing to resume."))
        free = (
            Resume | MakeSafe | DoSafeAct | SkipSafeAct | Abandon | NoteException | CloseException | SignOn | HandOver
        )
        if self.interrupted and not isinstance(intent, free):
            return Refusal(say("The program had ended while this run was open. Resume it first."))
        return None

    def unseen(self, intent: AnyIntent, seen: int | None) -> Refusal | None:
        """Refused where the step has moved on since the person last saw it. Noting what is odd is never refused for that."""
        step = getattr(intent, "step", "")
        if seen is None or self.touched.get(step, 0) <= seen or isinstance(intent, NoteException):
            return None
        return Refusal(
            say("Something was done at this step at another terminal meanwhile. Look again, then say it again.")
        )

    def keep(self, events: tuple[Event, ...]) -> Refusal | None:
        """Put the events of one action on the disk, then into the state. The state is made first: it may not fail after."""
        if self.terminal:
            events = tuple(replace(event, terminal=self.terminal) for event in events)
        state = reduce(lambda state, event: evolve(self.procedure, state, event), events, self.state)
        before = self.journal.number
        refused = self.journal.append(events)
        if refused is not None:
            return (
                not_written(refused.words)
                if self.poisoned
                else Refusal(say("{why}. Say it in other words.", why=refused.words))
            )
        self.state, self.last = state, events[-1].at
        self.recognised.kept(events)
        self.registrar.enter(
            kind_of(events, not before, self.journal.ended), self.head, self.journal.number, self.last.utc
        )
        if any(isinstance(event, Resumed) for event in events):
            self.interrupted = False
        last = self.journal.number
        self.touched.update((step, last) for step in (getattr(event, "step", "") for event in events) if step)
        for watcher in self.watchers:
            watcher(events, before + 1, last)
        return None

    def entries(self) -> Iterator[Entry]:
        """Everything that is kept, read back from the disk. Raises OSError where the disk does not give it."""
        with self.journal.io.open_read(self.path) as file:
            for action in Reading().actions(lines_of(file)):
                yield from action

    def close(self) -> None:
        """Let go of the journal. Nothing needs to be written: what counts is kept. How far it has come is registered."""
        with self.turn:
            if self.journal.number and not (self.poisoned or self.journal.closed):
                kind = "closed" if self.journal.ended else "reached"
                self.registrar.enter(kind, self.head, self.journal.number, self.last.utc)
            self.journal.close()


def not_written(words: str) -> Refusal:
    """The record could not be written."""
    return Refusal(
        say(
            "The record could not be written ({why}). Whether this last act is kept shows when the run is opened again; nothing more is accepted here. Stop and make safe by hand; make room on the disk or have it mended, then leave and resume the run.",
            why=words,
        )
    )


class Replay:
    """Folds the lines of a journal into a state, one by one."""

    def __init__(self, path: str, known: tuple[Known, ...] = ()) -> None:
        self.path = path
        self.known = known
        """What the register of heads says of the run."""
        self.counts = {one.count for one in known}
        self.hashes: dict[int, str] = {}
        self.procedure: Procedure | None = None
        self.state: RunState | None = None
        self.last: Moment | None = None

    def take(self, entry: Entry) -> Refused | None:
        """One more line."""
        event = entry.event
        if entry.number in self.counts:
            self.hashes[entry.number] = entry.hash
        if self.procedure is None or self.state is None:
            procedure = pinned_procedure(event) if isinstance(event, RunBegun) else None
            refused = mixed(self.path, entry.mark.mode, entry.mark.run)
            if refused is not None:
                return refused
            if not isinstance(procedure, Procedure):
                return procedure or Refused(say("It begins with no run-begun event."))
            self.procedure, self.state = procedure, begin_state(procedure)
        self.state = evolve(self.procedure, self.state, event)
        if isinstance(event, SiteRead):
            self.procedure = with_pieces(self.procedure, event.pieces)
        self.last = event.at
        return None

    def lost(self, number: int, zeros: bool) -> str:
        """Why the run is not gone on with: the register knows lines that the journal, up to a number, has not."""
        return lost(self.known, self.hashes, number, zeros)


def pinned_procedure(begun: RunBegun) -> Procedure | Refused:
    """The procedure as it was when the run began, compiled from the text in the journal. Files on disk do not matter."""
    from runner.procedure.compile import compile_procedure

    if not begun.sources:
        return Refused(say("The record holds no procedure text: it cannot be gone on with."))
    path, text = begun.sources[0]
    compiled = compile_procedure(text, path, dict(begun.sources[1:]).get)
    if compiled.procedure is None:
        first = compiled.findings[0] if compiled.findings else None
        words = f" ({first.place.line}: {first.message})" if first is not None else ""
        return Refused(
            say(
                "This version of the program does not take the procedure that the run began with{words}. Go on with {program}.",
                words=words,
                program=begun.program,
            )
        )
    if compiled.procedure.digest != begun.digest:
        return Refused(
            say(
                "The procedure text in the record does not fit its digest. Go on with {program}.", program=begun.program
            )
        )
    return compiled.procedure
