"""Whatever the full screen has, plain mode has: each key of each page by its word, each intent, each thing that is drawn.

The lists come from the tables: pages and keys from `keys.PAGES`, intents from `AnyIntent`, fields from `View` and `Trail`.
A page or an intent that is new fails here until somebody shows that a line of text comes to it.
"""

import ast
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import pytest

import runner.screen.pages
from runner.engine import flow
from runner.engine.intents import Abandon, AnyIntent, DoSafeAct, LeftOpen, MakeSafe, Pause, Resume
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.screen import plain
from runner.screen.beside import beside
from runner.screen.blocks import Act, Big, Block, CautionBlock, Facts, Heading, Rows, Say, Sheet
from runner.screen.door import Idle
from runner.screen.keys import KEYS, LESSON, MOVES, PAGES, SIGHT, Action, key_for
from runner.screen.pages.home import NO_PROCEDURE, HomeLine, HomePage, Listing
from runner.screen.pages.lost import LostPage
from runner.screen.pages.review import ReviewPage
from runner.screen.pages.start import StartPage
from runner.screen.pages.states import StatesPage
from runner.screen.shell import Shell
from runner.screen.view import Trail, View, view
from runner.screen.widgets.bars import top_lines, trail_line
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, MemoryRun, Person, compiled
from tests.screen.test_standstill import lifting

LEFT = LeftOpen(
    "run-7", 2, "Change", "material", "minor", "Core is dented.", "", False, "Ada", "2026-11-24T14:02:11.000Z"
)


def at(*keys: str, left: tuple[LeftOpen, ...] = ()) -> Shell:
    return Person(MemoryRun(compiled(), left_open=left)).press(*keys).shell


def idle(page: StartPage | HomePage, dry: str = "") -> Shell:
    procedure = NO_PROCEDURE if isinstance(page, HomePage) else compiled()
    tick = iter(range(1000))
    shell = Shell(
        lambda: Moment("2026-11-25T09:40:14.250Z", float(next(tick)), ""),
        page,
        idle=Idle(procedure, RunState(flow.start(procedure)), dry),
    )
    shell.picture()
    return shell


def with_page(page: ReviewPage | LostPage) -> Shell:
    shell = at()
    shell.pages.append(page)
    shell.settle()
    return shell


def broken() -> Shell:
    shell = at()
    shell.broken("disk full")
    return shell


def ended() -> Shell:
    """A run that was stopped, its acts done, and abandoned."""
    run = MemoryRun(compiled())
    run.submit(MakeSafe("N. Petrov"))
    for number in range(len(run.state.safe_acts)):
        run.submit(DoSafeAct("N. Petrov", number))
    run.submit(Abandon("N. Petrov", "shift is over"))
    return Person(run).shell


def finishing() -> Shell:
    """All phases have ended."""
    run = MemoryRun(compiled())
    run.state = replace(run.state, position=run.state.position._replace(phase=len(run.procedure.phases), cursors=()))
    return Person(run).shell


def resumed() -> Shell:
    """A run that was interrupted and taken up again: its states are to be looked at."""
    run = MemoryRun(compiled())
    run.submit(Pause("N. Petrov", "open the guard"))
    run.submit(Resume("N. Petrov"))
    shell = Person(run).shell
    shell.pages.append(StatesPage(resumed=True, looker="N. Petrov"))
    shell.settle()
    return shell


EXAMPLES: dict[str, Callable[[], Shell]] = {
    "run": at,
    "hold": lambda: at("enter", "enter", "enter", "enter", "enter", "enter"),
    "places": lambda: at("f6"),
    "working": lambda: at("f7"),
    "looks": resumed,
    "form": lambda: at("f2"),
    "halted": lambda: at("f4"),
    "finish": finishing,
    "carried": lambda: at(left=(LEFT,)),
    "over": ended,
    "review": lambda: with_page(ReviewPage()),
    "broken": broken,
    "lost": lambda: with_page(LostPage()),
    "help": lambda: at("f1"),
    "start": lambda: idle(StartPage(CREW, INPUTS, "live")),
    "home": lambda: idle(HomePage(Listing(procedures=(HomeLine("p", "Change the roll"), HomeLine("q", "Knives"))))),
}
"""A shell on each page of the table."""


