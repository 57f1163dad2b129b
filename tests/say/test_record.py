"""What the record keeps is what the person saw; the language of a terminal changes nothing that the engine goes by."""

from dataclasses import replace
from types import MappingProxyType

from runner.engine import events as ev
from runner.engine.decisions.settle import _out_of_limits
from runner.engine.intents import GiveAnswer, Refusal
from runner.engine.state import KnownValue, RunState
from runner.say.language import spoken
from tests.screen.bench import MemoryRun, compiled

HEAVY = KnownValue("roll_mass", 1200.0, "1200 kg", "worked out", "kg", verdict="out", limits="at most 1000 kg")


def broken(run: MemoryRun, known: KnownValue = HEAVY) -> RunState:
    """The state with a value that breaks its limit."""
    return replace(run.state, values=MappingProxyType({**run.state.values, known.name: known}))


def noted(run: MemoryRun, state: RunState) -> list[ev.ExceptionNoted]:
    """The exceptions that follow by themselves, kept."""
    found = [event for event in _out_of_limits(state, run.now()) if isinstance(event, ev.ExceptionNoted)]
    run._keep(tuple(found))
    return found


def test_a_broken_limit_is_noted_once_though_the_run_goes_on_in_another_language() -> None:
    run = MemoryRun(compiled())
    with spoken("de"):
        assert [event.words for event in noted(run, broken(run))] == ["roll_mass: 1200 kg (zulässig: at most 1000 kg)"]
    assert noted(run, broken(run)) == []
    tighter = replace(HEAVY, limits="at most 900 kg")
    assert [event.words for event in noted(run, broken(run, tighter))] == [
        "roll_mass: 1200 kg (allowed: at most 900 kg)"
    ]


def test_a_record_in_one_language_is_gone_on_with_in_another() -> None:
    run = MemoryRun(compiled())
    with spoken("de"):
        refused = run.submit(GiveAnswer("N. Petrov", "drive-off", "nothing", "1"))
        assert isinstance(refused, Refusal)
        assert "Schritt 1.1" in refused.reason
    refused = run.submit(GiveAnswer("N. Petrov", "drive-off", "nothing", "1"))
    assert isinstance(refused, Refusal)
    assert "Step 1.1" in refused.reason
