"""Files as commands see them: procedures and fragments in, records found, reports out.

What cannot be read is a message in plain words; no exception of the file system reaches a user.
"""

import os
import sys
from collections.abc import Callable
from typing import NamedTuple


class Unreadable(NamedTuple):
    """A file that cannot be read, and why."""

    words: str


def unreadable(path: str, why: str) -> Unreadable:
    """The message about a file, whose name may hold anything."""
    from runner.procedure.clean import clean

    return Unreadable(clean(f"{path}{why}"))


LARGEST = 2 * 1024 * 1024
"""Bytes; no file of ours is larger, and a larger one is refused before it is read whole."""


def read_up_to(path: str, most: int) -> bytes:
    """The first `most` bytes of a file. What it holds by its size is read first: room for much more costs more than the
    reading of a small file. Raises OSError."""
    with open(path, "rb") as file:
        size = os.fstat(file.fileno()).st_size
        raw = file.read(min(size + 1, most))
        return raw + file.read(most - len(raw)) if len(raw) > size and len(raw) < most else raw


def read_text(path: str) -> str | Unreadable:
    """The text of a file; `-` is standard input."""
    try:
        if path == "-":
            raw = sys.stdin.buffer.read(LARGEST + 1)
        else:
            if not os.path.isfile(path):
                return unreadable(path, ": there is no such file")
            raw = read_up_to(path, LARGEST + 1)
    except OSError as fault:
        return unreadable(path, f": {fault.strerror or fault}")
    if len(raw) > LARGEST:
        return unreadable(path, ": larger than 2 MiB")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        return unreadable(path, f":{line}: not UTF-8 text (byte {fault.start}); save the file as UTF-8")


def fetch_beside(path: str) -> Callable[[str], str | None]:
    """A function that reads fragments in the procedure's folder, named with that folder in front as the procedure itself
    is, and nothing outside it."""
    folder = os.path.realpath(os.path.dirname(path) or ".")
    if path.endswith(".scenario.yaml"):
        folder = os.path.dirname(folder)  # its procedure lies beside it or one folder up

    def fetch(name: str) -> str | None:
        wanted = os.path.realpath(name)
        if os.path.commonpath((folder, wanted)) != folder:
            return None
        text = read_text(wanted)
        return None if isinstance(text, Unreadable) else text

    return fetch


def records_folder(given: str | None) -> str:
    """The folder of records: the option, else CHANGEOVER_RECORDS, else the user's data folder."""
    if given:
        return given
    from_environment = os.environ.get("CHANGEOVER_RECORDS")
    if from_environment:
        return from_environment
    from platformdirs import user_data_dir

    return os.path.join(user_data_dir("changeover", appauthor=False), "records")


def write_out(content: bytes, path: str | None) -> str:
    """Bytes to a file, or to standard output; returns what went wrong, empty where nothing did."""
    try:
        if path is None:
            sys.stdout.buffer.write(content)
            sys.stdout.flush()
        else:
            with open(path, "wb") as file:
                file.write(content)
    except BrokenPipeError:
        raise
    except OSError as fault:
        return f"{path or 'standard output'}: {fault.strerror or fault}"
    return ""
