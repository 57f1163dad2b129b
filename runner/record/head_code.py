"""A head as a short code that a person writes on paper: `7K3M-Q0ZX-9ABC-DEFG-T`. Pure.

The first 80 bits of the hash in the base 32 of Douglas Crockford (crockford.com/base32.html, from memory): digits and
letters without I, L, O and U, and one check symbol, the number modulo 37. What is easily mixed up on paper is read as
it was meant; one symbol that was written wrong, or two neighbours that were swapped, show by the check symbol.
"""

DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CHECKS = DIGITS + "*~$=U"
"""What the number modulo 37 is written as."""

MEANT = str.maketrans({"I": "1", "L": "1", "O": "0", "-": "", " ": "", "\t": ""})
"""What is read as something else, or not at all."""

BITS = 80
SYMBOLS = BITS // 5
GROUP = 4


def head_code(head: str) -> str:
    """The code of a hash in hexadecimal digits; empty for what is no such hash."""
    try:
        number = int(head[: BITS // 4], 16)
    except ValueError:
        return ""
    if len(head) < BITS // 4:
        return ""
    text = "".join(DIGITS[number >> shift & 31] for shift in range(BITS - 5, -1, -5))
    groups = [text[at : at + GROUP] for at in range(0, SYMBOLS, GROUP)]
    return "-".join((*groups, CHECKS[number % len(CHECKS)]))


def read_code(written: str) -> str | None:
    """The first digits of the hash that a code stands for; None where it was written or typed wrong.

    A whole hash of 64 hexadecimal digits is taken as well, and a beginning of one with at least 20.
    """
    text = written.strip().upper()
    plain = text.lower().replace(" ", "")
    if BITS // 4 <= len(plain) <= 64 and all(letter in "0123456789abcdef" for letter in plain):
        return plain
    text = text.translate(MEANT)
    if len(text) != SYMBOLS + 1 or any(letter not in DIGITS for letter in text[:-1]):
        return None
    number = 0
    for letter in text[:-1]:
        number = number * 32 + DIGITS.index(letter)
    return f"{number:0{BITS // 4}x}" if CHECKS[number % len(CHECKS)] == text[-1] else None
