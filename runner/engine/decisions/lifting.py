"""Lifting gear by the site file: no step lifts live with gear that is unknown, past its inspection or too weak for the load.

Nothing here says that a lift is safe: it only holds what the site wrote down against what is to be lifted. Without gear in
the site file nothing is checked, and people read the plates.
"""

from runner.engine.intents import Refusal
from runner.engine.shown import own_shown
from runner.engine.state import RunState
from runner.procedure.model import Procedure, Step, steps_of
from runner.say.text import say


def may_not_lift(state: RunState, step: Step, today: str) -> Refusal | None:
    """Why a step may not begin to lift on a day (YYYY-MM-DD)."""
    if state.mode != "live" or not step.lifts:
        return None
    lines = (*gear_faults(state, step, today), *overloads(state, step))
    if not lines:
        return None
    return Refusal(say("Step {number} does not lift.", number=step.number), lines)


def at_the_beginning(procedure: Procedure, state: RunState, today: str) -> tuple[str, ...]:
    """What keeps a live run from beginning: it would stop at a step that lifts. A step that does not apply counts too,
    but for its load."""
    if state.mode != "live":
        return ()
    lines = [
        line
        for step in steps_of(procedure)
        if step.lifts
        for line in (*gear_faults(state, step, today), *(overloads(state, step) if step.when is None else ()))
    ]
    return tuple(dict.fromkeys(lines))


def lift_words(state: RunState, step: Step) -> tuple[str, ...]:
    """What a step lifts with what, a load a line, with what the site file says of the gear; without it the names alone."""
    rows = {row[0]: row for row in state.site.gear or ()}
    lines = []
    for load, names in step.lifts:
        known = state.values.get(load)
        shown = own_shown(known) if known is not None and known.counts else say("not known yet")
        gear = [
            say("{gear} carries {rating}", gear=rows[name][1], rating=rows[name][3])
            if name in rows
            else name.replace("_", " ")
            for name in names
        ]
        if any(name in rows for name in names):
            gear.append(say("so says the site file; where a plate says less, the plate counts"))
        lines.append(say("{load} {shown} on: {gear}", load=load.replace("_", " "), shown=shown, gear="; ".join(gear)))
    return tuple(lines)


def gear_faults(state: RunState, step: Step, today: str) -> tuple[str, ...]:
    """Gear of a step that is not lifted with, whatever the load; a line each."""
    if state.site.gear is None:
        return ()
    rows = {row[0]: row for row in state.site.gear}
    lines = []
    for name in dict.fromkeys(name for _, names in step.lifts for name in names):
        if name not in rows:
            lines.append(say("The site file does not list the lifting gear {name}, nor what it carries.", name=name))
        elif rows[name][4] < today:
            lines.append(
                say(
                    "{gear} is past its inspection, which counted until {day} (site file). Have it inspected, or take other gear.",
                    gear=rows[name][1],
                    day=rows[name][4],
                )
            )
    return tuple(lines)


def overloads(state: RunState, step: Step) -> tuple[str, ...]:
    """Gear of a step that would carry more than its rating, a line each; loads that are not known yet are left out."""
    rows = {row[0]: row for row in state.site.gear or ()}
    lines = []
    for load, names in step.lifts:
        known = state.values.get(load)
        if known is None or not known.counts or not isinstance(known.value, float):
            continue
        for _, gear, rating, written, _day in (rows[name] for name in names if name in rows):
            if known.value > rating * (1 + 1e-12):
                lines.append(
                    say(
                        "{gear} carries {rating} (site file); {load} is {shown}.",
                        gear=gear,
                        rating=written,
                        load=load.replace("_", " "),
                        shown=own_shown(known),
                    )
                )
    return tuple(lines)
