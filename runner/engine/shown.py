"""Procedure text with the run's values put in, as it is shown to a person and kept in events."""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from runner.engine.lookup import index
from runner.engine.state import KnownValue, RunState
from runner.formula.evaluate import Value
from runner.formula.quantity import show
from runner.formula.units import Unit, parse_unit
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask, Prompt
from runner.procedure.hung import ends_words
from runner.procedure.model import Procedure, SafeAct, Step, TrackedState
from runner.procedure.template import Slot, Template, fill
from runner.say.text import mark, say

NOT_ACCEPTED, NO_PIECES = mark("pieces not accepted yet"), mark("these pieces miss what is wanted")
"""Said behind the nearest choice of pieces in an act, where the step does not begin yet."""
EMPTY: Mapping[str, KnownValue] = MappingProxyType({})


def fill_in(
    state: RunState, template: Template, lately: Mapping[str, KnownValue] = EMPTY
) -> tuple[str, tuple[str, ...]]:
    """(text, names that are not known yet) of a template over the values that count now, and over `lately` given ones:
    the answers that a trouble is about may not count."""

    def look(slot: Slot) -> str | None:
        known = lately.get(slot.name) or state.values.get(slot.name)
        if known is None or known.stale or known.verdict == "failed":
            return None
        if known.ends and known.verdict in ("held", "out"):
            why = say(NOT_ACCEPTED if known.verdict == "held" else NO_PIECES)
            return f"{ends_words(known.ends, known.unit)} ({why})"
        unit = slot.unit or _unit(known.unit)
        asked = bool(slot.spec) or slot.unit is not None
        if asked and unit is not None and isinstance(known.value, float):
            return show(known.value, unit, slot.spec)
        return known.shown if known.ends else own_shown(known)

    return fill(template, look)


@lru_cache(maxsize=256)
def _unit(text: str) -> Unit | None:
    found = parse_unit(text) if text else None
    return found if isinstance(found, Unit) else None


class Kept:
    """The last answer of `values_now`, with the mapping that it was read from: most events change no value."""

    last: tuple[Mapping[str, KnownValue], dict[str, Value]] | None = None


def values_now(state: RunState) -> dict[str, Value]:
    """The values that formulas may use: given, not stale and without a broken limit or failure. To be read only."""
    last = Kept.last
    if last is None or last[0] is not state.values:
        counted = {name: known.value for name, known in state.values.items() if known.counts}
        last = Kept.last = (state.values, counted)
    return last[1]


def shown_now(state: RunState) -> dict[str, str]:
    """The same as `values_now`, as a working shows them: in the value's own unit, whatever was typed."""
    return {name: own_shown(known) for name, known in state.values.items() if known.counts}


def origins_now(state: RunState) -> dict[str, str]:
    """Where each value came from, as far as the run knows."""
    return {name: known.origin for name, known in state.values.items() if known.origin}


def own_shown(known: KnownValue) -> str:
    """A value in its own unit, whatever was typed; for pieces the mass hung."""
    if _unit(known.unit) is None or not isinstance(known.value, float):
        return known.shown
    return _shown(known.value, known.unit)


@lru_cache(maxsize=1024)
def _shown(value: float, unit: str) -> str:
    """A number in its unit, kept: all values are shown anew for each that is worked out from them."""
    known = _unit(unit)
    return show(value, known) if known is not None else ""


def prompt_for(procedure: Procedure, state: RunState, ask: Ask) -> Prompt:
    """How an ask of a step is put to a person now."""
    return KIND_OF[ask.kind].prompt(ask, values_now(state), procedure.scope)


def safe_acts(procedure: Procedure, state: RunState) -> tuple[SafeAct, ...]:
    """The list for stopping and making safe that applies now: the phase's own, else the procedure's."""
    at = min(state.position.phase, len(procedure.phases) - 1)
    return procedure.phases[at].make_safe or procedure.make_safe


def role_label(procedure: Procedure, role: str) -> str:
    """How people call a role."""
    return dict(procedure.people).get(role, role)


def doer(state: RunState, step: Step) -> str:
    """The name of the person who does a step; empty where nobody has the role."""
    return state.crew.get(step.by, "")


def tracked(procedure: Procedure, name: str) -> TrackedState | None:
    """A tracked state by its name."""
    at = index(procedure).states.get(name)
    return None if at is None else procedure.states[at]
