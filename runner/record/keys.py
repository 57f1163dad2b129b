"""Ed25519 keys of terminals (RFC 8032), through the package `cryptography`, which may be missing: the extra `seal`.

A key is a file in PEM (PKCS 8, RFC 8410), which nobody but its owner reads. A public key is written as 64 hexadecimal
digits, a signature as 128. What is wrong with a key is words, never an exception.
"""

import re
from hashlib import sha256

from runner.record.refused import Refused

KEY = re.compile("[0-9a-f]{64}")
SIGNATURE = re.compile("[0-9a-f]{128}")

INSTALL = "The package `cryptography` is not installed: pip install 'changeover-runner[seal]'."


def key_name(key: str) -> str:
    """A short name of a public key for people: the first 16 digits of the SHA-256 of its 32 bytes."""
    return sha256(bytes.fromhex(key)).hexdigest()[:16] if KEY.fullmatch(key) else "no key"


class TerminalKey:
    """The key of this terminal, ready to sign."""

    def __init__(self, pem: bytes) -> None:
        """ImportError without `cryptography`; ValueError for what is no such key."""
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
        from cryptography.hazmat.primitives.serialization import load_pem_private_key

        try:
            key = load_pem_private_key(pem, None)
        except Exception as error:  # the library names many kinds, one of them in its own base class
            raise ValueError("it is no private key in PEM without a password") from error
        if not isinstance(key, Ed25519PrivateKey):
            raise ValueError("it is no Ed25519 key")
        self.private = key
        self.key = key.public_key().public_bytes_raw().hex()

    def sign(self, text: bytes) -> str:
        """The signature of a text."""
        return self.private.sign(text).hex()


def read_key(pem: bytes) -> TerminalKey | Refused:
    """The key in a file, or why there is none."""
    try:
        return TerminalKey(pem)
    except ImportError:
        return Refused(INSTALL)
    except ValueError as error:
        return Refused(f"The terminal's key cannot be used: {error}.")


def new_key() -> bytes | Refused:
    """A new key, as the content of its file."""
    try:
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
        from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
    except ImportError:
        return Refused(INSTALL)
    return Ed25519PrivateKey.generate().private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def signature_fits(key: str, signature: str, text: bytes) -> bool | None:
    """Whether a signature is that key's over a text; None where `cryptography` is missing and nobody can say."""
    if not KEY.fullmatch(key) or not SIGNATURE.fullmatch(signature):
        return False
    try:
        from cryptography.exceptions import InvalidSignature
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
    except ImportError:
        return None
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(key)).verify(bytes.fromhex(signature), text)
    except (InvalidSignature, ValueError):
        return False
    return True
