"""What is noted in a dry run with a scenario. In a live run nothing of it is taken, whoever asks."""

from dataclasses import replace

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.intents import Refusal
from runner.engine.state import RunState
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def note_training(state: RunState, intent: want.NoteTraining) -> Decided:
    """The event itself, by whom it names (nobody: it followed by itself). Where it ends the run, that is said as well:
    nothing on a press needs to be made safe for it."""
    if state.mode != "dry":
        return Refusal(say("Only a dry run has a scenario, hints and a coach."))
    noted = replace(intent.noted, at=intent.at)
    if not intent.ends:
        return (noted,)
    words = noted.words if isinstance(noted, ev.TrainingNoted) else noted.title
    return noted, ev.Abandoned(intent.by, intent.at, f"the dry run ends: {words}")
