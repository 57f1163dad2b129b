"""States and values as lines of a list, as pages and the column beside them show them: a mark where one is abnormal."""

from runner.engine.state import KnownValue
from runner.screen.blocks import Ink, Row
from runner.screen.view import StateView


def state_row(state: StateView) -> Row:
    """One state: a mark and a word for what nobody vouches for."""
    owner = f"  ({state.owner} has it)" if state.owner else ""
    if state.known:
        return Row(f"{state.label}: {state.value}{owner}", "   ")
    word = "look again" if state.before else "unknown"
    return Row(f"{state.label}: {word}{owner}", " ? ", ink=Ink.ABNORMAL)


def value_row(known: KnownValue) -> Row:
    """One value; a stale one or one out of limits is marked."""
    name = known.name.replace("_", " ")
    if known.stale:
        return Row(f"{name}: to be given or worked out again (was {known.shown})", "(<)", ink=Ink.ABNORMAL)
    if known.verdict == "hidden":
        return Row(f"{name}: {known.shown}", "   ", ink=Ink.QUIET)
    if known.verdict == "accepted":
        return Row(f"{name}: {known.shown} (nearest choice, accepted by {known.accepted_by})", "   ")
    if known.verdict != "in":
        return Row(f"{name}: {known.shown}", " ! ", ink=Ink.ABNORMAL)
    return Row(f"{name}: {known.shown}", "   ")
