"""A web path on a page of its own: the whole drawing with each roller, over or under, and how far it is threaded.

It is reached from the values, so that a small terminal has it too. Paths that cannot be drawn yet say so.
"""

from runner.engine.lookup import step_named
from runner.procedure.asks.ask import Ask
from runner.say.text import say
from runner.screen.blocks import Block, Drawing, Ink, Row, Rows, Say
from runner.screen.desk import Back, Desk, Page
from runner.screen.drawings import path_drawing, path_title
from runner.screen.marks import TICKED, UNTICKED
from runner.screen.pages.confirm import ConfirmPage
from runner.trade.web_path import WebPath

LEAST = 10
"""Rows of a drawing."""


def paths_in_order(desk: Desk) -> tuple[str, ...]:
    """The paths of the procedure, the one that the step in front threads first."""
    ask = _threading(desk)
    return tuple(sorted(desk.procedure.scope.paths, key=lambda name: ask is None or name != ask.path))


def path_rows(desk: Desk) -> tuple[Row, ...]:
    """A row for each, as the page of values lists them."""
    return tuple(Row(path_title(name), word=say("drawing")) for name in paths_in_order(desk))


def path_page(desk: Desk, name: str) -> Page:
    """The drawing of one path, threaded so far where it is being threaded now."""
    ask = _threading(desk)
    done = len(desk.state.record(desk.step_id).threaded) if ask is not None and ask.path == name else None
    unknown = Say(say("It cannot be drawn yet: a value that it needs is not known."), ink=Ink.ABNORMAL)
    drawn = tuple(block for block in path_drawing(desk, name, done) if isinstance(block, Drawing))
    # the whole drawing first, as large as the page; the list of rollers is below it
    blocks: tuple[Block, ...] = tuple(block._replace(rows=max(LEAST, desk.room - 2)) for block in drawn) or (unknown,)
    blocks += tuple(Rows(roller_rows(block.path, done)) for block in drawn)
    return ConfirmPage(path_title(name), blocks, say("back"), lambda _: Back(), word="back")


def roller_rows(path: WebPath, done: int | None) -> tuple[Row, ...]:
    """Each roller with the side on which the web passes, and whether it is threaded."""
    return tuple(
        Row(f"{at + 1} {roller.name}: {say(roller.side)}", "" if done is None else TICKED if at < done else UNTICKED)
        for at, roller in enumerate(path.rollers)
    )


def path_words(ask: Ask) -> str:
    """The list of a path in one paragraph, for the second person: what to look at, in this order."""
    return ", ".join(f"{number} {roller}" for number, roller in enumerate(ask.of, start=1))


def _threading(desk: Desk) -> Ask | None:
    step = step_named(desk.procedure, desk.step_id)
    return next((ask for ask in step.asks if ask.kind == "thread"), None) if step is not None else None
