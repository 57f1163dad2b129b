"""What a list of runs shows beyond the first and the last line: who, which job, and how far an open run has come.

The first action of a journal has the job's values; the place of an open run is looked for from the end backwards. Nothing
here verifies: a line that does not read is passed over.
"""

import os
from collections.abc import Iterable
from typing import BinaryIO, NamedTuple

from runner.engine.events import Event, InputGiven, RunBegun, StepBegun, StepDone, StepLeftOut, StepNotApplicable
from runner.record.line import LONGEST, Entry, decode

GIVEN = b'"input-given"'
MOVED = (b'"step-begun"', b'"step-done"', b'"step-left-out"', b'"step-not-applicable"')
LAST = 1 << 18
"""Bytes at the end in which the place of an open run is looked for."""


class Given(NamedTuple):
    """What was known when a run began."""

    people: str
    """Names of the crew, each once."""
    job: str
    """The job's values as shown."""


def given_at_start(file: BinaryIO, first: Entry) -> Given:
    """From the lines of the first action; the file stands behind its first line."""
    inputs = []
    for _ in range(first.left):
        line = file.readline(LONGEST)
        if GIVEN not in line:
            continue
        entry = decode(line)
        if isinstance(entry, Entry) and isinstance(entry.event, InputGiven):
            inputs.append(entry.event)
    return given_of(first.event, inputs)


def given_of(begun: Event, inputs: Iterable[InputGiven]) -> Given:
    """From the first event of a run and the job's values of its first action."""
    names = dict.fromkeys(name for _, name in begun.crew if name) if isinstance(begun, RunBegun) else ()
    return Given(", ".join(names), ", ".join(given.shown for given in inputs))


def place_at_end(file: BinaryIO) -> str:
    """`begun 2.4`, or `done 2.3` where the next step has not begun; `on` where that stands too far from the end to be
    looked for; empty where no step has begun."""
    size = file.seek(0, os.SEEK_END)
    file.seek(max(0, size - LAST))
    for line in reversed(file.read().rstrip(b"\0").split(b"\n")):
        if not any(word in line for word in MOVED):
            continue
        entry = decode(line + b"\n")
        match entry.event if isinstance(entry, Entry) else None:
            case StepBegun(number=number):
                return f"begun {number}"
            case StepDone(number=number) | StepLeftOut(number=number) | StepNotApplicable(number=number):
                return f"done {number}"
            case _:
                pass
    return "on" if size > LAST else ""
