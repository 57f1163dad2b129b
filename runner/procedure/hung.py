"""A split worked out: which pieces hang at each end, how near that comes, and what the pieces really give.

The words are those that a person reads on the screen and on paper: each end with its heaviest piece nearest the web.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate
from runner.formula.fault import Fault
from runner.formula.quantity import show
from runner.formula.scope import names_needed
from runner.formula.units import Unit
from runner.procedure.model import Calculation, Procedure, Rack, Split
from runner.say.text import mark, say
from runner.trade.inverse import Unsolved, solve_for
from runner.trade.pieces import choose_pieces

Ends = tuple[tuple[tuple[str, int], ...], ...]
"""For each end, (piece as the rack writes it, how many)."""

ORDER = mark("heaviest nearest the web")


class Hung(NamedTuple):
    """What is to be hung, or the nearest there is."""

    mass: float
    """kg."""
    ends: Ends
    within: bool
    """Whether it comes within the tolerance."""


def hang(procedure: Procedure, split: Split, wanted: float) -> Hung:
    """The choice for a wanted mass in kg."""
    rack = next(rack for rack in procedure.racks if rack.name == split.rack)
    named = {parts: text for text, parts, _ in rack.stock}
    stock = tuple((parts, count) for _, parts, count in rack.stock)
    target, within, uneven = (in_parts(mass, rack) for mass in (wanted, split.within, split.uneven))
    choice = choose_pieces(target, stock, ends=split.ends, within_g=within, uneven_g=uneven)
    ends = tuple(tuple((named[parts], count) for parts, count in end) for end in choice.ends)
    return Hung(rack.unit.si(choice.hung_g / rack.parts), ends, choice.within)


LARGEST = 1e15
"""Parts: more than any rack has, and whole as a float. What is larger, by a slip in a formula, counts as this."""


def in_parts(mass: float, rack: Rack) -> int:
    """A mass in kg as a whole number of the rack's parts (grams for kg), so that no sum of floats decides what is hung."""
    return round(min(max(rack.unit.magnitude(mass) * rack.parts, -LARGEST), LARGEST))


def ends_words(ends: Ends, unit: str) -> str:
    """`2 x 5 kg + 1 x 1 kg at each end, heaviest nearest the web`."""

    def words(end: tuple[tuple[str, int], ...]) -> str:
        return " + ".join(f"{count} x {piece} {unit}" for piece, count in end) or say("nothing")

    order = f", {say(ORDER)}" if any(len(end) > 1 for end in ends) else ""
    if len(set(ends)) == 1:
        pieces = words(ends[0])
        return (say("{pieces} at each end", pieces=pieces) if len(ends) > 1 else pieces) + order
    return (
        ", ".join(
            say("end {number}: {pieces}", number=number, pieces=words(end)) for number, end in enumerate(ends, start=1)
        )
        + order
    )


def gives_words(
    procedure: Procedure, split: Split, values: Mapping[str, Value], hung: float, unit: Unit, mass: str
) -> str:
    """What the hung mass gives of that from which the mass was worked out, beside what was wanted of it.

    `unit` is the one of that value, `mass` the hung mass as shown.
    """
    name, wanted = split.gives.replace("_", " "), float(values[split.gives])
    chain = chain_of(procedure, split)

    def mass_of(number: float) -> float | None:
        known = {**values, split.gives: number}
        for calculation in chain:
            found = evaluate(calculation.formula, known, procedure.scope)
            if isinstance(found, Fault):
                return None
            known[calculation.name] = float(found)
        return float(known[split.mass])

    given = solve_for(mass_of, hung, wanted)
    if isinstance(given, Unsolved):
        if given.why == "several":
            return say("what {name} it gives cannot be said: more than one value asks for {mass}", name=name, mass=mass)
        return say("what {name} it gives cannot be said: no value asks for {mass}", name=name, mass=mass)
    shown, meant = show(given, unit, ".4g"), show(wanted, unit)
    if shown == show(wanted, unit, ".4g"):
        return say("gives {value} (wanted {wanted})", value=shown, wanted=meant)
    if wanted == 0 or unit.offset or unit.dimension.point:
        return say("gives {value} (wanted {wanted})", value=shown, wanted=meant)
    share = f"{100 * (given - wanted) / abs(wanted):+.1f}"
    share = say("less than 0.1") if share.strip("+-") == "0.0" else share
    return say("gives {value} (wanted {wanted}, {share} %)", value=shown, wanted=meant, share=share)


def chain_of(procedure: Procedure, split: Split) -> tuple[Calculation, ...]:
    """The calculations from `gives` to the split's mass, each after those that it rests on; empty where none lead there."""
    by_name = {made.name: made for made in procedure.calculations if isinstance(made, Calculation)}
    return chain(by_name, names_of(by_name, procedure), split.gives, split.mass)


def names_of(by_name: Mapping[str, Calculation], procedure: Procedure) -> dict[str, frozenset[str]]:
    """The names that each formula uses."""
    return {name: names_needed(made.formula, procedure.scope) for name, made in by_name.items()}


def chain(
    by_name: Mapping[str, Calculation], uses: Mapping[str, frozenset[str]], start: str, end: str
) -> tuple[Calculation, ...]:
    """The calculations of `by_name`, which are in order of use, on every way from the name `start` to the name `end`."""
    above, below = {start}, {end}
    for name in by_name:
        if name != start and uses[name] & above:
            above.add(name)
    for name in reversed([*by_name]):
        if name in below and name != start:
            below |= uses[name]
    return tuple(made for name, made in by_name.items() if name in above & below and name != start)
