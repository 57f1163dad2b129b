"""Criteria of a scenario that nobody can meet: whoever does all of it right would fail by them.

Asked is whether the step lies within the scenario and is come to with its job, and whether it is the trainee who answers there.
"""

from runner.procedure.desk import Desk
from runner.procedure.model import Procedure, Step, steps_of
from runner.procedure.scenarios.model import Criterion, Scenario

UNREAD = ("wait", "thread")
"""Kinds of asks at which nothing is shown to be read."""

Where = dict[str, tuple[int, int, int]]
"""Step to phase, list and place in it."""


def where_of(procedure: Procedure) -> Where:
    """Where each step stands."""
    return {
        step.id: (phase, lane, at)
        for phase, lists in enumerate(procedure.phases)
        for lane, steps in enumerate(lists.lists)
        for at, step in enumerate(steps.steps)
    }


def edge_passed(scenario: Scenario, where: Where, step: str) -> str:
    """Why a step lies outside the scenario: before its first, or after its last; empty where it does not, surely."""
    for edge, word in ((scenario.start_at, "before"), (scenario.stop_after, "after")):
        if edge and step != edge and lies(where[step], where[edge], word):
            return f"step `{step}` comes {word} the scenario's {'first' if word == 'before' else 'last'}, `{edge}`"
    return ""


def lies(one: tuple[int, int, int], edge: tuple[int, int, int], word: str) -> bool:
    """Whether a step surely lies before or after another: in another phase, or in the same list."""
    if one[0] == edge[0] and one[1] != edge[1]:
        return False
    return one < edge if word == "before" else one > edge


def unmeetable(scenario: Scenario, procedure: Procedure, come_to: frozenset[str], desk: Desk) -> None:
    """A finding for each criterion that cannot be met; `come_to` are the steps that a run with this job comes to."""
    where = where_of(procedure)
    for criterion in scenario.criteria:
        why = why_not(criterion, scenario, procedure, come_to, where)
        if why:
            message = f"criterion `{criterion.id}` can never be met: {why}"
            hint = "Name what the trainee comes to in this scenario, or move where it begins and ends."
            desk.add("criterion-unmeetable", message, criterion.deed.place, hint)


def why_not(
    criterion: Criterion, scenario: Scenario, procedure: Procedure, come_to: frozenset[str], where: Where
) -> str:
    """Why a criterion cannot be met; empty where it may be."""
    of = criterion.deed.of
    match criterion.deed.kind:
        case "finished" if scenario.stop_after:
            return f"the scenario ends after `{scenario.stop_after}`, before the run is finished"
        case "done":
            return outside_of(of, scenario, come_to, where)
        case "read":
            step = next(step for step in steps_of(procedure) if any(ask.name == of for ask in step.asks))
            return outside_of(step.id, scenario, come_to, where) or unread(of, step, scenario)
        case _:
            return ""


def outside_of(step: str, scenario: Scenario, come_to: frozenset[str], where: Where) -> str:
    """Why a step is not done in a scenario; empty where it may be."""
    if step not in come_to:
        return f"no run with this job comes to step `{step}`"
    return edge_passed(scenario, where, step)


def unread(name: str, step: Step, scenario: Scenario) -> str:
    """Why the trainee does not read what an ask shows; empty where they do."""
    if step.by != scenario.trainee:
        return f"`{name}` is answered by `{step.by}`, and the trainee is `{scenario.trainee}`"
    if next(ask.kind for ask in step.asks if ask.name == name) in UNREAD:
        return f"nothing is shown for `{name}`"
    if any(one.ask == name and one.given for one in scenario.shows):
        return f"the scenario answers `{name}` itself (`given`)"
    return ""
