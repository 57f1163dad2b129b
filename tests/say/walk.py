"""Pages in another language: a person goes everywhere that keys lead from the places of a run, and every screen is kept.

A page is known by its kind, title and what was said on it, so that each is looked at once and the walk ends.
"""

import copy
import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple, Protocol

from runner.engine.events import Event
from runner.engine.intents import Pause
from runner.screen.blocks import Act, Sheet
from runner.screen.desk import Send
from runner.screen.keys import KEYS
from runner.screen.pages.lost import LostPage
from runner.screen.pages.pin import PinPage
from runner.screen.shell import Shell
from runner.screen.view import Stage, StepView
from runner.screen.widgets.lines import text_of, width_of
from tests.procedures.shipped import ANSWERS, FOLDER, procedure_of
from tests.screen.bench import CREW, INPUTS, MemoryRun, Person, compiled
from tests.screen.test_carried import DENT, LATCH
from tests.screen.test_home import LISTING, Visitor
from tests.screen.test_shipped import Operator
from tests.screen.test_start import Starting

SIZES = ((80, 24), (120, 40))
PRESSED = ("enter", "f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "tab", "escape")
TYPED = ("S. Lind", "1,5", "because it is so", "square", "6.2", "all")
DEEP = 3
"""Acts from a place of the run."""
DIGITS = re.compile(r"\d+")
WORD = re.compile(r"[^\W\d_]{2,}")
PAIR = re.compile(r"(?<![^\W_])(?=([A-Za-z]{2,}) ([A-Za-z]{2,})(?![^\W_]))")
VALUE = re.compile(r"\d[\d.]* [A-Za-z]+\b|[0-9a-f]{4}( [0-9a-f]{4})+|[0-9A-Z]{4}(-[0-9A-Z]{4})+(-.)?")
"""Numbers with a unit, hashes and the codes of heads."""
CUT = re.compile(r"[^\s│]*\.\.")
SHIPPED = "change-roll"


class Seen(NamedTuple):
    """One screen."""

    lines: tuple[str, ...]
    sheet: Sheet
    below: bool
    far: bool

    @property
    def text(self) -> str:
        """The screen as one text."""
        return "\n".join(self.lines)

    @property
    def kind(self) -> tuple[str, str, str]:
        """What makes it a page of its own."""
        step = next((block.word for block in self.sheet.blocks if isinstance(block, Act)), "")
        said = self.lines[-4] if len(self.lines) > 4 else ""
        return (
            self.sheet.page,
            DIGITS.sub("0", f"{self.sheet.title}/{self.sheet.go}/{step}/{self.far}"),
            DIGITS.sub("0", said),
        )


class AtKeys(Protocol):
    """Somebody in front of a screen."""

    shell: Shell


def seen(person: AtKeys) -> Seen:
    """The screen as it is now; every line fills the terminal."""
    drawn = person.shell.picture()
    lines = tuple(text_of(line) for line in drawn.lines)
    assert {width_of(line) for line in lines} == {person.shell.size[0]}, "\n".join(lines)
    return Seen(lines, person.shell.sheet(), drawn.below, person.shell.far)


def forked(person: Person) -> Person:
    """Another person at the same place, whose acts leave the first one where they are."""
    other = copy.copy(person)
    other.run = copy.copy(person.run)
    other.run.events = list(person.run.events)
    other.shell = copy.copy(person.shell)
    other.shell.pages = list(person.shell.pages)
    other.shell.run, other.shell.now = other.run, other.run.now
    return other


def acts(at: Seen) -> Iterator[tuple[str, ...]]:
    """What a person may press on a page: each key, each number, and texts where one is asked for."""
    yield from ((key,) for key in PRESSED)
    if at.sheet.entry is not None:
        yield from ((*text, "enter") for text in TYPED)
    else:
        yield from ((str(number), "enter") for number in range(1, 6))


class Walk:
    """Every screen that was come to."""

    def __init__(self) -> None:
        self.screens: dict[tuple[tuple[int, int], tuple[str, str, str]], Seen] = {}

    def look(self, person: AtKeys) -> Seen | None:
        """The screen, which is kept; None where its page is known."""
        now = seen(person)
        key = (person.shell.size, now.kind)
        if key in self.screens:
            return None
        self.screens[key] = now
        return now

    def around(self, person: Person, at: Seen, deep: int = DEEP) -> None:
        """Everywhere that keys lead from here."""
        if deep == 0:
            return
        for keys in acts(at):
            other = forked(person)
            other.press(*keys)
            found = None if other.shell.left is not None else self.look(other)
            if found is not None:
                self.around(other, found, deep - 1)

    def from_here(self, person: Person, deep: int) -> None:
        """This screen, and what is around it."""
        self.look(person)
        self.around(person, seen(person), deep)


class Watched(Person):
    """Somebody whose pages beside the run's own are looked at after each key."""

    walk: Walk

    def press(self, *keys: str) -> "Watched":
        """Press, and keep what it leads to."""
        for key in keys:
            super().press(key)
            if len(key) > 1 and self.shell.left is None and self.shell.sheet().page != "run":
                self.walk.look(self)
        return self


class Worker(Operator):
    """Leads a shipped procedure to its end, and looks at every screen on the way; looks about at places of a new kind."""

    def __init__(self, name: str, size: tuple[int, int], walk: Walk) -> None:
        super().__init__(procedure_of(name), name)
        self.person = Watched(self.run, size)
        self.person.walk = walk
        self.walk = walk
        self.kinds: set[tuple[Stage, str, int]] = set()
        self.steps: set[str] = set()

    def look(self, step: StepView | None) -> None:
        """Keep the screen of each step, and look about where something comes next that has not come before."""
        if step is None:
            return
        kind = (step.stage, step.ask.kind if step.ask else "", step.entry)
        if kind in self.kinds and step.step.id in self.steps:
            return
        now = self.walk.look(self.person) or seen(self.person)
        if step.step.id not in self.steps:
            self.steps.add(step.step.id)
            whole_instruction(now, step.act)
        if kind not in self.kinds:
            self.kinds.add(kind)
            self.walk.around(self.person, now, 2)


def whole_instruction(at: Seen, act: str) -> None:
    """The act of the step that is up stands on the page from its first word to its last, however long all else is."""
    shown = " ".join(" ".join(line.partition("│")[0] for line in at.lines).split())
    assert at.below or " ".join(act.split()) in shown, at.text


class LostRun(MemoryRun):
    """Joined from another terminal, which has gone."""

    lost = "a/run.journal"
    joined = True

    def watch(self, watcher: Callable[[str, tuple[Event, ...]], None]) -> None:
        """Nothing is told."""


def places(size: tuple[int, int]) -> Iterator[tuple[Person, int]]:
    """Places of a run that no good day leads to, and how far to look about from there."""
    yield Person(MemoryRun(compiled()), size), 2
    for keys in (("f4",), ("f3", "1", "enter"), ("f3", "4", "enter")):
        yield Person(MemoryRun(compiled()), size).press(*keys), 1
    interrupted = MemoryRun(compiled())
    Person(interrupted).press("enter", "enter", "enter")
    interrupted.interrupted, interrupted.boot = True, "another"
    yield Person(interrupted, size), 3
    yield Person(MemoryRun(compiled(), mode="dry"), size), 1
    yield Person(MemoryRun(compiled(), left_open=(DENT, LATCH)), size), 2
    broken = Person(MemoryRun(compiled()), size)
    broken.run.poisoned = "/"
    yield broken.press("enter"), 1
    asked = Person(MemoryRun(compiled()), size)
    asked.shell.pages.append(PinPage(Send(Pause("N. Petrov", "")), "N. Petrov"))
    yield asked, 1
    left = Person(LostRun(compiled()), size)
    left.shell.pages = [LostPage()]
    yield left, 1
    yield Person(MemoryRun(compiled()), (50, 10)), 1


def before_a_run(walk: Walk, size: tuple[int, int]) -> None:
    """The home page and the start page."""
    visitor = Visitor(size=size)
    walk.look(visitor)
    for keys in (("enter",), ("s", "q", "u"), ("escape",)):
        walk.look(visitor.press(*keys))
    for mode in ("live",):
        starting = Starting(mode=mode)
        starting.shell.size = size
        walk.look(starting.press("enter"))
        for text in ("N. Petrov", "T. Oduya", "S. Lind", "1,5", "1250", "1000 mm"):
            walk.look(starting.type(text))
        walk.look(starting.press("2", "enter"))
        walk.look(starting.press("1"))


def texts_in(whole: object) -> Iterator[str]:
    """Every text in a value of values."""
    match whole:
        case str():
            yield whole
        case Mapping():
            for key, value in whole.items():
                yield from texts_in(key)
                yield from texts_in(value)
        case tuple() | list() | frozenset() | set():
            for part in whole:
                yield from texts_in(part)
        case _:
            for name in getattr(whole, "__dataclass_fields__", ()):
                yield from texts_in(getattr(whole, name))


def given() -> list[str]:
    """What authors and people wrote, and what stands on keys: it is in plain letters in every language."""
    parts = [
        *TYPED,
        "a/run.journal",
        "UTC",
        "Enter.",
        "changeover report",
        "changeover verify",
        "changeover join",
        "squ",
    ]
    parts += [key.cap for key in KEYS]
    for procedure in (compiled(), procedure_of(SHIPPED)):
        parts += texts_in(procedure)
        parts += [text.replace("_", " ") for text in texts_in(procedure) if "_" in text]
    parts += texts_in((CREW, INPUTS, DENT, LATCH, LISTING))
    for folder, name in ((FOLDER, f"{SHIPPED}.job.yaml"), (ANSWERS, f"{SHIPPED}.answers.yaml")):
        with open(os.path.join(folder, name), encoding="utf-8") as file:
            parts.append(file.read())
    return parts


def pairs_in(text: str) -> set[tuple[str, str]]:
    """Words in plain letters that follow each other, a blank between them."""
    return set(PAIR.findall(text))


def led(size: tuple[int, int], walk: Walk) -> Worker:
    """A shipped procedure, led to its end."""
    worker = Worker(SHIPPED, size, walk)
    worker.lead()
    walk.from_here(worker.person, 3)
    return worker


def plain_words(lines: Iterable[str], more: str = "") -> list[str]:
    """What stands on lines in plain letters and was written by nobody: words, and two words that follow each other."""
    whole = "\n".join((*given(), more))
    words, pairs = set(re.findall(r"[A-Za-z]{2,}", whole)), pairs_in(re.sub(r"\s+", " ", whole))
    found: dict[str, str] = {}
    for line in lines:
        for part in VALUE.sub("0", CUT.sub(" .. ", line)).split("│"):
            for word in WORD.findall(part):
                if word.isascii() and word not in words:
                    found.setdefault(word, line)
            for pair in pairs_in(part) - pairs:
                found.setdefault(" ".join(pair), line)
    return [f"{told}: {line.strip()}" for told, line in found.items()]
