"""The seal that closes a record, and what a terminal signs in it. Pure: the key is an argument.

A seal names the hash of the line before it and how many lines there are, so it vouches for all of them. The signature
is over a text of six lines, which says what it is for; nothing else is ever signed by the same key.
"""

from typing import Protocol

from runner.engine.events import Sealed
from runner.engine.moment import Moment
from runner.record.line import Entry, Mark

PURPOSE = "changeover-seal"


class Signer(Protocol):
    """A terminal's key."""

    @property
    def key(self) -> str:
        """The public part, 64 hexadecimal digits."""
        ...

    def sign(self, text: bytes) -> str:
        """The Ed25519 signature (RFC 8032) of a text, 128 hexadecimal digits."""
        ...


def seal(mark: Mark, at: Moment, head: str, count: int, outcome: str, signer: Signer | None) -> Sealed:
    """The seal of so many lines, of which the last has this hash; signed where there is a key."""
    if signer is None:
        return Sealed("", at, head, count, outcome)
    signature = signer.sign(signed_text(mark, at.utc, head, count, outcome))
    return Sealed("", at, head, count, outcome, signer.key, signature)


def signed_text(mark: Mark, utc: str, head: str, count: int, outcome: str) -> bytes:
    """What is signed: purpose, run, mode, outcome with the time, count, head; a line each."""
    return f"{PURPOSE}\n{mark.run}\n{mark.mode}\n{outcome} {utc}\n{count}\n{head}\n".encode()


def text_of(entry: Entry) -> bytes:
    """What the seal in a line says that it signs; nothing where the line is no seal."""
    event = entry.event
    if not isinstance(event, Sealed):
        return b""
    return signed_text(entry.mark, event.at.utc, event.head, event.count, event.outcome)
