"""Plain mode: the same pages line by line, for screen readers, serial lines and terminals that can do no more.

Everything the full screen has is here, through the same `Shell`: each act has a word, a number picks, words are
commands (`?` lists them), anything else is the answer. Where any words are an answer, a command begins with a slash.
An empty line never acts, so that a held or bouncing Enter passes nothing: what is asked is asked again.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from runner.engine import flow
from runner.engine.intents import Pause, Refusal, Wanted
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.say.text import mark, say, say_n
from runner.screen import words
from runner.screen.beside import clock_blocks
from runner.screen.blocks import Block, Drawing, Gap, Hanging, Rows, Sheet
from runner.screen.desk import Begin, Page
from runner.screen.door import Door, Idle, Starter, shared
from runner.screen.elsewhere import NOT_COUNTED, Inbox, follow_own
from runner.screen.keys import MOVES, SIGHT, Action, action_for_word, key_for
from runner.screen.mode import DRY
from runner.screen.pages.start import StartPage
from runner.screen.shell import Shell
from runner.screen.view import View
from runner.screen.widgets.lines import text_of, wrap
from runner.screen.widgets.picture import block_lines

if TYPE_CHECKING:
    from runner.screen.pages.home import Listing

WIDTH = 79
ROOM = 20
DRAWN_ROWS = 14
"""Lines of the drawing of a web path."""
ENDED = mark("The input has ended.")
PAUSED_BY_END = mark("The run is paused and stays open at this place.")
AGAIN = "again"
"""Tells the page once more, for whoever has not heard it or has lost it from sight."""

Ask = Callable[[str], str]
"""Puts a question and gives the line typed; raises EOFError where the input has ended."""
Write = Callable[[str], None]
Pairs = tuple[tuple[str, str], ...]


def run_plain(
    run: Door, ask: Ask, write: Write, hidden: Ask | None = None, lane: int = 0, first: Page | None = None
) -> str:
    """Lead a person through an open run; gives finished, abandoned or open. `hidden` asks without echo, for PINs; `lane`
    is the list that is shown first where there are several, `first` a page that lies on top at the beginning."""
    for line in words.cautions(bool(run.state.unknown)):
        write("\n".join(wrap(line, WIDTH)))
    shell = Shell.over(run)
    shell.lane = lane
    if first is not None:
        shell.pages.append(first)
        shell.settle()
    lead(shell, ask, write, hidden=hidden)
    return run.state.outcome or "open"


def run_plain_start(
    procedure: Procedure, mode: str, crew: Pairs, inputs: Pairs, starter: Starter, now: Callable[[], Moment],
    ask: Ask, write: Write, hidden: Ask | None = None, pins: bool = False, brought: tuple[tuple[str, str, str], ...] = (),
) -> tuple[str, Door | None]:  # fmt: skip
    """Ask for crew and job, begin the run and lead through it; gives the outcome (empty without a run) and the run."""
    shell = Shell(
        now,
        StartPage(crew, inputs, mode, pins=pins, brought=brought),
        idle=Idle(procedure, RunState(flow.start(procedure)), "" if mode == "live" else say(DRY)),
    )
    lead(shell, ask, write, starter, hidden)
    return ("" if shell.run is None else shell.run.state.outcome or "open"), shell.run


def run_plain_home(
    listing: "Listing", now: Callable[[], Moment], ask: Ask, write: Write, said: str = ""
) -> tuple[str, str]:
    """The home page line by line; gives what was picked, as `Leave.choice`. `said` is why the last pick did not come up."""
    from runner.screen.pages.home import NO_PROCEDURE, HomePage

    shell = Shell(now, HomePage(listing), idle=Idle(NO_PROCEDURE, RunState(flow.start(NO_PROCEDURE))))
    shell.say(said, abnormal=True)
    lead(shell, ask, write)
    return shell.left.choice if shell.left is not None else ("", "")


def lead(shell: Shell, ask: Ask, write: Write, starter: Starter | None = None, hidden: Ask | None = None) -> None:
    """Pages and answers in turn, until a page is left for good or the input ends."""
    shell.room, shell.plain = ROOM, True

    def tell(text: str) -> None:
        write(clean(text, lines=True))

    told, inbox = "", Inbox(shell, write)
    while shell.left is None:
        inbox.listen()
        inbox.let_in()
        sheet = shell.sheet()
        text = page_text(shell, sheet)
        if text != told:
            tell("\n".join((text, *clock_lines(shell))))
            told = text
        if shell.message:
            tell(f"{'! ' if shell.abnormal else ''}{shell.message}")
            shell.message = ""
        try:
            put = hidden if hidden is not None and sheet.entry is not None and sheet.entry.secret else ask
            typed = put(clean(prompt_text(sheet)))
        except EOFError:
            _end_of_input(shell, write)
            return
        if inbox.let_in() and typed.strip() and _bare(sheet, typed) != key_for(Action.SAFE).word:
            told = ""
            tell(f"! {say(NOT_COUNTED)}")
            continue
        match _bare(sheet, typed):
            case "":
                continue
            case "?":
                tell(commands_text(sheet))
                continue
            case "again":
                told = ""
                continue
        wanted = answer(shell, sheet, typed)
        if wanted is not None:
            told = ""
            _keep(shell, wanted, starter)
            follow_own(shell)


def page_text(shell: Shell, sheet: Sheet) -> str:
    """The page as lines, without colour and without a frame."""
    shown = shell.shown()
    lines = ["", *head_lines(shown.view, sheet, shown.dry)]
    drawn, _ = block_lines((*uncut(sheet.blocks), *uncut(sheet.spare), *in_plain(sheet.beside)), WIDTH)
    lines += [text_of(line).rstrip() for line in drawn]
    return "\n".join(lines)


def head_lines(view: View | None, sheet: Sheet, dry: str) -> list[str]:
    """What stands above a page: what is run and how, the place in every list, what is open, the page's title."""
    lines: list[str] = []
    if view is not None:
        lines.append(f"{dry or view.mode}, {view.title}, {view.revision}")
        lines.append(
            say("Phase {place} of {count}: {name}", place=view.phase_place, count=view.phases, name=view.phase)
        )
        for trail in view.trails:
            here = next((cell.number for cell in trail.cells if cell.here), "")
            who = f"{trail.letter} {trail.who}: " if trail.who else ""
            lines.append(
                f"{'> ' if trail.on else '  '}{who}{here} {trail.word}, "
                + say("{place} of {count}", place=min(trail.place, trail.length), count=trail.length)
            )
        if view.open_exceptions:
            lines.append("! " + say_n("{n} exception open", "{n} exceptions open", view.open_exceptions))
        if view.unconfirmed:
            lines.append("? " + say_n("{n} state unconfirmed", "{n} states unconfirmed", view.unconfirmed))
    elif dry:
        lines.append(dry)
    if view is None or sheet.page != "run":
        lines.append(f"-- {sheet.title} --")
    return lines


