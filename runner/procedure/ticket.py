"""The job ticket: values of inputs as people type them, judged against what the procedure allows.

Outside `within` a value is refused, since no run may begin with it; outside `likely` it is taken and marked.
"""

from runner.formula.quantity import Misread as Unread
from runner.formula.quantity import read_quantity
from runner.procedure.asks.ask import Judged, Misread
from runner.procedure.model import Input


def judge_input(given: Input, typed: str) -> Judged | Misread:
    """A value of the job ticket, as typed. Outside `within` it is refused; outside `likely` the verdict is unlikely."""
    text = typed.strip()
    if not text:
        return Misread(f"{given.ask}: nothing was typed.")
    if given.unit is None:
        if not given.choices:
            return Judged(text, "", None, text, "in", "")
        found = [choice for choice in given.choices if choice.casefold() == text.casefold()]
        if not found:
            return Misread(f"{given.ask}: {text} is none of {', '.join(given.choices)}.")
        return Judged(found[0], "", None, found[0], "in", ", ".join(given.choices))
    read = read_quantity(text, given.unit)
    if isinstance(read, Unread):
        return Misread(f"{given.ask}: {read.message}")
    unit = given.unit
    limits, verdict = "", "in"
    if given.within is not None:
        low, high = given.within
        limits = f"{unit.magnitude(low):g} to {unit.magnitude(high):g} {unit.text}"
        if not low <= read.si <= high:
            return Misread(f"{given.ask}: {read.echo} is outside what the procedure allows ({limits}).")
    if given.likely is not None and not given.likely.low <= read.si <= given.likely.high:
        verdict = "unlikely"
    return Judged(read.si, unit.text, unit.magnitude(read.si), read.echo, verdict, limits)
