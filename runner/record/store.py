"""The folder of records: live runs in `live/YYYY/MM/`, dry runs in `dry/YYYY/MM/`, one journal a run, never mixed.

The journals are all there is; nothing here is kept apart from them. A summary reads the first action and
the last line of a journal, of an open run its end as well, and verifies neither the lines between nor the chain.
"""

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING, BinaryIO

from runner.engine.events import RunBegun, Sealed
from runner.engine.moment import Moment
from runner.record.disk import DISK, Io, trouble_words
from runner.record.glance import Given, given_at_start, place_at_end
from runner.record.line import LONGEST, Entry, decode
from runner.record.refused import Refused
from runner.record.verify import OUTCOMES
from runner.say.text import mark, say

if TYPE_CHECKING:
    from runner.record.index.base import Index

SUFFIX = ".journal"
MODES = ("live", "dry")
RUN = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")
"""What a run may be called: it is the name of a file."""

BLOCK = 1 << 14


@dataclass(frozen=True, slots=True)
class Summary:
    """A run at a glance."""

    path: str
    run: str
    mode: str
    procedure: str = ""
    title: str = ""
    revision: int = 0
    played: bool = False
    began: str = ""
    """UTC, RFC 3339."""
    last: str = ""
    """When its newest line was written."""
    events: int = 0
    outcome: str = ""
    """finished, abandoned, or empty: the run is open."""
    words: str = ""
    """What is wrong with the file, where it could not be read; empty otherwise."""
    people: str = ""
    """Names of the crew with which it began."""
    job: str = ""
    """The job's values, as shown when it began."""
    place: str = ""
    """Of an open run: `begun 2.4`, or `done 2.3` where the next step has not begun; `on` where it was not
    looked for far enough; empty before the first step."""


def mode_of_folder(path: str) -> str:
    """live or dry where the path lies in such a folder of a store, else empty."""
    parts = os.path.normpath(path).replace("\\", "/").split("/")
    if len(parts) >= 4 and parts[-4] in MODES and parts[-3].isdecimal() and parts[-2].isdecimal():
        return parts[-4]
    return ""


def run_of(path: str) -> str:
    """The id of the run whose journal lies at a path, as its name has it."""
    return os.path.basename(path).removesuffix(SUFFIX)


def mixed(path: str, mode: str, run: str = "") -> Refused | None:
    """Refused where a journal lies in a store among those of the other mode, or under the name of another run."""
    folder = mode_of_folder(path)
    if not folder or (folder == mode and run in ("", run_of(path))):
        return None
    if folder == mode:
        return Refused(say("{path} is the record of the run {run}, and lies under another name.", path=path, run=run))
    return Refused(
        say(
            "{path} is the record of a {mode} run, but lies among the {folder} runs. Put it where it belongs.",
            path=path,
            mode=mode,
            folder=folder,
        )
    )


