"""A small bench for engine tests: a procedure from text, a run without disk, a clock by hand."""

from dataclasses import replace

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decide import AnyIntent, decide
from runner.engine.evolve import begin_state, evolve
from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure

HEAD = """
format: 1
id: bench
title: Bench
revision: 1
equipment: Line 3
purpose: Try the engine
people: {unwind: Operator, rewind: Helper, lead: Shift lead}
states:
  drive: {of: [stopped, running], at_start: unknown, at_end: stopped}
  guard: {of: [closed, open], at_start: closed}
  crane: {of: [free, carrying], at_start: free, one_owner: true}
  web: {of: [in, out], at_start: in, keeps: true}
cautions:
  load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300], likely: [900, 1300]}
  film: {ask: Film, choose: [kraft, foil]}
calculations:
  area: {formula: "width * 2 [m]", unit: m^2, limit: "<= 2.5 [m^2]"}
phases:
"""

FED = HEAD.replace("phases:\n", '  fed_share: {formula: fed / width, unit: "1"}\nphases:\n')
"""With a calculation over a reading named `fed`."""


def compiled(phases: str, head: str = HEAD) -> Procedure:
    """A procedure of these phases; a fault in the text fails the test with its findings."""
    found = compile_procedure(head + phases, "bench.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


class Bench:
    """A run in memory: intents in, events kept, refusals returned."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.state: RunState = begin_state(procedure)
        self.events: list[ev.Event] = []
        self.tick = 0.0
        self.boot = "boot"

    def attempt(self, intent: AnyIntent) -> tuple[ev.Event, ...] | Refusal:
        """Decide and evolve at the present tick."""
        self.tick += 1
        stamped = replace(intent, at=Moment("2026-11-25T09:00:00.000Z", self.tick, self.boot))
        decided = decide(self.procedure, self.state, stamped)
        if isinstance(decided, Refusal):
            return decided
        for event in decided:
            self.state = evolve(self.procedure, self.state, event)
        self.events += decided
        return decided

    def must(self, intent: AnyIntent) -> tuple[ev.Event, ...]:
        """The same, where a refusal fails the test."""
        decided = self.attempt(intent)
        assert not isinstance(decided, Refusal), decided
        return decided

    def refused(self, intent: AnyIntent) -> str:
        """The words of a refusal, where an acceptance fails the test."""
        decided = self.attempt(intent)
        assert isinstance(decided, Refusal), decided
        return "\n".join((decided.reason, *decided.missing))

    def begin(self, **inputs: str) -> tuple[ev.Event, ...]:
        """Begin the run with the usual crew."""
        return self.must(self.begin_intent(**inputs))

    def begin_intent(self, **inputs: str) -> BeginRun:
        """The intent to begin with the usual crew; further inputs override the usual ones."""
        given = {"width": "1000", "film": "kraft", **inputs}
        crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "Lena"))
        return BeginRun("Uma", "R1", "live", False, crew, tuple(given.items()), "test")

    def do(self, step: str, by: str = "Uma") -> None:
        """Begin a step and end it."""
        self.must(want.BeginStep(by, step))
        self.must(want.EndStep(by, step))


def kinds(events: tuple[ev.Event, ...]) -> list[str]:
    """The names of events, in order."""
    return [type(event).__name__ for event in events]
