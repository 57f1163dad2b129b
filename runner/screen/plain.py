"""Plain mode: the same pages line by line, for screen readers, serial lines and terminals that can do no more.

Everything the full screen has is here, through the same `Shell`: an empty line is Enter, a number picks, words are
commands (`?` lists them), anything else is the answer. Where any words are an answer, a command begins with a slash.
"""

from collections.abc import Callable

from runner.engine import flow
from runner.engine.intents import AnyIntent, Pause
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.screen import words
from runner.screen.blocks import Rows, Sheet
from runner.screen.desk import Begin
from runner.screen.keys import MOVES, Action, action_for_word, key_for
from runner.screen.pages.start import StartPage
from runner.screen.shell import Door, Idle, Shell, Starter
from runner.screen.view import DRY
from runner.screen.widgets.lines import text_of
from runner.screen.widgets.picture import block_lines

WIDTH = 79
ROOM = 20
LEFT_BY_END = "The input has ended. The run is paused and stays open at this place."

Ask = Callable[[str], str]
"""Puts a question and gives the line typed; raises EOFError where the input has ended."""
Write = Callable[[str], None]
Pairs = tuple[tuple[str, str], ...]


def run_plain(run: Door, ask: Ask, write: Write) -> str:
    """Lead a person through an open run; gives finished, abandoned or open."""
    for line in words.CAUTIONS:
        write(line)
    shell = Shell.over(run)
    lead(shell, ask, write)
    return run.state.outcome or "open"


def run_plain_start(
    procedure: Procedure, mode: str, crew: Pairs, inputs: Pairs, starter: Starter, now: Callable[[], Moment],
    ask: Ask, write: Write,
) -> tuple[str, Door | None]:  # fmt: skip
    """Ask for crew and job, begin the run and lead through it; gives the outcome (empty without a run) and the run."""
    shell = Shell(
        now,
        StartPage(crew, inputs, mode),
        idle=Idle(procedure, RunState(flow.start(procedure)), "" if mode == "live" else DRY),
    )
    lead(shell, ask, write, starter)
    return ("" if shell.run is None else shell.run.state.outcome or "open"), shell.run


def lead(shell: Shell, ask: Ask, write: Write, starter: Starter | None = None) -> None:
    """Pages and answers in turn, until a page is left for good or the input ends."""
    shell.room, shell.plain = ROOM, True

    def say(text: str) -> None:
        write(clean(text, lines=True))

    told = ""
    while shell.left is None:
        sheet = shell.sheet()
        text = page_text(shell, sheet)
        if text != told:
            say(text)
            told = text
        if shell.message:
            say(f"{'! ' if shell.abnormal else ''}{shell.message}")
            shell.message = ""
        try:
            typed = ask(clean(prompt_text(sheet)))
        except EOFError:
            _end_of_input(shell, write)
            return
        if typed.strip() == "?":
            say(commands_text(sheet))
            continue
        wanted = answer(shell, sheet, typed)
        if wanted is not None:
            told = ""
            _keep(shell, wanted, starter)


def page_text(shell: Shell, sheet: Sheet) -> str:
    """The page as lines, without colour and without a frame."""
    view = shell.shown().view
    lines: list[str] = [""]
    if view is not None:
        lines.append(f"{view.mode}, {view.title}, {view.revision}")
        lines.append(f"Phase {view.phase_place} of {view.phases}: {view.phase}")
        for trail in view.trails:
            here = next((cell.number for cell in trail.cells if cell.here), "")
            who = f"{trail.letter} {trail.who}: " if trail.who else ""
            lines.append(
                f"{'> ' if trail.on else '  '}{who}{here} {trail.word}, {min(trail.place, trail.length)} of {trail.length}"
            )
        if view.open_exceptions:
            lines.append(f"! {view.open_exceptions} exceptions open")
        if view.unconfirmed:
            lines.append(f"? {view.unconfirmed} states unconfirmed")
    if view is None or sheet.page != "run":
        lines.append(f"-- {sheet.title} --")
    drawn, _ = block_lines((*sheet.blocks, *sheet.spare), WIDTH)
    lines += [text_of(line).rstrip() for line in drawn]
    return "\n".join(lines)


def prompt_text(sheet: Sheet) -> str:
    """What is asked for, and what an empty line does."""
    if sheet.entry is not None:
        unit = f" [{sheet.entry.unit}]" if sheet.entry.unit else ""
        limits = f" ({sheet.entry.limits})" if sheet.entry.limits else ""
        slash = " (commands begin with /)" if sheet.entry.free else ""
        return f"{sheet.entry.question}{unit}{limits}{slash} > "
    return f"[Enter: {sheet.go}; ? for commands] > " if sheet.go else "[? for commands] > "


def commands_text(sheet: Sheet) -> str:
    """The commands that the page answers to now."""
    slash = "/" if sheet.entry is not None and sheet.entry.free else ""
    actions = [action for action in sheet.keys if action is not Action.GO_ON]
    lines = [
        f"  {slash}{key_for(action).word:<10} {key_for(action).label}. {key_for(action).help}" for action in actions
    ]
    lines += [f"  {slash}{key_for(action).word:<10} {key_for(action).help}" for action in MOVES]
    return "\n".join([f"Enter alone: {sheet.go or 'nothing now'}", *lines])


def answer(shell: Shell, sheet: Sheet, typed: str) -> AnyIntent | Begin | None:
    """What a typed line does: a command, a pick, or an answer."""
    text = typed.strip()
    free = sheet.entry is not None and sheet.entry.free
    command = action_for_word(text[1:]) if text.startswith("/") else None if free else action_for_word(text)
    if command is not None:
        return _command(shell, sheet, command)
    if sheet.entry is None and text.isascii() and text.isdigit():
        if not _numbered(sheet):
            shell.say("There is nothing to pick here.", abnormal=True)
            return None
        for digit in text:
            shell.choose(int(digit))
        return shell.act(Action.GO_ON, "")
    if sheet.entry is None and text and not sheet.words:
        shell.say(f"{text} is no command here; ? lists them.", abnormal=True)
        return None
    if not sheet.go:
        shell.say("Enter does nothing here; ? lists the commands.", abnormal=True)
        return None
    return shell.act(Action.GO_ON, text)


def _command(shell: Shell, sheet: Sheet, command: Action) -> AnyIntent | Begin | None:
    if command in MOVES:
        shell.move(command)
        return None
    if command not in sheet.keys:
        shell.say("That is not possible here; ? lists the commands.", abnormal=True)
        return None
    return shell.act(command, "")


def _numbered(sheet: Sheet) -> bool:
    return any(isinstance(block, Rows) and block.numbered for block in sheet.blocks)


def _keep(shell: Shell, wanted: AnyIntent | Begin, starter: Starter | None) -> None:
    if isinstance(wanted, Begin):
        if starter is not None:
            shell.began(starter(wanted.crew, wanted.inputs))
    elif shell.run is not None:
        shell.took(shell.run.submit(wanted))


def _end_of_input(shell: Shell, write: Write) -> None:
    """The other end has gone: pause, so that whoever comes back finds the place."""
    run = shell.run
    if run is None or run.state.outcome or run.poisoned:
        return
    if not run.state.halted:
        run.submit(Pause(shell.desk().person, ""))
    write(LEFT_BY_END)
