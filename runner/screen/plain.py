"""Plain mode: the same pages line by line, for screen readers, serial lines and terminals that can do no more.

Everything the full screen has is here, through the same `Shell`: each act has a word, a number picks, words are
commands (`?` lists them), anything else is the answer. Where any words are an answer, a command begins with a slash.
An empty line never acts, so that a held or bouncing Enter passes nothing: what is asked is asked again.
"""

from collections.abc import Callable

from runner.engine import flow
from runner.engine.intents import Pause, Refusal, Wanted
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.report.contents.words import counted
from runner.screen import words
from runner.screen.blocks import Rows, Sheet
from runner.screen.desk import Begin
from runner.screen.door import Door, Idle, Starter
from runner.screen.keys import MOVES, SIGHT, Action, action_for_word, key_for
from runner.screen.pages.start import StartPage
from runner.screen.shell import Shell
from runner.screen.view import DRY
from runner.screen.widgets.lines import text_of
from runner.screen.widgets.picture import block_lines

WIDTH = 79
ROOM = 20
ENDED = "The input has ended."
PAUSED_BY_END = "The run is paused and stays open at this place."
AGAIN = "again"
"""Tells the page once more, for whoever has not heard it or has lost it from sight."""

Ask = Callable[[str], str]
"""Puts a question and gives the line typed; raises EOFError where the input has ended."""
Write = Callable[[str], None]
Pairs = tuple[tuple[str, str], ...]


def run_plain(run: Door, ask: Ask, write: Write, hidden: Ask | None = None) -> str:
    """Lead a person through an open run; gives finished, abandoned or open. `hidden` asks without echo, for PINs."""
    for line in words.cautions(bool(run.state.unknown)):
        write(line)
    shell = Shell.over(run)
    lead(shell, ask, write, hidden=hidden)
    return run.state.outcome or "open"


def run_plain_start(
    procedure: Procedure, mode: str, crew: Pairs, inputs: Pairs, starter: Starter, now: Callable[[], Moment],
    ask: Ask, write: Write, hidden: Ask | None = None, pins: bool = False,
) -> tuple[str, Door | None]:  # fmt: skip
    """Ask for crew and job, begin the run and lead through it; gives the outcome (empty without a run) and the run."""
    shell = Shell(
        now,
        StartPage(crew, inputs, mode, pins=pins),
        idle=Idle(procedure, RunState(flow.start(procedure)), "" if mode == "live" else DRY),
    )
    lead(shell, ask, write, starter, hidden)
    return ("" if shell.run is None else shell.run.state.outcome or "open"), shell.run


def lead(shell: Shell, ask: Ask, write: Write, starter: Starter | None = None, hidden: Ask | None = None) -> None:
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
            put = hidden if hidden is not None and sheet.entry is not None and sheet.entry.secret else ask
            typed = put(clean(prompt_text(sheet)))
        except EOFError:
            _end_of_input(shell, write)
            return
        match _bare(sheet, typed):
            case "":
                continue
            case "?":
                say(commands_text(sheet))
                continue
            case "again":
                told = ""
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
            lines.append(f"! {counted(view.open_exceptions, 'exception')} open")
        if view.unconfirmed:
            lines.append(f"? {counted(view.unconfirmed, 'state')} unconfirmed")
    if view is None or sheet.page != "run":
        lines.append(f"-- {sheet.title} --")
    drawn, _ = block_lines((*sheet.blocks, *sheet.spare), WIDTH)
    lines += [text_of(line).rstrip() for line in drawn]
    return "\n".join(lines)


def prompt_text(sheet: Sheet) -> str:
    """What is asked for, or what to type to go on."""
    if sheet.entry is not None:
        unit = f" [{sheet.entry.unit}]" if sheet.entry.unit else ""
        limits = f" ({sheet.entry.limits})" if sheet.entry.limits else ""
        slash = _slash(sheet)
        notes = [f"{slash}{sheet.word}: leave it empty"] if sheet.entry.optional else []
        notes += ["commands begin with /"] if slash else []
        told = f" ({'; '.join(notes)})" if notes else ""
        return f"{sheet.entry.question}{unit}{limits}{told} > "
    ways = ["a number picks"] if _numbered(sheet) else []
    if sheet.go and not _only_picked(sheet):
        ways.append(f"type {sheet.word}{'' if sheet.go.casefold() == sheet.word else f' for: {sheet.go}'}")
    return f"[{'; '.join((*ways, '? lists commands'))}] > "


def commands_text(sheet: Sheet) -> str:
    """What to type on the page that is open, and the commands that it answers to now."""
    slash = _slash(sheet)
    lines = ["Type one of these words, then Enter. An empty line does nothing: what is asked is asked again."]
    if sheet.entry is not None:
        lines.append(f"  the answer  {sheet.entry.question}")
    if _numbered(sheet):
        lines.append("  a number    Picks that line and takes it.")
    if sheet.go and (sheet.entry is None or sheet.entry.optional):
        lines.append(f"  {slash}{sheet.word:<10} {'Leave it empty.' if sheet.entry else sheet.go}")
    lines.append(f"  {slash}{AGAIN:<10} This page once more.")
    actions = [action for action in sheet.keys if action is not Action.GO_ON]
    lines += [
        f"  {slash}{key_for(action).word:<10} {key_for(action).label}. {key_for(action).help}" for action in actions
    ]
    lines += [f"  {slash}{key_for(action).word:<10} {key_for(action).help}" for action in MOVES]
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
            shell.say("There is nothing to pick here.", abnormal=True)
            return None
        if not 1 <= int(text[:6]) <= _rows(sheet):
            shell.say(f"There is no line {text[:6]}.", abnormal=True)
            return None
        shell.choose(int(text))
        return shell.act(Action.GO_ON, "")
    if text.startswith("/") or (sheet.entry is None and not sheet.words):
        shell.say(f"{text} is no command here; ? lists them.", abnormal=True)
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
        shell.say("Lines of text have neither colours nor sizes.", abnormal=True)
        return None
    if command is Action.GO_ON:
        shell.say(f"Type {sheet.word}." if sheet.go else "? lists the commands.", abnormal=True)
        return None
    if command not in sheet.keys:
        shell.say("That is not possible here; ? lists the commands.", abnormal=True)
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
    if run.state.halted:
        write(f"{ENDED} The run stays halted and open at this place.")
        return
    kept, after = run.submit(Pause(shell.desk().person, "")), shell.run
    if after is not None and after.poisoned:
        write(f"{ENDED} {words.BROKEN}: {clean(after.poisoned)} {words.BROKEN_WHAT}")
    elif isinstance(kept, Refusal):
        write(f"{ENDED} The run was not paused; it stays open at this place. {clean(words.refused(kept))}")
    else:
        write(f"{ENDED} {PAUSED_BY_END}")
