"""Is a journal whole: lines in, flaws out. Pure, and the one place that knows what may follow what.

`Verifier` takes the lines one by one and keeps nothing of them but a few numbers, so a journal of any length is
verified in little memory. Emptiness never verifies, nor do zeros alone; zeros behind the last action are room that was
not used. What a chain of hashes cannot show (whole actions cut off the end, a file written anew from the start) is
shown only by a head that was put down elsewhere.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from io import BytesIO

from runner.engine.events import AFTER_SEAL, Abandoned, Finished, RunBegun, RunSigned, Sealed
from runner.record.line import GENESIS, ROOM, Damage, Entry, Kind, Mark, decode
from runner.record.pattern import BARRED, glance

MOST_FLAWS = 100
"""Listed; a file that has more is no journal any more."""

OUTCOMES = {Finished: "finished", Abandoned: "abandoned"}
"""The events that close a run, and the word for each."""


@dataclass(frozen=True, slots=True)
class Flaw:
    """One thing that is wrong."""

    line: int
    """Counted from 1, in the file."""
    kind: Kind
    words: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.kind}: {self.words}"


@dataclass(frozen=True, slots=True)
class Verification:
    """What was found."""

    flaws: tuple[Flaw, ...]
    """Empty when whole, by line otherwise."""
    run: str
    mode: str
    head: str
    """The hash of the last line that is in order."""
    events: int
    """How many lines are in order."""
    outcome: str
    """finished, abandoned, or empty: the run is open."""

    seals: tuple[Entry, ...] = ()
    """The lines that seal the end and what was added after it, in order."""
    version: int = 0
    """The format of the journal."""

    @property
    def whole(self) -> bool:
        """True where nothing is wrong."""
        return not self.flaws


class Verifier:
    """Takes line after line; `result` at any time says what was found so far."""

    def __init__(self) -> None:
        self.line = 0
        self.size = 0
        """Bytes of all lines taken."""
        self.padding = 0
        """Zero bytes at the end of the file."""
        self.events = 0
        self.highest = 0
        self.head = GENESIS
        self.unread = 0
        self.left = 0
        self.of = 0
        """How many lines the newest action is said to have."""
        self.mark: Mark | None = None
        self.ending = ""
        """finished or abandoned once a line says so."""
        self.outcome = ""
        """The same once the whole action is there."""
        self.version = 0
        self.seals: list[Entry] = []
        self.kept = (GENESIS, 0)
        """Hash and number of the last line of the newest whole action, from the end of the run on."""
        self.gaps: list[tuple[int, int, int]] = []
        """(first number missing, last one, index of the flaw that says so)."""
        self.flaws: list[Flaw] = []

    def check(self, line: bytes, read: Callable[[bytes], Entry | Damage] = glance) -> Entry | None:
        """As `take`, several times as fast, for whom what was found counts and little or nothing of the events.

        A line that just follows the one before is seen to here; all others go the whole way.
        """
        return self.checked(line, read(line), read)

    def checked(
        self, line: bytes, entry: Entry | Damage, read: Callable[[bytes], Entry | Damage] = decode
    ) -> Entry | None:
        """The same of a line that was read already, with `read`."""
        if (
            type(entry) is Entry
            and entry[0] == self.highest + 1
            and entry[2] == self.head
            and entry[4] == self.mark
            and not (self.left and entry[3] != self.left - 1)
            and entry[6] == (self.of if self.left else entry[3] + 1)
            and not (self.flaws or self.padding or self.ending or self.unread)
            and type(entry[5]) not in BARRED
        ):
            self.line += 1
            self.size += len(line)
            self.events += 1
            self.highest, self.head, self.left, self.of = entry[0], entry[1], entry[3], entry[6]
            return entry
        return self.take(line, read if line[-1:] != b"\n" else lambda _: entry)

    def follow(self, lines: int, size: int, head: str, left: int, of: int) -> None:
        """Whoever calls has checked, as `checked` does, that so many lines of so many bytes just follow; how the last one
        leaves it: its hash, how many lines of its action are to come, and how many that has."""
        self.line += lines
        self.size += size
        self.events += lines
        self.highest += lines
        self.head, self.left, self.of = head, left, of

    def take(self, line: bytes, read: Callable[[bytes], Entry | Damage] = decode) -> Entry | None:
        """The entry where the line is whole and in its place, else None and a flaw more; for zeros at the end just None."""
        before = self.padding
        if line[-1:] != b"\n":
            written = line.rstrip(b"\0")
            self.padding += len(line) - len(written)
            if not written:
                return None
            line = written
        self.line += 1
        self.size += len(line)
        if before:
            self.unread += 1
            self.flaw(Kind.ZEROS, "has zero bytes before it")
            return None
        entry = read(line)
        if isinstance(entry, Damage):
            self.unread += 1
            self.flaw(entry.kind, entry.words)
            return None
        known = len(self.flaws)
        self.place(entry)
        return entry if len(self.flaws) == known else None

    def flaw(self, kind: Kind, words: str) -> None:
        """Note it, up to a number."""
        if len(self.flaws) < MOST_FLAWS:
            self.flaws.append(Flaw(self.line, kind, words))

    def place(self, entry: Entry) -> None:
        """Is this the line that must come now?"""
        if self.mark is not None and entry.mark != self.mark:
            self.flaw(
                Kind.ANOTHER_RUN, f"belongs to the run {entry.mark.run[:60]!r}, which is {entry.mark.mode[:20]!r}"
            )
            return
        self.mark = entry.mark
        if entry.number <= self.highest:
            self.place_early(entry)
            return
        self.place_next(entry)
        self.highest, self.head = entry.number, entry.hash
        self.left, self.of, self.unread = entry.left, entry.of, 0
        self.events += 1
        outcome = OUTCOMES.get(type(entry.event))
        if outcome is not None:
            self.ending = outcome
        if not entry.left:
            self.outcome, self.kept = self.ending, (entry.hash, entry.number)
        self.version = self.version or entry.version
        if isinstance(entry.event, Sealed):
            self.seals.append(entry)

    def place_early(self, entry: Entry) -> None:
        """A number that is below one that has stood before: filled in late, or a second time."""
        for at, (first, last, index) in enumerate(self.gaps):
            if first <= entry.number <= last:
                left_over = [
                    g for g in ((first, entry.number - 1, index), (entry.number + 1, last, index)) if g[0] <= g[1]
                ]
                self.gaps[at : at + 1] = left_over
                if not any(gap[2] == index for gap in self.gaps) and index < len(self.flaws):
                    words = "stands here too early: lines with lower numbers come after it"
                    self.flaws[index] = replace(self.flaws[index], kind=Kind.OUT_OF_ORDER, words=words)
                self.flaw(
                    Kind.OUT_OF_ORDER, f"has the number {entry.number}, but number {self.highest} stands before it"
                )
                return
        self.flaw(Kind.DOUBLED, f"has the number {entry.number}, which has stood before")

    def place_next(self, entry: Entry) -> None:
        """A number above all before: the next one, or with a gap."""
        expected = self.highest + 1
        if self.ending and type(entry.event) not in AFTER_SEAL:
            self.flaw(Kind.AFTER_THE_END, f"comes after the run was {self.ending}")
        elif entry.number != expected + self.unread:
            gap = (expected, entry.number - 1, len(self.flaws))
            if len(self.gaps) < MOST_FLAWS:
                self.gaps.append(gap)
            what = f"line number {gap[0]} is" if gap[0] == gap[1] else f"lines number {gap[0]} to {gap[1]} are"
            self.flaw(Kind.MISSING, f"has the number {entry.number}; {what} not there")
        elif self.unread:
            return  # what stands between was reported, and nothing can be said of how it joined
        elif entry.prev != self.head:
            first = "its `prev` is not that of a first line" if entry.number == 1 else "one of the two was replaced"
            self.flaw(Kind.CHANGED, f"does not follow the line before it: {first}")
        elif (entry.number == 1) != isinstance(entry.event, RunBegun):
            self.flaw(Kind.MALFORMED, "a run begins with a run-begun event, and with no other")
        elif self.left and entry.left != self.left - 1:
            self.flaw(
                Kind.MALFORMED, f"{self.left} lines of the action before were to follow, and this is none of them"
            )
        elif entry.of and entry.of != (self.of if self.left else entry.left + 1):
            self.flaw(Kind.MALFORMED, f"says that its action has {entry.of} lines, and the others say otherwise")
        elif words := self.seal_words(entry):
            self.flaw(Kind.NOT_SEALED, words)

    def seal_words(self, entry: Entry) -> str:
        """What is wrong with the seal of an end, or for want of one; empty where nothing is."""
        event = entry.event
        if isinstance(event, Sealed):
            if not self.ending:
                return "seals a run that has not ended"
            if entry.left:
                return "has lines of the same action behind its seal"
            if self.seals and self.seals[-1].number == entry.number - 1:
                return "seals nothing: the line before it is a seal"
            if (event.head, event.count, event.outcome) != (entry.prev, entry.number - 1, self.ending):
                return "does not seal the lines before it: head, count or outcome are not theirs"
            return ""
        if isinstance(event, RunSigned) and (event.head, event.count) != self.kept:
            return "signs other lines than those before it: head or count are not theirs"
        if entry.left or not (self.ending or (self.version > 1 and type(event) in OUTCOMES)):
            return ""
        return "ends the run without a seal" if not self.outcome else "was added after the end without a seal"

    def result(self) -> Verification:
        """All that was found."""
        flaws = list(self.flaws)
        if self.line == 0 and self.padding:
            flaws.append(Flaw(1, Kind.ZEROS, "holds only zero bytes"))
        elif self.line == 0:
            flaws.append(Flaw(1, Kind.INCOMPLETE, "the file is empty"))
        elif self.outcome and self.size + self.padding > (self.size // ROOM + 1) * ROOM:
            words = f"is no line: zero bytes stand after the run was {self.outcome}, and more than its writer gave it"
            flaws.append(Flaw(self.line + 1, Kind.ZEROS, words))
        elif self.left and not flaws:
            flaws.append(
                Flaw(self.line, Kind.INCOMPLETE, f"{self.left} more lines were written with it, and are not there")
            )
        mark = self.mark or Mark("", "")
        return Verification(
            tuple(flaws), mark.run, mark.mode, self.head, self.events, self.outcome, tuple(self.seals), self.version
        )


def verify(lines: Iterable[bytes]) -> Verification:
    """Verify lines, each with its newline (the last one perhaps without)."""
    verifier = Verifier()
    for line in lines:
        verifier.check(line)
    return verifier.result()


def verify_bytes(content: bytes) -> Verification:
    """Verify the content of a journal file."""
    return verify(BytesIO(content))
