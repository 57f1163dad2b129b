"""What a dry run with a scenario came to: criterion by criterion, each with the lines of the record that show it.

Pure: the events and the scenario decide, whoever looks. Training and assessment are different acts: without a hint and
beforehand told what is judged, a run counts as an assessment; anything else says what it was instead.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from runner.engine import events as ev
from runner.procedure.language.scenario import LEVELS
from runner.procedure.model import Procedure, steps_of
from runner.procedure.scenarios.model import Criterion, Scenario
from runner.training.follow import Followed, follow
from runner.training.reading import reading_off

MET, NOT_MET, NOT_JUDGED, NOT_DRAWN = "met", "not met", "not judged", "not drawn"


@dataclass(frozen=True, slots=True)
class Judged:
    """One criterion."""

    id: str
    words: str
    result: str
    """met, not met, not judged, or not drawn: its fault was not among those that come, and it counts for nothing."""
    lines: tuple[int, ...]
    """Of the record, which show it."""
    note: str
    """What was seen there; may be empty."""
    practise: str
    """What to practise where it was not met; empty where it was, and where it was not drawn."""


@dataclass(frozen=True, slots=True)
class Result:
    """What the dry run came to."""

    run: str
    procedure: str
    revision: int
    scenario: str
    title: str
    digest: str
    trainee: str
    coach: str
    assessed: bool
    played: bool
    """True where answers came from a file and from nobody."""
    began: str
    ended: str
    """finished, over, stopped, abandoned or open."""
    ended_words: str
    criteria: tuple[Judged, ...]
    unsafe: tuple[tuple[int, str], ...]
    """(line, act)."""
    tried: tuple[int, ...]
    """Lines of what was tried in the name of somebody who was not there, and refused: for the coach to judge."""
    hints: tuple[tuple[str, int], ...]
    """(step, highest level)."""
    hint_lines: tuple[int, ...]
    stepped_s: float
    played_to: str
    passed: bool
    level: str
    """The level that was reached; empty where it was not passed."""
    lowered: str
    """Why the level is lower than the scenario's, or why there is none; may be empty."""


def assess(entries: Iterable[tuple[int, ev.Event]], scenario: Scenario, procedure: Procedure) -> Result:
    """The result of a dry run, from its (line, event) pairs."""
    so_far, begun, last = Followed(), None, ""
    for line, event in entries:
        if isinstance(event, ev.RunBegun):
            begun = event
        so_far = follow(scenario, procedure, so_far, event, line)
        last = event.at.utc
    taken = so_far.taken
    shown = dict(taken.criteria) if taken is not None else {}
    criteria = tuple(judge(one, so_far, scenario, procedure) for one in scenario.criteria if one.id in shown)
    ended = so_far.ended_by or so_far.outcome or "open"
    assessed = taken is not None and taken.assessed
    passed = (
        bool(criteria)
        and all(one.result in (MET, NOT_DRAWN) for one in criteria)
        and any(one.result == MET for one in criteria)
        and not so_far.unsafe
        and ended in ("over", "finished")
    )
    level, lowered = reached(scenario, so_far, assessed, passed)
    return Result(
        begun.run if begun else "", begun.procedure if begun else "", begun.revision if begun else 0, scenario.id,
        scenario.title, taken.digest if taken else "", taken.trainee if taken else "", taken.coach if taken else "",
        assessed, begun.played if begun else False, begun.at.utc if begun else last, ended, so_far.ended_words, criteria,
        tuple((one.line, one.act) for one in so_far.unsafe), so_far.tried, tuple(sorted(so_far.hints.items())), so_far.hint_lines,
        so_far.stepped_s, so_far.played_to, passed, level, lowered,
    )  # fmt: skip


def judge(criterion: Criterion, so_far: Followed, scenario: Scenario, procedure: Procedure) -> Judged:
    """One criterion with its evidence."""
    result, lines, note, practise = verdict(criterion, so_far, scenario, procedure)
    return Judged(criterion.id, criterion.words, result, lines, note, "" if result == MET else practise)


def verdict(
    criterion: Criterion, so_far: Followed, scenario: Scenario, procedure: Procedure
) -> tuple[str, tuple[int, ...], str, str]:
    """(result, lines, what was seen, what to practise)."""
    of = criterion.deed.of
    match criterion.deed.kind:
        case "answered":
            if so_far.taken is not None and of not in dict(so_far.taken.faults):
                return NOT_DRAWN, (), "this fault was not drawn", ""
            came, done = so_far.came.get(of), so_far.answered.get(of)
            if came is None:
                return NOT_JUDGED, (), "it did not come to this", f"the part with: {criterion.words}"
            wrong = tuple(one.line for one in so_far.unsafe if one.fault == of)
            fault = scenario.fault(of)
            what = fault.words if fault is not None else of
            if done is None or wrong:
                return NOT_MET, (came, *wrong, *((done,) if done else ())), what, f"what to do when: {what}"
            return MET, (came, done), f"{what.rstrip('.')}: {so_far.how[of]}", ""
        case "done":
            number = next((step.number for step in steps_of(procedure) if step.id == of), of)
            if of in so_far.done:
                return MET, (so_far.done[of],), f"step {number} was done", ""
            return NOT_MET, (), f"step {number} was not done", f"the way to step {number}"
        case "read":
            return was_read(of, so_far, scenario, procedure)
        case "explained":
            if of not in so_far.explained:
                return NOT_JUDGED, (), "it was not asked", "to say the key points and reasons aloud"
            share, line = so_far.explained[of]
            words = {0.0: "not answered", 0.5: "answered in part", 1.0: "answered"}.get(share, f"{share:g} of it")
            asked = next((one for one in scenario.questions if one.id == of), None)
            practise = "; ".join(asked.listen_for) if asked is not None else ""
            return (MET if share >= 1 else NOT_MET), (line,), words, f"to say: {practise}"
        case "finished":
            done_now = so_far.outcome == "finished"
            return (MET if done_now else NOT_MET), (), so_far.outcome or "open", "the whole way to the end"
        case _:
            lines = tuple(one.line for one in so_far.unsafe)
            acts = "; ".join(one.act for one in so_far.unsafe)
            return (NOT_MET if lines else MET), lines, acts or "no unsafe act", f"to stop before: {acts}"


def was_read(
    name: str, so_far: Followed, scenario: Scenario, procedure: Procedure
) -> tuple[str, tuple[int, ...], str, str]:
    """Whether the trainee's first answer is what was shown."""
    if name not in so_far.read:
        return NOT_JUDGED, (), "it was not answered by the trainee", "to read what is shown"
    event, shown, line = so_far.read[name]
    off = reading_off(event, shown, scenario, procedure)
    said = f"shown {shown.value}, answered {event.shown}"
    return (NOT_MET if off else MET), (shown.line, line), said, f"to read {event.ask.lower()}: {said}"


def reached(scenario: Scenario, so_far: Followed, assessed: bool, passed: bool) -> tuple[str, str]:
    """(level, why it is not the scenario's); what was shown to the trainee was observed and not simulated."""
    if not passed:
        return "", "not all criteria are met"
    level = scenario.level
    if so_far.hints and max(so_far.hints.values()) >= 3 and LEVELS.index(level) < LEVELS.index("observe"):
        return "observe", "a step was shown by a hint"
    if not assessed:
        return level, "practice with hints and help, no assessment"
    if not so_far.criteria_seen:
        return "", "the record does not say that the criteria were shown beforehand"
    return level, ""
