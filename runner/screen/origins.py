"""Where a value came from, in the language of the screen. The record keeps it in one form, `step 4.2, by N. Petrov`, which
is taken apart here; names, numbers and rows stay as they are, and what has another form is shown as it stands."""

from runner.say.text import mark, say

WAYS = (mark("job file"), mark("command line"), mark("answers file"), mark("typed"))
"""How a value of the job ticket came."""
CORRECTED = ", corrected by "


def origin_words(origin: str) -> str:
    """The origin as a person reads it."""
    first, corrected, person = origin.partition(CORRECTED)
    if corrected:
        return say("{origin}, corrected by {person}", origin=origin_words(first), person=person)
    lead, comma, rest = first.partition(", ")
    match lead.split(" ", 1):
        case ["job", "ticket"]:
            return f"{say('job ticket')}, {say(rest) if rest in WAYS else rest}" if comma else say("job ticket")
        case ["worked", "out"] if not comma:
            return say("worked out")
        case ["step", number] if rest.startswith("by "):
            return say("step {number}, by {person}", number=number, person=rest.removeprefix("by "))
        case ["step", number] if not comma:
            return say("step {number}", number=number)
        case ["constant", _]:
            return say("constant {value}", value=first.removeprefix("constant "))
        case ["row", _]:
            return say("row {keys}", keys=first.removeprefix("row "))
        case ["between", "rows"]:
            return say("between rows, at {keys}", keys=rest.removeprefix("at "))
        case _:
            return origin
