"""A feed: web is fed until its length reaches what is needed, and the fed length is read off and typed.

The length fed is a value for formulas, named after the step: `thread-unwind` gives `thread_unwind_fed`.
"""

from runner.formula.dimension import LENGTH
from runner.formula.units import Unit, parse_unit
from runner.procedure.asks.ask import Ask, AskKind
from runner.procedure.asks.reading import accept, printed, prompt
from runner.procedure.desk import Desk
from runner.procedure.language.shape import FORMULA, Key
from runner.procedure.nodes import Map, key_place
from runner.say.text import say

SHAPE = Key(
    "advance",
    FORMULA,
    False,
    "A calculation or formula that gives a length: the web must be fed at least so far. The length fed is typed.",
    "advance: feed",
)


def build(step: Map, desk: Desk) -> tuple[Ask, ...]:
    """The feed of a step."""
    metre = parse_unit("m")
    assert isinstance(metre, Unit)  # the table of units has it
    needed = desk.formula(step, "advance", LENGTH, "`advance`")
    name = f"{step['id'].strip().replace('-', '_')}_fed"
    return (Ask("advance", name, say("Length fed"), key_place(step, "advance"), unit=metre, low=needed),)


FEED = AskKind("advance", SHAPE, build, prompt, accept, printed, "feed")
