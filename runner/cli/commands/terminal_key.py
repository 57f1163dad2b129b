"""`changeover terminal-key`: make the key with which this terminal signs its records, or show the one it has.

The private part stays in its file. The public part on stdout goes into `terminals` of the site file, or to whoever
verifies.
"""

import argparse
import os
import sys

from runner.cli.exits import DONE, USAGE
from runner.cli.files import records_folder
from runner.cli.records import add_records
from runner.record.keys import key_name, new_key, read_key
from runner.record.refused import Refused, words_of
from runner.record.terminal import key_at, key_path


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    add_records(parser)
    parser.add_argument("--show", action="store_true", help="only show the public part of the key that is there")


def run(options: argparse.Namespace) -> int:
    """Make it where there is none, and print the public part."""
    path = key_path(records_folder(options.records))
    key = key_at(path)
    if key is None:
        if options.show:
            return refuse(f"There is no key at {path}.")
        made = make(path)
        if isinstance(made, Refused):
            return refuse(made.words)
        key = read_key(made)
        print(f"made {path}; keep no copy of it elsewhere", file=sys.stderr)
    if isinstance(key, Refused):
        return refuse(key.words)
    print(key.key)
    print(f'key {key_name(key.key)}; in the site file: terminals: {{name: "{key.key}"}}', file=sys.stderr)
    return DONE


def make(path: str) -> bytes | Refused:
    """A new key in a new file that nobody else reads."""
    pem = new_key()
    if isinstance(pem, Refused):
        return pem
    try:
        os.makedirs(os.path.dirname(path), 0o750, exist_ok=True)
        fd = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0), 0o600)
        with open(fd, "wb") as file:
            file.write(pem)
            file.flush()
            os.fsync(fd)
    except OSError as error:
        return Refused(f"Cannot make the key {path}: {words_of(error)}.")
    return pem


def refuse(words: str) -> int:
    """Say why there is no key."""
    print(f"changeover: {words}", file=sys.stderr)
    return USAGE