class Store:
    """The records under one folder."""

    def __init__(self, folder: str, io: Io = DISK, index: "Callable[[], Index] | None" = None) -> None:
        """`index` gives what is kept of these records, for whom reading all of them takes too long."""
        self.folder = os.path.abspath(folder)
        self.io = io
        self.index = index

    def new_path(self, run: str, mode: str, moment: Moment) -> str | Refused:
        """Where the journal of a new run goes; its folder is made when the journal is."""
        if RUN.fullmatch(run) is None or mode not in MODES:
            return Refused(
                say(
                    "A {mode} run cannot be called {run!r}: small letters, digits and hyphens, up to 64.",
                    mode=mode,
                    run=run,
                )
            )
        return os.path.join(self.folder, mode, moment.utc[:4], moment.utc[5:7], run + SUFFIX)

    def paths(self, mode: str = "") -> Iterator[str]:
        """All journals, newest first within a mode, live before dry."""
        for kind in MODES:
            if mode not in {"", kind}:
                continue
            for year in self.numbered(os.path.join(self.folder, kind)):
                for month in self.numbered(year):
                    names = [name for name in self.io.names(month) if name.endswith(SUFFIX)]
                    yield from (os.path.join(month, name) for name in reversed(names))

    def numbered(self, folder: str) -> list[str]:
        """The folders of years or months in a folder, newest first."""
        names = [name for name in self.io.names(folder) if name.isdecimal()]
        return [os.path.join(folder, name) for name in reversed(names)]

    def find(self, text: str) -> str | Refused:
        """The path of a journal, from a path, a run's id or the beginning of one that fits one run only."""
        if not text:
            return Refused(say("Name a run: its id, the beginning of its id, or the path of its journal."))
        if text.endswith(SUFFIX) or os.sep in text or "/" in text:
            return text if os.path.lexists(text) else Refused(say("There is no journal at {text}.", text=text))
        fitting = []
        for path in self.paths():
            run = os.path.basename(path)[: -len(SUFFIX)]
            if run == text:
                return path
            if run.startswith(text):
                fitting.append(path)
        if len(fitting) == 1:
            return fitting[0]
        if not fitting:
            return Refused(
                say(
                    "There is no run {text} in {folder}. `changeover` alone lists what there is.",
                    text=text,
                    folder=self.folder,
                )
            )
        some = ", ".join(os.path.basename(path)[: -len(SUFFIX)] for path in fitting[:5])
        return Refused(
            say(
                "{text} fits {count} runs ({runs}). Give more of it.",
                text=text,
                count=len(fitting),
                runs=f"{some}{', ...' if len(fitting) > 5 else ''}",
            )
        )

    def unfinished(self) -> tuple[Summary, ...]:
        """Runs that have begun and not ended, live before dry, newest first; those that cannot be read among them."""
        return tuple(summary for summary in self.summaries() if not summary.outcome)

    def recent(self, limit: int = 20, mode: str = "") -> tuple[Summary, ...]:
        """The newest runs by their ids, open or ended."""
        newest = [one for kind in MODES if mode in {"", kind} for one in islice(self.summaries(kind), max(0, limit))]
        return tuple(sorted(newest, key=lambda s: os.path.basename(s.path), reverse=True)[:limit])

    def summaries(self, mode: str = "") -> Iterator[Summary]:
        """Summaries of all journals in which anything was kept."""
        for path in self.paths(mode):
            summary = summarise(path, self.io)
            if summary is not None:
                yield summary


def summarise(path: str, io: Io = DISK) -> Summary | None:
    """A run at a glance; None where nothing was ever kept in the file: the run never began."""
    run, mode = os.path.basename(path)[: -len(SUFFIX)], mode_of_folder(path)
    try:
        with io.open_read(path) as file:
            first_line = file.readline(LONGEST)
            first = decode(first_line) if first_line.endswith(b"\n") else None
            given = given_at_start(file, first) if isinstance(first, Entry) else Given("", "")
            last = decode(last_whole_line(file))
            is_open = isinstance(last, Entry) and not outcome_of(last)
            place = place_at_end(file) if is_open else ""
    except OSError as error:
        return Summary(path, run, mode, words=Refused(trouble_words("Cannot read", path, error)).words)
    if first is None:
        return None
    if not isinstance(first, Entry) or not isinstance(last, Entry) or not isinstance(first.event, RunBegun):
        return Summary(path, run, mode, words=mark("The record is damaged; `changeover verify` says where."))
    return summary_of(path, first.event, last, given, place)


def summary_of(path: str, begun: RunBegun, last: Entry, given: Given, place: str) -> Summary:
    """The summary of a journal whose first and last lines these are."""
    wrong = mixed(path, begun.mode, begun.run)
    return Summary(
        path=path,
        run=begun.run,
        mode=begun.mode,
        procedure=begun.procedure,
        title=begun.title,
        revision=begun.revision,
        played=begun.played,
        began=begun.at.utc,
        last=last.event.at.utc,
        events=last.number,
        outcome=outcome_of(last),
        words=wrong.words if wrong is not None else "",
        people=given.people,
        job=given.job,
        place=place,
    )


def outcome_of(last: Entry) -> str:
    """How a run ended, by its last line; empty where it is open."""
    event = last.event
    return event.outcome if isinstance(event, Sealed) else OUTCOMES.get(type(event), "")


def last_whole_line(file: BinaryIO) -> bytes:
    """The last line that has a line end, read from the end of the file backwards."""
    at = file.seek(0, os.SEEK_END)
    tail = b""
    while at > 0:
        step = min(BLOCK, at)
        at -= step
        file.seek(at)
        tail = file.read(step) + tail
        end = tail.rfind(b"\n")
        if end >= 0:
            start = tail.rfind(b"\n", 0, end)
            if start >= 0 or at == 0:
                return tail[start + 1 : end + 1]
    return b""