def stands(shell: Shell) -> tuple[object, ...]:
    """Where a shell is, in what both rims share."""
    pages = tuple(type(page).__name__ for page in shell.pages)
    return pages, shell.sheet().page, shell.sheet().subject, shell.lane, shell.left, shell.pending


def plainly(shell: Shell) -> Shell:
    shell.plain, shell.room = True, plain.ROOM
    return shell


def test_there_is_an_example_of_every_page_of_the_table() -> None:
    assert EXAMPLES.keys() == PAGES.keys()
    assert {name: make().sheet().page for name, make in EXAMPLES.items()} == {name: name for name in PAGES}


@pytest.mark.parametrize(("page", "action"), [(page, action) for page, actions in PAGES.items() for action in actions])
def test_every_key_of_every_page_has_a_word_that_does_the_same(page: str, action: Action) -> None:
    pressed, spoken = plainly(EXAMPLES[page]()), plainly(EXAMPLES[page]())
    sheet = spoken.sheet()
    if action not in sheet.keys:
        pytest.skip("the key does nothing on this page now")
    word = sheet.word if action is Action.GO_ON else key_for(action).word
    slash = "/" if sheet.entry is not None and sheet.entry.free else ""
    told = plain.commands_text(sheet)
    entered = action is Action.GO_ON and sheet.entry is not None
    assert f"  {slash}{word} " in told or (entered and "the answer" in told)
    wanted = pressed.act(action, "")
    if entered:  # what is typed is taken by the same call as Enter: an empty line is all that differs
        return
    assert plain.answer(spoken, sheet, f"{slash}{word}") == wanted
    assert stands(spoken) == stands(pressed)


def test_keys_that_are_on_no_page_move_about_or_are_for_the_eye() -> None:
    listed = {action for actions in PAGES.values() for action in actions}
    moves = {key.action for key in KEYS} - listed - set(SIGHT) - set(LESSON)
    assert moves == set(MOVES)
    text = plain.commands_text(EXAMPLES["places"]().sheet())
    assert all(f"  {key_for(action).word} " in text for action in moves)


ELSEWHERE = {"BeginRun", "NoteTraining"}
"""BeginRun: sent by what begins a run, once the start page gives crew and job, on both rims. NoteTraining: what a lesson
notes of the trainee, sent by the lesson itself."""


