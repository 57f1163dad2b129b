"""What was found when the record was checked, as reports quote it.

The check itself is made by `runner.record.verify`; whoever asks for a report passes the result in, so that the same
words stand on paper and on the terminal.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Verification:
    """The result of checking one journal."""

    whole: bool
    head: str
    """Hash of the last good line, hexadecimal; empty where there is none."""
    events: int
    """Lines that were read and found good."""
    flaws: tuple[str, ...] = ()
    """What is wrong, each with its line; empty where the record is whole."""
    contradicted: tuple[str, ...] = ()
    """What speaks against the record beside its lines: the register of heads, a signature, its place, another record."""
