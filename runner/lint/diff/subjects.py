"""The things that are compared, pair by pair: how each kind is found in both texts, what it is called, where it stands.

One row a kind of thing. A pair has None on the side that does not have it.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from runner.lint.diff.context import Context, Standing
from runner.lint.diff.match import Matched
from runner.procedure.asks.ask import Ask
from runner.procedure.finding import Place
from runner.procedure.model import Calculation, Procedure, Split, Step, Trouble


class Pair(NamedTuple):
    """A thing of the old text and the same thing of the new one."""

    title: str
    old: Any
    new: Any
    old_place: Place | None
    new_place: Place | None


class Subject(NamedTuple):
    """One kind of thing."""

    name: str
    pairs: Callable[[Context], Iterator[Pair]]
    record: str = ""
    """The language's record that it is written as, where its name is the key of a map or its `id`."""
    called: Callable[[Any], str] | None = None
    """Its name, where it may be renamed."""


def whole(context: Context) -> Iterator[Pair]:
    """The procedure itself."""
    yield Pair("procedure", context.old, context.new, _top(context.old), _top(context.new))


def simple(
    word: str, name: Callable[[Any], str], found: Callable[[Context], Matched[Any]]
) -> Callable[[Context], Iterator[Pair]]:
    """Pairs of things that have a place."""

    def pairs(context: Context) -> Iterator[Pair]:
        both = found(context)
        ends = [_top(context.old), _top(context.new)]
        for old, new in both.both:
            yield Pair(f"{word} {name(new)}", old, new, old.place, new.place)
        for old in both.gone:
            yield Pair(f"{word} {name(old)}", old, None, old.place, ends[1])
        for new in both.come:
            yield Pair(f"{word} {name(new)}", None, new, ends[0], new.place)

    return pairs


def _top(procedure: Procedure) -> Place:
    return Place(procedure.phases[0].place.path if procedure.phases else "", 1, 1)


def of_kind(kind: type) -> Callable[[Context], Matched[Any]]:
    """Calculations, or splits; what became the other kind is gone and come."""

    def found(context: Context) -> Matched[Any]:
        all_of = context.calculations
        turned = [(a, b) for a, b in all_of.both if type(a) is not type(b)]
        return Matched(
            tuple((a, b) for a, b in all_of.both if type(a) is type(b) is kind),
            tuple(one for one in (*all_of.gone, *(a for a, _ in turned)) if isinstance(one, kind)),
            tuple(one for one in (*all_of.come, *(b for _, b in turned)) if isinstance(one, kind)),
        )

    return found


def of_scope(word: str, which: str) -> Callable[[Context], Iterator[Pair]]:
    """Tables or web paths."""

    def pairs(context: Context) -> Iterator[Pair]:
        old, new = getattr(context.old.scope, which), getattr(context.new.scope, which)
        naming = getattr(context.naming, which)
        places = [dict(context.old.places), dict(context.new.places)]
        ends = [_top(context.old), _top(context.new)]
        taken = set()
        for name, one in old.items():
            now = name if name in new else naming.get(name, name)
            taken.add(now)
            where = [places[0].get(name, ends[0]), places[1].get(now, ends[1])]
            yield Pair(
                f"{word} {now if now in new else name}", (name, one), (now, new[now]) if now in new else None, *where
            )
        for name in new.keys() - taken:
            yield Pair(f"{word} {name}", None, (name, new[name]), ends[0], places[1].get(name, ends[1]))

    return pairs


def step_title(one: Standing) -> str:
    """`step 5.4 trial-lift`."""
    return f"step {one.step.number} {one.step.id}"


