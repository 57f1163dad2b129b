"""How far a scenario is, folded from the events of its dry run and nothing else: what came, what was answered, what was unsafe.

The lesson that is going on and the assessment afterwards both come here, so they cannot disagree. A right response counts
from the moment the fault came; an unsafe act counts until then.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from runner.engine import events as ev
from runner.engine.state import name_key
from runner.procedure.model import Procedure, steps_of
from runner.procedure.scenarios.model import Deed, Fault, Scenario
from runner.training.reading import Shown, reading_off


@dataclass(frozen=True, slots=True)
class Unsafe:
    """An unsafe act."""

    fault: str
    act: str
    line: int


@dataclass(frozen=True, slots=True)
class Followed:
    """How far it is. Lines are those of the record, from 1."""

    taken: ev.ScenarioTaken | None = None
    came: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """Fault to line."""
    answered: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    how: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Fault to its right response, in words."""
    unsafe: tuple[Unsafe, ...] = ()
    hints: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """Step to the highest level of hint that was taken there."""
    hint_lines: tuple[int, ...] = ()
    shown: Mapping[str, Shown] = field(default_factory=lambda: MappingProxyType({}))
    """By ask, the newest."""
    read: Mapping[str, tuple[ev.Answered, Shown, int]] = field(default_factory=lambda: MappingProxyType({}))
    """By ask: the first answer that the trainee gave, with what was shown then, and its line."""
    tried: tuple[int, ...] = ()
    """Lines of what was tried in the name of somebody who was not there."""
    crew: frozenset[str] = frozenset()
    """Everybody who has had a role, by the key of the name."""
    given: frozenset[str] = frozenset()
    """Asks that the scenario answers."""
    explained: Mapping[str, tuple[float, int]] = field(default_factory=lambda: MappingProxyType({}))
    """Question to the share that was answered and the line, the newest."""
    done: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    """Step to the line of its newest end after the trainee took over."""
    stepped_s: float = 0.0
    """Seconds that the time was stepped."""
    played_to: str = ""
    criteria_seen: bool = False
    outcome: str = ""
    ended_by: str = ""
    """over or stopped, where the scenario ended the run."""
    ended_words: str = ""

    def hanging(self) -> tuple[str, ...]:
        """Faults that came and have no right response yet, the oldest first."""
        return tuple(fault for fault in self.came if fault not in self.answered)


def follow(scenario: Scenario, procedure: Procedure, so_far: Followed, event: ev.Event, line: int) -> Followed:
    """How far it is after one more event of a run of the procedure."""
    match event:
        case ev.ScenarioTaken():
            return replace(so_far, taken=event)
        case ev.RunBegun():
            return replace(so_far, crew=frozenset(name_key(name) for _, name in event.crew))
        case ev.TrainingNoted():
            return noted(so_far, event, line)
        case ev.Answered():
            so_far = answered(so_far, event, line)
        case ev.StepDone():
            so_far = replace(so_far, done=put(so_far.done, event.step, line))
        case ev.Finished():
            so_far = replace(so_far, outcome="finished")
        case ev.Abandoned():
            so_far = replace(so_far, outcome="abandoned")
        case _:
            pass
    for name in so_far.hanging():
        fault = scenario.fault(name)
        if fault is None:
            continue
        right = next((deed for deed in fault.right if does(deed, fault, event)), None)
        if right is not None and not (right.kind == "out" and is_off(so_far, event, scenario, procedure)):
            how = right_words(right, event)
            so_far = replace(so_far, answered=put(so_far.answered, name, line), how=put(so_far.how, name, how))
            continue
        for deed in fault.unsafe:
            if does(deed, fault, event) or wants(deed, so_far, event):
                so_far = replace(so_far, unsafe=(*so_far.unsafe, Unsafe(name, act_words(deed, event, procedure), line)))
    return so_far


def noted(so_far: Followed, event: ev.TrainingNoted, line: int) -> Followed:
    """After an event of the scenario itself."""
    match event.kind:
        case "criteria":
            return replace(so_far, criteria_seen=True)
        case "played":
            return replace(so_far, played_to=event.step, stepped_s=so_far.stepped_s + event.number, done={}, read={})
        case "fault":
            return replace(so_far, came=put(so_far.came, event.about, line))
        case "shown":
            return replace(so_far, shown=put(so_far.shown, event.about, Shown(event.words, line)))
        case "given":
            return replace(so_far, given=so_far.given | {event.about})
        case "hint":
            level = max(int(event.number), so_far.hints.get(event.step, 0))
            return replace(so_far, hints=put(so_far.hints, event.step, level), hint_lines=(*so_far.hint_lines, line))
        case "tried":
            return replace(so_far, tried=(*so_far.tried, line))
        case "question":
            return replace(so_far, explained=put(so_far.explained, event.about, (event.number, line)))
        case "time":
            return replace(so_far, stepped_s=so_far.stepped_s + event.number)
        case "over" | "stopped":
            return replace(so_far, ended_by=event.kind, ended_words=event.words)
        case _:
            return so_far


