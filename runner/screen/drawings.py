"""What a step draws: the web path that it threads, the pieces that it hangs, how far the web is fed.

Only what is known is drawn; a path that cannot be worked out, or pieces that do not count yet, leave nothing. A feed is
a bar with the lengths beside it, so that it needs no colour; only a feed that falls short is abnormal.
"""

from runner.engine.shown import values_now
from runner.formula.evaluate import evaluate, path_of
from runner.formula.quantity import show
from runner.procedure.model import Split, Step
from runner.say.text import say
from runner.screen.blocks import Block, Drawing, Gap, Hanging, Heading, Ink, Say
from runner.screen.desk import Desk
from runner.screen.view import Stage, StepView
from runner.trade.web_path import Problem

FEED_CELLS = 30
"""Of the bar of a feed."""


def step_drawings(desk: Desk, step: StepView) -> tuple[Block, ...]:
    """The path of a step that threads one, as far as it is threaded; the pieces of one that hangs them."""
    ask = next((ask for ask in step.step.asks if ask.kind == "thread"), None)
    if ask is not None:
        return path_drawing(desk, ask.path, len(step.threaded) if step.ask is ask else None)
    return () if step.stage is Stage.CAUTIONS else pieces_drawing(desk, step.step)


def path_drawing(desk: Desk, name: str, done: int | None = None) -> tuple[Block, ...]:
    """A web path by its name; nothing where it cannot be drawn now."""
    found = desk.procedure.scope.paths.get(name)
    path = path_of(found, values_now(desk.state), desk.procedure.scope) if found is not None else None
    if path is None or isinstance(path, Problem):
        return ()
    return (Heading(path_title(name)), Drawing(path, done), Gap())


def path_title(name: str) -> str:
    """How people call a web path."""
    return say("Web path {name}", name=name.replace("_", " ").removesuffix(" path"))


def pieces_drawing(desk: Desk, step: Step) -> tuple[Block, ...]:
    """The pieces that a step names, as they hang; those that miss what is wanted only once they are accepted."""
    blocks: list[Block] = []
    for made in desk.procedure.calculations:
        known = desk.state.values.get(made.name)
        if isinstance(made, Split) and made.name in step.uses and known is not None and known.counts and known.ends:
            blocks += [Heading(known.name.replace("_", " ")), Hanging(known.ends, known.unit), Gap()]
    return tuple(blocks)


def feed_blocks(desk: Desk, step: StepView) -> tuple[Block, ...]:
    """Needed, fed and left of a step that feeds web, with a bar; nothing before it has begun."""
    ask = next((ask for ask in step.step.asks if ask.kind == "advance"), None)
    if ask is None or ask.low is None or ask.unit is None or step.stage not in (Stage.ASK, Stage.SECOND, Stage.END):
        return ()
    needed = evaluate(ask.low, values_now(desk.state), desk.procedure.scope)
    if not isinstance(needed, float) or step.alone:
        return ()
    given = desk.state.record(step.step.id).answers.get(ask.name)
    fed = given.value if given is not None and isinstance(given.value, float) else 0.0
    left = max(0.0, needed - fed)
    words = say(
        "needed {needed}, fed {fed}, left {left}",
        needed=show(needed, ask.unit), fed=show(fed, ask.unit), left=show(left, ask.unit),
    )  # fmt: skip
    short = given is not None and left > 0.0
    return (
        Say(f"{bar(fed / needed if needed > 0 else 1.0)} {words}", say("feed"), Ink.ABNORMAL if short else Ink.PLAIN),
    )


def bar(share: float, cells: int = FEED_CELLS) -> str:
    """A bar of so many cells, filled by a share from 0 to 1. It is full only where nothing is left."""
    filled = cells if share >= 1.0 else min(cells - 1, int(max(0.0, share) * cells))
    return f"[{'#' * filled}{'.' * (cells - filled)}]"
