"""Waiting times that run now, in every list: what is left, and until when. The clock on the wall is only for people;
what is left comes from the steady clock, so that a wall clock that is set shortens no wait."""

from datetime import datetime, timedelta
from typing import NamedTuple

from runner.engine import flow
from runner.engine.moment import Moment, seconds_words
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.say.text import say
from runner.screen.blocks import Block, Ink, Say
from runner.screen.view import step_view


class Waiting(NamedTuple):
    """One that runs, or has run out while nobody went on."""

    lane: int
    number: str
    """Of the step."""
    left_s: float
    until: str
    """09:41:55, UTC."""

    @property
    def words(self) -> str:
        """As a person reads it."""
        return (
            say("{time} to go, until {until} UTC", time=seconds_words(self.left_s), until=self.until)
            if self.left_s
            else say("the waiting time is over")
        )


def waits(procedure: Procedure, state: RunState, now: Moment) -> tuple[Waiting, ...]:
    """Of every list, in their order."""
    found = []
    for lane in range(len(state.position.cursors)):
        step = flow.current(procedure, state.position, lane)
        left = step_view(procedure, state, step, now).wait_left if step is not None else None
        if step is not None and left is not None:
            found.append(Waiting(lane, step.number, left, until(now, left)))
    return tuple(found)


def until(now: Moment, left_s: float) -> str:
    """The time of day when so many seconds have passed, to the nearest second."""
    due = datetime.fromisoformat(now.utc) + timedelta(seconds=left_s + 0.5)
    return f"{due:%H:%M:%S}"


def wait_blocks(procedure: Procedure, state: RunState, now: Moment, lane: int) -> tuple[Block, ...]:
    """The list's own wait while it runs, then those of other lists, which nobody may forget."""
    blocks = []
    for one in waits(procedure, state, now):
        if one.lane != lane:
            blocks.append(Say(f"{one.number}: {one.words}", say("wait {letter}", letter=chr(ord("A") + one.lane))))
        elif one.left_s:
            blocks.insert(0, Say(one.words, say("wait"), Ink.STRONG))
    return tuple(blocks)
