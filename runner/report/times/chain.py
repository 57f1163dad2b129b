"""The critical path of a run as it was: backwards from its last step, each time to what it last waited for.

That is the step before in the same list, or the step of the other list that made what it needs, or the last step of the
phase before. Links and the gaps between them fill the time from first to last without overlap: only what lies on the
chain can shorten the run, and only until another chain is the longest.
"""

from dataclasses import dataclass

from runner.report.times.plan import Plan, Planned, depends
from runner.report.times.visits import PASSED, Stretches, Visit


@dataclass(frozen=True, slots=True)
class Link:
    """A visit to a step, or the part of it that nothing else was waited for."""

    visit: Visit
    since: float
    gap: float
    """Seconds before it in which nothing of the chain was on."""
    crossed: bool
    """True where it waited for a step of the other list; the chain goes on there."""
    waited: float
    """How long its own list stood for that, in s."""

    @property
    def until(self) -> float:
        """When it ended."""
        return self.visit.until


Place = tuple[int, Visit, Planned]
"""A visit, its place in order of ending, and its step."""


def chain_of(run: Stretches, plan: Plan) -> tuple[Link, ...]:
    """The chain, in order of time. Steps that were passed over take no time and are not in it."""
    visits = [visit for visit in run.visits if visit.how != PASSED]
    places = [(at, visit, plan[visit.step]) for at, visit in enumerate(visits)]
    links: list[Link] = []
    here = places[-1] if places else None
    while here is not None:
        visit = here[1]
        own = own_before(places, here)
        own_end = own[1].until if own is not None else 0.0
        other = other_before(places, here, own_end)
        before = own if other is None else other
        end = before[1].until if before is not None else 0.0
        since = max(visit.came, end)
        links.append(Link(visit, since, since - end, other is not None, end - own_end if other is not None else 0.0))
        here = before
    return tuple(reversed(links))


def own_before(places: list[Place], here: Place) -> Place | None:
    """The visit before in the same list, else the last of an earlier phase."""
    at, visit, step = here
    for place in reversed(places[:at]):
        _, earlier, known = place
        same = (known.phase, known.lane) == (step.phase, step.lane)
        if earlier.until <= visit.came and (same or known.phase < step.phase):
            return place
    return None


def other_before(places: list[Place], here: Place, own_end: float) -> Place | None:
    """The last visit of the other list that this one could have waited for until it began, once its own list was free."""
    at, visit, step = here
    latest = visit.came if visit.begun is None else visit.begun
    for place in reversed(places[:at]):
        _, earlier, known = place
        if earlier.until <= own_end:
            return None
        other = known.phase == step.phase and known.lane != step.lane
        if other and earlier.until <= latest and depends(step, known):
            return place
    return None