def test_every_intent_is_sent_by_a_page_which_both_rims_drive() -> None:
    folder = Path(runner.screen.pages.__file__).parent
    named = {
        node.func.id
        for path in (*folder.glob("*.py"), *folder.parent.glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert {kind.__name__ for kind in get_args(AnyIntent)} - named == ELSEWHERE


def put(whole: Any, field: str, value: object) -> Any:
    """A named tuple with another value in the field of that name."""
    return whole._replace(**{field: value})


def marked(seen: View, field: str) -> tuple[View, str] | None:
    """The view with a mark in a field of text or number, and the mark."""
    value = getattr(seen, field)
    if isinstance(value, bool) or not isinstance(value, str | int):
        return None
    mark = f"Zq{field.title()}" if isinstance(value, str) else str(7310 + View._fields.index(field))
    return put(seen, field, mark if isinstance(value, str) else int(mark)), mark


def drawn(seen: View) -> str:
    lines = [*top_lines(seen, "09:40 UTC", 200), *(trail_line(trail, False, 200) for trail in seen.trails)]
    return "\n".join(text_of(line) for line in lines)


def told(seen: View) -> str:
    return "\n".join(plain.head_lines(seen, Sheet("form", "A page", (Say("x"),)), ""))


def seen_now() -> View:
    run = MemoryRun(compiled(), left_open=(LEFT,))
    return view(run.procedure, run.state, run.now())._replace(unconfirmed=2)


@pytest.mark.parametrize("field", View._fields)
def test_every_field_of_the_view_that_the_screen_draws_is_said(field: str) -> None:
    found = marked(seen_now(), field)
    if found is None:
        pytest.skip("neither a text nor a number: what it holds is looked at below")
    changed, mark = found
    assert mark in told(changed) or mark not in drawn(changed)


@pytest.mark.parametrize("field", Trail._fields)
def test_every_field_of_a_trail_that_the_screen_draws_is_said(field: str) -> None:
    seen = seen_now()
    trail = seen.trails[0]._replace(who="Operator")
    value = getattr(trail, field)
    if not isinstance(value, str):
        pytest.skip("the place is a number that the trail draws as a mark; cells are the page of steps")
    changed = seen._replace(trails=(put(trail, field, "Zq"),))
    assert "Zq" in told(changed) or "Zq" not in drawn(changed)


def test_the_time_and_how_long_the_press_stands_are_said_with_the_page() -> None:
    person = lifting(MemoryRun(compiled()))
    text = "\n".join(plain.clock_lines(plainly(person.shell)))
    assert "09:40 UTC" in text
    assert "Press stands" in text


def test_the_drawing_of_a_path_is_there_with_what_is_threaded_and_what_is_next() -> None:
    run = MemoryRun(compiled())
    place = run.state.position._replace(phase=2, cursors=(flow.start(run.procedure).cursors[0],) * 2)
    run.state = replace(run.state, position=place)
    person = Person(run).press("enter", "enter")
    text = plain.page_text(plainly(person.shell), person.shell.sheet())
    assert "Web path unwind" in text
    assert text.isascii()
    assert "1 roll" in text


def test_a_dry_run_says_so_before_it_has_begun() -> None:
    shell = plainly(idle(StartPage(CREW, INPUTS, "dry", read=True), "DRY RUN"))
    assert "DRY RUN" in plain.page_text(shell, shell.sheet())


def texts(blocks: tuple[Block, ...]) -> list[str]:
    """What blocks say, drawings left out."""
    found: list[str] = []
    for block in blocks:
        match block:
            case Say() | Heading() | Act() | Big():
                found.append(block.text)
            case Rows():
                found += [row.text for row in block.rows]
            case Facts():
                found += [part for fact in block.rows for part in (fact.label, fact.value, fact.note)]
            case CautionBlock():
                found += [block.hazard, block.avoid]
            case _:
                pass
    return found


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("page", PAGES)
def test_every_block_of_every_page_is_said(page: str) -> None:
    shell = plainly(EXAMPLES[page]())
    sheet = shell.sheet()
    said = flat(plain.page_text(shell, sheet))
    assert [text for text in texts((*sheet.blocks, *sheet.spare)) if flat(text) not in said] == []


def test_what_a_wide_terminal_shows_beside_the_step_is_on_pages_that_a_word_opens() -> None:
    person = lifting(MemoryRun(compiled()))
    shell = plainly(person.shell)
    said = [plain.page_text(shell, shell.sheet()), *plain.clock_lines(shell)]
    for word in ("steps", "values", "side", *(f"values {number}" for number in range(1, 5))):
        for typed in word.split():
            plain.answer(shell, shell.sheet(), typed)
            said.append(plain.page_text(shell, shell.sheet()))
        if word != "values":  # the states are behind the values
            while len(shell.pages) > 1:
                plain.answer(shell, shell.sheet(), "back")
    whole = flat(" ".join(said))
    wanted = [text for text in texts(beside(shell.desk())) if text and not text.startswith("unknown: ")]
    headings = {"Steps", "Values of this step", "The press, as you confirmed it"}
    assert [text for text in wanted if flat(text) not in whole and text not in headings] == []
