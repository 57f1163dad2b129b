"""`changeover serve-editor`: findings, help, completion, definitions and renaming for an editor, over standard input and output.

An editor starts it and speaks the Language Server Protocol with it; a person does not. It needs the extra `editor`.
"""

import argparse
import os
import sys

from runner.cli.exits import DONE, USAGE
from runner.cli.files import Unreadable, read_text
from runner.cli.linting.found import files_of

NEEDED = (
    "changeover: serve-editor needs the extra `editor`, which is not installed. "
    "Install it with: pip install 'changeover-runner[editor]'"
)

BY_HAND = (
    "changeover: serve-editor is started by an editor and waits for it on standard input. End it with Ctrl-C. "
    "In the editor, set `changeover serve-editor` as the language server of YAML files."
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes: nothing but what editors give to every such server."""
    parser.add_argument("--stdio", action="store_true", help="over standard input and output, as it always is")


def run(options: argparse.Namespace) -> int:  # noqa: ARG001 - the only option changes nothing
    """Serve until the editor goes."""
    try:
        from runner.editor.server import serve
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] not in ("pygls", "lsprotocol", "cattrs", "attrs", "attr"):
            raise
        print(NEEDED, file=sys.stderr)
        return USAGE
    from runner.cli.linting.look import today
    from runner.editor.library import Library

    if sys.stdin.isatty():
        print(BY_HAND, file=sys.stderr)
    told = os.fdopen(os.dup(sys.stdout.fileno()), "wb")  # the server closes it; standard output itself stays open
    serve(Library(text_at, files_under, real), sys.stdin.buffer, told, today)
    return DONE


def text_at(path: str) -> str | None:
    """The text of a file; None where it cannot be read."""
    found = read_text(path)
    return None if isinstance(found, Unreadable) else found


def files_under(folder: str) -> tuple[str, ...]:
    """The files of lint's kinds in a folder and below, by whole path with forward slashes."""
    found = files_of([folder], "")
    return () if isinstance(found, Unreadable) else tuple(path.replace(os.sep, "/") for path in found.paths)


def real(path: str) -> str:
    """The true path of a file, links followed."""
    return os.path.realpath(path).replace(os.sep, "/")