def clock_lines(shell: Shell) -> list[str]:
    """The time, and how long the press stands: told with a page, and no reason to tell it anew."""
    if shell.run is None:
        return []
    desk = shell.desk()
    drawn, _ = block_lines(clock_blocks(desk), WIDTH)
    stands = [text_of(line).rstrip() for line in drawn if line]
    return [f" {say('{time} UTC', time=desk.now.utc[11:16])}", *stands]


def uncut(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """Lines of lists in full: here they may go on in the next line."""
    return tuple(
        block._replace(rows=tuple(row._replace(cut=False) for row in block.rows)) if isinstance(block, Rows) else block
        for block in blocks
    )


def in_plain(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """What a wide terminal shows beside the page, drawn in ASCII; the rollers of a path are listed above it already."""
    if not blocks:
        return ()
    drawn = tuple(
        block._replace(plain=True, rows=DRAWN_ROWS)
        if isinstance(block, Drawing)
        else block._replace(plain=True)
        if isinstance(block, Hanging)
        else block
        for block in blocks
    )
    return (Gap(), *drawn[:-1]) if isinstance(drawn[-1], Gap) else (Gap(), *drawn)


def prompt_text(sheet: Sheet) -> str:
    """What is asked for, or what to type to go on."""
    if sheet.entry is not None:
        unit = f" [{sheet.entry.unit}]" if sheet.entry.unit else ""
        limits = f" ({sheet.entry.limits})" if sheet.entry.limits else ""
        slash = _slash(sheet)
        notes = [say("{word}: leave it empty", word=f"{slash}{sheet.word}")] if sheet.entry.optional else []
        notes += [say("commands begin with /")] if slash else []
        told = f" ({'; '.join(notes)})" if notes else ""
        return f"{sheet.entry.question}{unit}{limits}{told} > "
    ways = [say("a number picks")] if _numbered(sheet) else []
    if sheet.go and not _only_picked(sheet):
        same = sheet.go.casefold() == sheet.word
        typed = say("type {word}", word=sheet.word)
        ways.append(typed if same else say("type {word} for: {act}", word=sheet.word, act=sheet.go))
    return f"[{'; '.join((*ways, say('? lists commands')))}] > "


def commands_text(sheet: Sheet) -> str:
    """What to type on the page that is open, and the commands that it answers to now."""
    slash = _slash(sheet)
    lines = [say("Type one of these words, then Enter. An empty line does nothing: what is asked is asked again.")]
    if sheet.entry is not None:
        lines.append(f"  {say('the answer')}  {sheet.entry.question}")
    if _numbered(sheet):
        lines.append(f"  {say('a number'):<10}  {say('Picks that line and takes it.')}")
    if sheet.go and (sheet.entry is None or sheet.entry.optional):
        lines.append(f"  {slash}{sheet.word:<10} {say('Leave it empty.') if sheet.entry else sheet.go}")
    lines.append(f"  {slash}{AGAIN:<10} {say('This page once more.')}")
    actions = [action for action in sheet.answers if action is not Action.GO_ON]
    lines += [
        f"  {slash}{key_for(action).word:<10} {say(key_for(action).label)}. {say(key_for(action).help)}"
        for action in actions
    ]
    lines += [f"  {slash}{key_for(action).word:<10} {say(key_for(action).help)}" for action in MOVES]
    return "\n".join(lines)


def answer(shell: Shell, sheet: Sheet, typed: str) -> Wanted | Begin | None:
    """What a typed line does: the word of the act, a command, a pick, or an answer. Nothing for an empty one."""
    text = typed.strip()
    if not text:
        return None
    bare = _bare(sheet, typed)
    if sheet.go and bare == sheet.word:
        return shell.act(Action.GO_ON, "")
    command = action_for_word(bare)
    if command is not None:
        return _command(shell, sheet, command)
    if sheet.entry is None and text.isascii() and text.isdigit():
        if not _numbered(sheet):
            shell.say(say("There is nothing to pick here."), abnormal=True)
            return None
        if not 1 <= int(text[:6]) <= _rows(sheet):
            shell.say(say("There is no line {text}.", text=text[:6]), abnormal=True)
            return None
        shell.choose(int(text))
        return shell.act(Action.GO_ON, "")
    if text.startswith("/") or (sheet.entry is None and not sheet.words):
        shell.say(say("{text} is no command here; ? lists them.", text=text), abnormal=True)
        return None
    return shell.act(Action.GO_ON, text)


def _slash(sheet: Sheet) -> str:
    """What a command begins with."""
    return "/" if sheet.entry is not None and sheet.entry.free else ""


def _bare(sheet: Sheet, typed: str) -> str:
    """A line as a command, without its slash; where any words are an answer and there is no slash, what no command is."""
    text = typed.strip()
    if text == "?" or not text:
        return text
    if text.startswith("/"):
        return text[1:].casefold()
    if text.casefold() == key_for(Action.SAFE).word:
        return text.casefold()  # stopping is never taken for an answer
    return f"={text}" if _slash(sheet) else text.casefold()


def _command(shell: Shell, sheet: Sheet, command: Action) -> Wanted | Begin | None:
    if command in MOVES:
        shell.move(command)
        return None
    if command in SIGHT:
        shell.say(say("Lines of text have neither colours nor sizes."), abnormal=True)
        return None
    if command is Action.GO_ON:
        shell.say(say("Type {word}.", word=sheet.word) if sheet.go else say("? lists the commands."), abnormal=True)
        return None
    if command not in sheet.answers:
        shell.say(say("That is not possible here; ? lists the commands."), abnormal=True)
        return None
    return shell.act(command, "")


def _rows(sheet: Sheet) -> int:
    """How many lines a number may pick from."""
    return max((len(block.rows) for block in sheet.blocks if isinstance(block, Rows) and block.numbered), default=0)


def _numbered(sheet: Sheet) -> bool:
    return any(isinstance(block, Rows) and block.numbered for block in sheet.blocks)


def _keep(shell: Shell, wanted: Wanted | Begin, starter: Starter | None) -> None:
    if isinstance(wanted, Begin):
        if starter is not None:
            shell.began(starter(wanted.crew, wanted.inputs))
    elif shell.run is not None:
        shell.took(shell.run.submit(wanted))


def _only_picked(sheet: Sheet) -> bool:
    """True for a list of which nothing is chosen yet: only a number goes on."""
    lists = [block for block in sheet.blocks if isinstance(block, Rows) and block.numbered]
    return sheet.word == "go" and bool(lists) and all(block.cursor is None for block in lists)


def _end_of_input(shell: Shell, write: Write) -> None:
    """The other end has gone: pause, so that whoever comes back finds the place. Says what became of that."""
    run = shell.run
    if run is None or run.state.outcome or run.poisoned:
        return
    others = shared(run)
    if others is not None and others.joined:
        write(f"{say(ENDED)} {say('This terminal has left; the run stays open at this place.')}")
        return
    if run.state.halted:
        write(f"{say(ENDED)} {say('The run stays halted and open at this place.')}")
        return
    kept, after = run.submit(Pause(shell.desk().person, "")), shell.run
    if after is not None and after.poisoned:
        write(f"{say(ENDED)} {say(words.BROKEN)}: {clean(after.poisoned)} {say(words.BROKEN_WHAT)}")
    elif isinstance(kept, Refusal):
        stays = say("The run was not paused; it stays open at this place.")
        write(f"{say(ENDED)} {stays} {clean(words.refused(kept))}")
    else:
        write(f"{say(ENDED)} {say(PAUSED_BY_END)}")
