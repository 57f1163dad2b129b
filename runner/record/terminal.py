"""The key of this terminal, as a file beside the folder of records, where the site file lies too. It signs seals.

Read when a seal is made and not before. A key that is missing or cannot be used hinders no run: its record is not
signed then, which `verify` says.
"""

import os

from runner.record.disk import DISK, Io, trouble_words
from runner.record.keys import TerminalKey, read_key
from runner.record.refused import Refused
from runner.record.registering import folder_of

NAME = "terminal.key"
LARGEST = 1 << 14


def key_path(folder: str) -> str:
    """Where the key lies, or would, for a folder of records."""
    return os.path.join(os.path.dirname(os.path.abspath(folder)), NAME)


def key_at(path: str, io: Io = DISK) -> TerminalKey | Refused | None:
    """The key in a file; None where there is none. One that others may read is none to sign with."""
    try:
        with io.open_read(path) as file:
            if os.name == "posix" and os.fstat(file.fileno()).st_mode & 0o077:
                return Refused(f"Others may read the terminal's key {path}. Make it yours alone: chmod 600.")
            return read_key(file.read(LARGEST))
    except FileNotFoundError:
        return None
    except OSError as error:
        return Refused(trouble_words("Cannot read the terminal's key", path, error))


def signer_of(journal: str) -> TerminalKey | None:
    """What signs the seals of a journal; None where its folder has no key, or none that can be used."""
    folder = folder_of(journal)
    key = key_at(key_path(folder)) if folder else None
    return None if isinstance(key, Refused) else key
