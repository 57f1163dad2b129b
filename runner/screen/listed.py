"""States and values as lines of a list, as pages and the column beside them show them: a mark where one is abnormal."""

from runner.engine.state import KnownValue
from runner.say.text import say
from runner.screen.blocks import Ink, Row
from runner.screen.view import StateView


def state_row(state: StateView) -> Row:
    """One state: a mark and a word for what nobody vouches for."""
    owner = "  " + say("({role} has it)", role=state.owner) if state.owner else ""
    if state.known:
        return Row(f"{state.label}: {state.value}{owner}", "   ")
    word = say("look again") if state.before else say("unknown")
    return Row(f"{state.label}: {word}{owner}", " ? ", ink=Ink.ABNORMAL)


def value_row(known: KnownValue) -> Row:
    """One value; a stale one or one out of limits is marked."""
    name = known.name.replace("_", " ")
    if known.stale:
        return Row(
            say("{name}: to be given or worked out again (was {shown})", name=name, shown=known.shown),
            "(<)",
            ink=Ink.ABNORMAL,
        )
    if known.verdict == "hidden":
        return Row(f"{name}: {known.shown}", "   ", ink=Ink.QUIET)
    if known.verdict == "accepted":
        return Row(
            say(
                "{name}: {shown} (nearest choice, accepted by {person})",
                name=name,
                shown=known.shown,
                person=known.accepted_by,
            ),
            "   ",
        )
    if known.verdict != "in":
        return Row(f"{name}: {known.shown}", " ! ", ink=Ink.ABNORMAL)
    return Row(f"{name}: {known.shown}", "   ")
