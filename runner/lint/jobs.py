"""What lint finds out about all allowed jobs: the result of every formula, and the verdict on every limit.

Each is searched once and shared by the rules; a formula over values that may be anything proves nothing and finds little.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from runner.formula.dimension import MASS
from runner.formula.expr import Arithmetic, Call, Expr, Number, nodes
from runner.formula.fault import Fault
from runner.formula.scope import names_needed
from runner.procedure.finding import Place
from runner.procedure.jobs.results import Result, result_of
from runner.procedure.jobs.space import PeopleGive, Space, people_give_in
from runner.procedure.jobs.worst import Verdict, judge
from runner.procedure.model import Calculation, Limit, Procedure, steps_of


class Subject(NamedTuple):
    """A formula of the procedure."""

    words: str
    """How findings call it: `ratio`, or the condition of step x."""
    expr: Expr
    text: str
    """As written, "" where it is only a part of what is written."""
    place: Place
    keys: tuple[str, ...]
    """Where it stands below its place."""
    own: str = ""
    """The value that it is the formula of."""
    is_mass: bool = False
    given: tuple[Expr, ...] = ()
    """Conditions under which it is asked for."""


class Looked(NamedTuple):
    """A formula and what was found out about it."""

    subject: Subject
    result: Result


class Judged(NamedTuple):
    """A limit and the verdict on it."""

    worked: Calculation
    limit: Limit
    verdict: Verdict


def looked_at(procedure: Procedure) -> tuple[Looked, ...]:
    """Every formula of a procedure, less the plain numbers, which always have a result. The same condition of many
    steps is searched once."""
    found = []
    known: dict[str, Result] = {}
    people_give = people_give_in(procedure)
    for subject in subjects(procedure):
        if isinstance(subject.expr, Number):
            continue
        alike = subject.text if not subject.own and not subject.given else ""
        result = known.get(alike) or searched(procedure, subject, people_give)
        if alike:
            known[alike] = result
        found.append(Looked(subject, result))
    return tuple(found)


def searched(procedure: Procedure, subject: Subject, people_give: PeopleGive) -> Result:
    """The result of one formula over all allowed jobs."""
    names = [subject.own] if subject.own else names_needed(subject.expr, procedure.scope)
    space = Space(procedure, names, given=subject.given, people_give=people_give)
    result = result_of(space, subject.expr, subject.own, may_be_negative=not subject.is_mass)
    if result.unclear is not None and space.unlimited(space.start()):
        return result._replace(unclear=None)
    return result


def subjects(procedure: Procedure) -> Iterator[Subject]:
    """The formulas of calculations, their limits, conditions of steps, and limits of answers."""
    for worked in procedure.calculations:
        if isinstance(worked, Calculation):
            mass = worked.unit.dimension == MASS and not any(limit.op.startswith(">") for limit in worked.limits)
            yield Subject(
                f"`{worked.name}`", worked.formula, worked.text, worked.place, ("formula",), worked.name, mass
            )
            if worked.rough is not None:
                rough = worked.rough
                yield Subject(
                    f"the rough check of `{worked.name}`", rough.formula, rough.text, worked.place, ("rough", "formula")
                )
            for limit in worked.limits:
                yield Subject(f"a limit of `{worked.name}`", limit.bound, "", limit.place, ())
    for step in steps_of(procedure):
        given = () if step.when is None else (step.when.expr,)
        if step.when is not None:
            yield Subject(f"the condition of `{step.id}`", step.when.expr, step.when.text, step.place, ("when",))
        if step.repeat is not None:
            words = f"the condition of the repeat of `{step.id}`"
            yield Subject(words, step.repeat.until, "", step.place, ("repeat", "until"), given=given)
        for ask in step.asks:
            for bound in (ask.low, ask.high):
                if bound is not None:
                    yield Subject(f"a limit of `{ask.name}`", bound, "", ask.place, (), given=given)


def judged(procedure: Procedure) -> tuple[Judged, ...]:
    """Every limit of a procedure's calculations."""
    people_give = people_give_in(procedure)
    return tuple(
        Judged(worked, limit, judge(Space(procedure, [worked.name], people_give=people_give), worked, limit))
        for worked in procedure.calculations
        if isinstance(worked, Calculation)
        for limit in worked.limits
    )


def cause(expr: Expr, fault: Fault) -> str:
    """What kind of part has no result: division, table, or other."""
    for node in nodes(expr):
        if (node.span.start, node.span.end) == (fault.start, fault.end):
            match node:
                case Arithmetic(op="/" | "^"):
                    return "division"
                case Call(function="lookup" | "interpolate"):
                    return "table"
                case _:
                    return "other"
    return "other"


def job_words(job: Mapping[str, str]) -> str:
    """A job as one would type it: "web_width 1300 mm, caliper 20 um"; that there is nothing to type."""
    return ", ".join(f"{name} {text}" for name, text in job.items()) or "any job"
