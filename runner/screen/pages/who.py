"""Who it was: names of the crew to pick from, the one who has the list first, so that Enter alone says it was that one.

Asked only where there is more than one person, and never before stopping. Names are as typed: nothing verifies them.
"""

from collections.abc import Callable
from functools import partial

from runner.engine.decisions.check import same_person
from runner.screen.blocks import Row
from runner.screen.desk import Desk, Move, Open
from runner.screen.pages.menu import MenuPage


def who(desk: Desk, title: str, move: Callable[[Desk, str], Move], first: str = "") -> Move:
    """The Move of the person who is picked; at once where the crew is one person."""
    names = people(desk, first)
    if len(names) < 2:
        return move(desk, names[0] if names else "")
    moves = tuple(partial(_named, move=move, name=name) for name in names)
    return Open(MenuPage(title, tuple(Row(name) for name in names), moves, cursor=0))


def _named(desk: Desk, move: Callable[[Desk, str], Move], name: str) -> Move:
    return move(desk, name)


def people(desk: Desk, first: str = "") -> tuple[str, ...]:
    """Everybody on the crew once; `first`, else who has the list that is shown, comes first."""
    names: list[str] = []
    for name in (first or desk.person, *desk.state.crew.values()):
        if name and not any(same_person(name, other) for other in names):
            names.append(name)
    return tuple(names)