def steps(context: Context) -> Iterator[Pair]:
    """Steps with where they stand; a step that is gone has the place of its phase in the new text."""
    for old, new in context.steps.both:
        yield Pair(step_title(new), old, new, old.step.place, new.step.place)
    for old in context.steps.gone:
        index = context.phase_of.get(old.phase_index)
        place = _top(context.new) if index is None else context.new.phases[index].place
        yield Pair(step_title(old), old, None, old.step.place, place)
    back = {new: old for old, new in context.phase_of.items()}
    for new in context.steps.come:
        index = back.get(new.phase_index)
        place = _top(context.old) if index is None else context.old.phases[index].place
        yield Pair(step_title(new), None, new, place, new.step.place)


class Asked(NamedTuple):
    """What a step asks for, with its step."""

    step: Step
    ask: Ask


def asks(context: Context) -> Iterator[Pair]:
    """What steps that are in both texts ask for."""
    for old, new in context.steps.both:
        found = context.asks[new.step.id]
        title = step_title(new)
        turned = [(a, b) for a, b in found.both if a.kind != b.kind]
        for a, b in found.both:
            if a.kind == b.kind:
                yield Pair(f"{title}, {b.name}", Asked(old.step, a), Asked(new.step, b), a.place, b.place)
        for a in (*found.gone, *(a for a, _ in turned)):
            yield Pair(f"{title}, {a.name}", Asked(old.step, a), None, a.place, new.step.place)
        for b in (*found.come, *(b for _, b in turned)):
            yield Pair(f"{title}, {b.name}", None, Asked(new.step, b), old.step.place, b.place)


def troubles(context: Context) -> Iterator[Pair]:
    """Troubles of steps that are in both texts."""
    for old, new in context.steps.both:
        found = context.troubles[new.step.id]
        title = step_title(new)
        for a, b in found.both:
            yield Pair(f"{title}, trouble {quiet(b)}", a, b, a.place, b.place)
        for a in found.gone:
            yield Pair(f"{title}, trouble {quiet(a)}", a, None, a.place, new.step.place)
        for b in found.come:
            yield Pair(f"{title}, trouble {quiet(b)}", None, b, old.step.place, b.place)


def quiet(trouble: Trouble) -> str:
    """A trouble's id, or its sign where it has none."""
    return trouble.id or f'"{trouble.sign}"'


def roles(context: Context) -> Iterator[Pair]:
    """Roles; they have no place of their own."""
    where = (_top(context.old), _top(context.new))
    for old, new in context.roles.both:
        yield Pair(f"role {new[0]}", old, new, *where)
    for old in context.roles.gone:
        yield Pair(f"role {old[0]}", old, None, *where)
    for new in context.roles.come:
        yield Pair(f"role {new[0]}", None, new, *where)


SUBJECTS: Mapping[str, Subject] = {
    row.name: row
    for row in (
        Subject("procedure", whole),
        Subject("role", roles, "", lambda one: one[0]),
        Subject("caution", simple("caution", lambda one: one.id, lambda c: c.cautions), "", lambda one: one.id),
        Subject("input", simple("input", lambda one: one.name, lambda c: c.inputs), "", lambda one: one.name),
        Subject("table", of_scope("table", "tables"), "", lambda one: one[0]),
        Subject("path", of_scope("web path", "paths"), "", lambda one: one[0]),
        Subject("rack", simple("rack", lambda one: one.name, lambda c: c.racks), "", lambda one: one.name),
        Subject("state", simple("state", lambda one: one.name, lambda c: c.states), "", lambda one: one.name),
        Subject(
            "calculation", simple("calculation", lambda one: one.name, of_kind(Calculation)), "", lambda one: one.name
        ),
        Subject("split", simple("pieces", lambda one: one.name, of_kind(Split)), "", lambda one: one.name),
        Subject(
            "phase", simple("phase", lambda one: one.name, lambda c: c.phases), "a phase.phase", lambda one: one.name
        ),
        Subject("step", steps, "a step.id", lambda one: one.step.id),
        Subject("ask", asks, "", lambda one: one.ask.name),
        Subject("trouble", troubles, "a trouble.id", lambda one: one.id),
    )
}
