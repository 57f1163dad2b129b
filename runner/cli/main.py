"""The door of the command line. Almost nothing is imported before it is known what is wanted.

`COMMANDS` is the one table of commands; help, completion of a mistyped name and tests read it.
"""

import gc
import sys

from runner.cli.exits import DONE, EXITS, INTERNAL, SIGNAL, USAGE

TYPE_CHECKING = False  # as typing's, without loading it: `--version` loads nothing
if TYPE_CHECKING:
    import argparse

UNCOLLECTED = {"lint", "rules", "explain", "work", "diff", "home", "run", "dry-run", "resume", "times", "join"}
"""Commands that load much and free nothing meanwhile: collecting costs a tenth of their start. The screen turns it on
again once it has painted."""

COMMANDS = {
    "home": "procedures, unfinished runs and records on one screen (also without any command)",
    "run": "run a procedure, step by step",
    "dry-run": "the same with no press, marked on every line and kept apart",
    "resume": "go on with a run where its record ends",
    "join": "a second terminal on a run that is open at another",
    "simulate": "many runs by chance: what they reach, where they stick, how long they take",
    "schedule": "the best order for one person and for two, and what it would save",
    "lint": "what is wrong or unsafe in procedures",
    "rules": "the lint rules, a line each",
    "explain": "one rule's page",
    "serve": "the screen in a browser or on a tablet",
    "scan-test": "what a barcode reader sends, and whether it can do harm",
    "serve-editor": "findings, help and completion for an editor, which starts it",
    "site-pin": "the hash of a PIN, for the site file",
    "work": "the arithmetic of a procedure alone",
    "diff": "what changed in meaning between two procedures, what became weaker",
    "assess": "what a dry run with a scenario came to, and its sign-off",
    "qualifications": "who is qualified for what, and until when",
    "review": "decide about the exceptions of a run that has ended, and sign its record",
    "report": "the record of a run, for people",
    "sheet": "a paper form: blank, for a job, or of a half-done run",
    "verify": "is this record whole and unchanged, or all of them",
    "terminal-key": "the key with which this terminal signs its records",
    "times": "where changeovers spend their time, over a folder of records",
    "plant": "finished records to the plant's database, and what is there",
}


def main(arguments: list[str] | None = None) -> int:
    """Run one command; arguments as after the program's name."""
    try:
        code = _main(arguments)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader has gone: nothing more to say, and nothing to say it to
        import os

        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return SIGNAL + 13
    return code


def _main(arguments: list[str] | None) -> int:
    given = sys.argv[1:] if arguments is None else arguments
    if given and given[0] in ("--version", "-V"):
        from runner import VERSION

        print(f"changeover {VERSION}")
        return DONE
    if given and given[0] in ("--help", "-h", "help"):
        print(_help())
        return DONE
    name, rest = (given[0], given[1:]) if given and not given[0].startswith("-") else ("home", given)
    if name not in COMMANDS:
        print(_unknown(name), file=sys.stderr)
        return USAGE
    return _run(name, rest)


def _run(name: str, rest: list[str]) -> int:
    import argparse
    from importlib import import_module

    if name in UNCOLLECTED:
        gc.disable()
    command = import_module(f"runner.cli.commands.{name.replace('-', '_')}")
    parser = argparse.ArgumentParser(
        prog=f"changeover {name}", description=COMMANDS[name], allow_abbrev=False, formatter_class=_layout
    )
    command.arguments(parser)
    try:
        options = parser.parse_args(rest)
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else USAGE
    if hasattr(options, "language"):  # a command that talks to an operator; all others talk English
        from runner.say.language import choose

        choose(options.language or "")
    try:
        return int(command.run(options))
    except KeyboardInterrupt:
        return SIGNAL + 2
    except BrokenPipeError:
        raise
    except Exception as fault:
        return _internal(fault)


def _layout(prog: str) -> "argparse.HelpFormatter":
    """Help as wide as the terminal. argparse would ask a module that is slow to load, for every command."""
    import argparse
    import os

    try:
        width = os.get_terminal_size().columns
    except OSError:
        width = 80
    return argparse.HelpFormatter(prog, width=max(40, min(width, 100) - 2))


def _internal(fault: Exception) -> int:
    import os
    import traceback

    if os.environ.get("CHANGEOVER_DEBUG"):
        traceback.print_exc()
    if isinstance(fault, PermissionError) and fault.filename:
        from runner.procedure.clean import clean

        print(f"changeover: {clean(str(fault.filename))}: {fault.strerror}. Its owner must allow it.", file=sys.stderr)
        return USAGE
    place = traceback.extract_tb(fault.__traceback__)[-1]
    where = f"{os.path.basename(place.filename)}:{place.lineno}"
    print(
        f"changeover: a fault of this program ({type(fault).__name__} at {where}: {fault}). "
        "What was accepted is on record. Set CHANGEOVER_DEBUG=1 for the details.",
        file=sys.stderr,
    )
    return INTERNAL


def _help() -> str:
    width = max(map(len, COMMANDS))
    lines = ["usage: changeover [COMMAND] [ARGUMENTS]", "", "Guided changeover procedures beside a web-fed press.", ""]
    lines += [f"  {name:<{width}}  {words}" for name, words in COMMANDS.items()]
    lines += ["", "`changeover COMMAND --help` tells what a command takes. Exit codes:"]
    lines += [f"  {code:>3}  {words}" for code, words in EXITS]
    return "\n".join(lines)


def _unknown(name: str) -> str:
    from difflib import get_close_matches

    close = get_close_matches(name, COMMANDS, 1)
    return f"changeover: no command {name!r}" + (f"; {close[0]}?" if close else "; see changeover --help")
