"""PINs against their hashes, judged by published ones."""

import re

import pytest

from runner.procedure.language.site import PIN_HASH
from runner.record.pins import fits, hash_of, pin_fault

PUBLISHED = (
    ("password", "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"),
    ("password", "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"),
)
"""(password, hash with salt `somesalt`) of the tests of the Argon2 reference implementation, phc-winner-argon2, src/test.c."""


@pytest.mark.parametrize(("pin", "hashed"), PUBLISHED)
def test_a_published_hash_is_that_of_its_password_and_of_no_other(pin: str, hashed: str) -> None:
    assert fits(pin, hashed)
    assert not fits(pin + "x", hashed)


def test_a_hash_is_as_the_site_file_takes_it_and_holds_no_pin() -> None:
    hashed = hash_of("4711")
    assert re.fullmatch(PIN_HASH.pattern, hashed)
    assert "4711" not in hashed.split("$")[4:]
    assert fits("4711", hashed)
    assert not fits("4712", hashed)
    assert hash_of("4711") != hashed  # a salt of its own each time


def test_what_is_no_hash_fits_no_pin() -> None:
    assert not fits("4711", "4711")
    assert not fits("", "")


@pytest.mark.parametrize("pin", ["", "123", "7777", " 4711", "4711 ", "47\t11", "/4711", "1234567890" * 7])
def test_what_makes_no_pin_is_said(pin: str) -> None:
    assert pin_fault(pin)


def test_four_digits_are_a_pin() -> None:
    assert pin_fault("4711") == ""
