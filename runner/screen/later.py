"""What the shell shows now and then: loaded when it first comes up, since the time to the first paint is a measured figure."""

from importlib import import_module

from runner.engine.events import Event
from runner.screen.blocks import Block, Far
from runner.screen.desk import Desk, Page
from runner.screen.door import Door
from runner.screen.view import View, hidden


def same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether all are the very same things: a state is never compared field by field."""
    return all(left is right for left, right in zip(one, other, strict=True))


def kept_act(run: Door, event: Event) -> str:
    """The last act that is on record, in words."""
    from runner.screen.kept import kept_words

    return kept_words(run.procedure, event, hidden(run.procedure, run.state))


def beside_page(desk: Desk) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """What a wide terminal shows beside the page, and under the step."""
    from runner.screen.beside import beside, drawn

    return beside(desk), drawn(desk)


def far_view(desk: Desk, seen: View) -> Far:
    """What is read from three metres."""
    from runner.screen.far import far_of

    return far_of(seen, desk.state, desk.interrupted)


def opened(name: str, desk: Desk) -> Page:
    """A page by the name of its module."""
    page: Page = import_module(f"runner.screen.pages.{name}").opened(desk)
    return page