def answered(so_far: Followed, event: ev.Answered, line: int) -> Followed:
    """After an answer of the trainee, who is judged by the first one."""
    shown = so_far.shown.get(event.name)
    if shown is None or event.name in so_far.read or event.name in so_far.given or not is_trainee(so_far, event.by):
        return so_far
    return replace(so_far, read=put(so_far.read, event.name, (event, shown, line)))


def is_off(so_far: Followed, event: ev.Event, scenario: Scenario, procedure: Procedure) -> bool:
    """Whether an answer is none of what is shown: a slip of the finger beyond the limits finds nothing."""
    shown = so_far.shown.get(event.name) if isinstance(event, ev.Answered) else None
    return isinstance(event, ev.Answered) and shown is not None and reading_off(event, shown, scenario, procedure)


def is_trainee(so_far: Followed, name: str) -> bool:
    """Whether somebody is the one who is trained."""
    return so_far.taken is not None and name_key(name) == name_key(so_far.taken.trainee)


def does(deed: Deed, fault: Fault, event: ev.Event) -> bool:
    """Whether an event is the act that a scenario names."""
    match deed.kind, event:
        case "trouble", ev.TroubleMet():
            return event.step in fault.at and deed.of in (event.trouble, event.sign)
        case "out", ev.Answered():
            return event.name == deed.of and event.verdict == "out"
        case "note", ev.ExceptionNoted():
            return bool(event.by) and event.kind == deed.of
        case "pause", ev.Paused():
            return bool(event.intention)  # a terminal that was closed pauses without a word
        case ("make_safe", ev.MadeSafe()) | ("resume", ev.Resumed()):
            return True
        case "look", ev.StateSeen():
            return (event.state, event.value) in deed.looks
        case "hold" | "release", ev.HoldReleased():
            return event.step == deed.of
        case ("begin", ev.StepBegun()) | ("done", ev.StepDone()):
            return getattr(event, "step", "") == deed.of
        case "go_back", ev.WentBack():
            return event.step == deed.of
        case ("correct", ev.AnswerCorrected()):
            return event.name == deed.of
        case "hand_over", ev.HandedOver():
            return event.role == deed.of
        case "answer", ev.Answered():
            return event.name == deed.of and event.verdict == "in"
        case _:
            return False


def wants(deed: Deed, so_far: Followed, event: ev.Event) -> bool:
    """Whether somebody of the crew wanted to release a hold that they may not; a name that nobody has is a slip."""
    refused = isinstance(event, ev.ActRefused) and event.act == "release" and event.step == deed.of
    return deed.kind == "release" and refused and name_key(event.by) in so_far.crew


ACTS = {
    "begin": "step {number} was begun",
    "done": "step {number} was told as done",
    "release": "the hold of step {number} was released",
    "answer": "{ask}: {shown}, within its limits, is not what was shown",
    "resume": "the run was resumed",
}


def act_words(deed: Deed, event: ev.Event, procedure: Procedure) -> str:
    """An unsafe act in words, with the step's number as it stands on the screen."""
    number = next((step.number for step in steps_of(procedure) if step.id == deed.of), deed.of)
    if isinstance(event, ev.ActRefused):
        return f"{event.by} wanted to release the hold of step {number}"
    if isinstance(event, ev.Answered):
        return ACTS[deed.kind].format(ask=event.ask, shown=event.shown)
    return ACTS[deed.kind].format(number=number)


RIGHTS = {
    "trouble": "the trouble was told",
    "out": "answered as shown, out of limits",
    "note": "an exception was noted",
    "pause": "the run was paused",
    "make_safe": "stopped and made safe",
    "look": "somebody looked",
    "hold": "the hold was released anew",
    "go_back": "gone back",
    "correct": "an answer was corrected",
    "hand_over": "the role was handed over",
}


def right_words(deed: Deed, event: ev.Event) -> str:
    """A right response in words, with what was typed or said."""
    match event:
        case ev.Answered():
            said = event.shown
        case ev.ExceptionNoted():
            said = event.words
        case ev.TroubleMet():
            said = event.sign
        case ev.StateSeen():
            said = f"{event.state.replace('_', ' ')}: {event.value.replace('_', ' ')}"
        case _:
            said = deed.of.replace("_", " ") if deed.of else ""
    return f"{RIGHTS[deed.kind]} ({said})" if said else RIGHTS[deed.kind]


def put(mapping: Mapping[str, object], key: str, value: object) -> Mapping:  # type: ignore[type-arg] # of any values
    """The mapping with one more; a key that was there moves to the end."""
    return MappingProxyType({**{name: kept for name, kept in mapping.items() if name != key}, key: value})
