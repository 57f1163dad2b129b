"""Which tracked states are drives, guards, locks, switches or stored energy, told by the words of their names and values.

The language has no kinds of states, so this is a guess, and a careful one: both the name and the values must say it. A state
that is not told apart has no rule of these speak about it; the reference names the words.
"""

from functools import cached_property
from typing import NamedTuple

from runner.lint.word_lists import listed
from runner.lint.words import words_of
from runner.procedure.model import Facts, Procedure, TrackedState


class Part(NamedTuple):
    """A state that is told apart, and the indices of its values that count as safe or unsafe."""

    state: int
    """Its index among the tracked states."""
    label: str
    safe: frozenset[int]
    """Stopped, closed, locked, off, vented."""
    unsafe: frozenset[int]
    """Moving, open, unlocked, on, full."""
    words: frozenset[str]
    """Of the name, without those that say its kind."""


class Words(NamedTuple):
    """How a kind of state is told apart."""

    names: frozenset[str]
    safe: frozenset[str]
    unsafe: frozenset[str]
    never: frozenset[str] = frozenset()
    """Words that the name must not have."""


DRIVE = Words(
    listed("drive drives motor press machine slitter winder rewinder unwinder spindle rollers"),
    listed("stopped still standing halted off standstill"),
    listed("creeping crawling inching jogging running turning moving rotating automatic"),
    listed("key brake lock guard switch valve"),
)
GUARD = Words(
    listed("guard guards cover covers gate door doors hood shield fence"),
    listed("closed shut latched fitted lowered"),
    listed("open opened off removed raised ajar"),
)
LOCK = Words(
    listed("lock locks padlock lockout padlocks"),
    listed("on applied hung fitted"),
    listed("off removed none"),
    listed("chuck chucks shaft core spindle roll"),
)
SWITCH = Words(
    listed("switch isolator disconnector breaker mains power valve supply"),
    listed("off shut closed isolated disconnected"),
    listed("on open connected"),
    listed("vent key limit"),
)
ENERGY = Words(
    listed("air pressure energy spring hydraulics vacuum charge accumulator capacitor steam"),
    listed("vented relieved released discharged drained zero empty bled none"),
    listed("full charged loaded pressurised pressurized up present stored"),
    listed("valve switch"),
)
LOAD = Words(
    listed("crane hoist hook"),
    listed("free empty"),
    listed("carrying loaded lifted raised hanging"),
)


class Equipment:
    """The parts of one procedure's press, by kind."""

    def __init__(self, procedure: Procedure) -> None:
        self.states = procedure.states

    @cached_property
    def drives(self) -> tuple[Part, ...]:
        """States with a value that rests and one that moves."""
        return self._of(DRIVE)

    @cached_property
    def guards(self) -> tuple[Part, ...]:
        """States that are closed or open."""
        return self._of(GUARD)

    @cached_property
    def locks(self) -> tuple[Part, ...]:
        """Personal locks, on or off."""
        return self._of(LOCK)

    @cached_property
    def switches(self) -> tuple[Part, ...]:
        """What isolates: switches and valves, off or on."""
        return self._of(SWITCH)

    @cached_property
    def energies(self) -> tuple[Part, ...]:
        """Stored energy, relieved or there."""
        return self._of(ENERGY)

    @cached_property
    def loads(self) -> tuple[Part, ...]:
        """Cranes, free or carrying."""
        return self._of(LOAD)

    def _of(self, kind: Words) -> tuple[Part, ...]:
        found = (self._part(index, tracked, kind) for index, tracked in enumerate(self.states))
        return tuple(part for part in found if part is not None)

    def _part(self, index: int, tracked: TrackedState, kind: Words) -> Part | None:
        words = set(words_of(tracked.name)) | set(words_of(tracked.label))
        if words.isdisjoint(kind.names) or words & kind.never:
            return None
        safe = frozenset(n for n, value in enumerate(tracked.of) if kind.safe.intersection(words_of(value)))
        unsafe = frozenset(n for n, value in enumerate(tracked.of) if kind.unsafe.intersection(words_of(value))) - safe
        if not safe or not unsafe:
            return None
        return Part(index, tracked.label, safe, unsafe, frozenset(words - kind.names))

    def value(self, part: Part, number: int) -> str:
        """A value in the author's words."""
        return self.states[part.state].of[number]


def among(facts: Facts, part: Part, values: frozenset[int]) -> bool:
    """Whether facts say that a part has one of the values."""
    return any(index == part.state and value in values for index, value in facts)


def value_in(facts: Facts, part: Part) -> int | None:
    """The value that facts give a part, None where they do not speak of it."""
    return next((value for index, value in facts if index == part.state), None)


def of_one_side(drive: Part, guards: tuple[Part, ...]) -> tuple[Part, ...]:
    """The guards over what a drive turns: those that share a word of its name, all of them where none does."""
    near = tuple(guard for guard in guards if guard.words & drive.words)
    return near or guards
