"""PINs: hashed with argon2id, and checked against the hash. Loaded only where a PIN is at hand.

No PIN is kept, printed or compared in any other way. Memory, passes and lanes are the lowest that RFC 9106 and the
OWASP password storage cheat sheet name for argon2id (19 MiB, 2 passes, 1 lane; from memory): a PIN is short, so what
protects it is that the site file is not for everybody's eyes.
"""

from runner.say.text import say

LEAST, MOST = 4, 64
"""How many characters a PIN has."""


def pin_fault(pin: str) -> str:
    """What is wrong with a new PIN; empty where nothing is."""
    if not LEAST <= len(pin) <= MOST:
        return say("A PIN has {least} to {most} characters.", least=LEAST, most=MOST)
    if pin != pin.strip() or not pin.isprintable() or pin.startswith("/"):
        return say("A PIN has no blank at either end, no control characters, and no / at its beginning.")
    if len(set(pin)) == 1:
        return say("A PIN of one character over and over is no PIN.")
    return ""


def hash_of(pin: str) -> str:
    """What the site file holds for a PIN."""
    from argon2 import PasswordHasher

    return PasswordHasher(time_cost=2, memory_cost=19456, parallelism=1).hash(pin)


def fits(pin: str, hashed: str) -> bool:
    """Whether a PIN is the one of a hash."""
    from argon2 import PasswordHasher
    from argon2.exceptions import InvalidHashError, VerificationError

    try:
        return PasswordHasher().verify(hashed, pin)
    except (InvalidHashError, VerificationError):
        return False
