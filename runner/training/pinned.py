"""The scenario of a dry run as it is pinned in the record: files on disk do not matter any more."""

from collections.abc import Iterable
from hashlib import sha256

from runner.engine.events import Event, ScenarioTaken
from runner.procedure.scenarios.model import Scenario
from runner.procedure.scenarios.reading import read_scenario
from runner.record.refused import Refused


def digest_of(text: str) -> str:
    """SHA-256 of a scenario's text."""
    return sha256(text.encode()).hexdigest()


def pinned_scenario(events: Iterable[Event]) -> Scenario | Refused | None:
    """The scenario of a run; None where it has none."""
    for event in events:
        if isinstance(event, ScenarioTaken):
            if digest_of(event.text) != event.digest:
                return Refused("The scenario text in the record does not fit its digest.")
            scenario = read_scenario(event.text, f"{event.scenario}.scenario.yaml").scenario
            return scenario or Refused("This version of the program does not take the scenario of this run.")
    return None
