"""The code of a head: Crockford's base 32 with its check symbol, and what people do to it on paper."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.record.head_code import CHECKS, DIGITS, head_code, read_code

HASHES = st.text("0123456789abcdef", min_size=64, max_size=64)


def test_the_symbols_are_those_of_crockfords_base_32() -> None:
    # Crockford, "Base 32", crockford.com/base32.html, from memory: the table of 32 symbols and five more for checks
    assert DIGITS == "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
    assert CHECKS[32:] == "*~$=U"


@pytest.mark.parametrize(
    ("number", "symbols", "check"), [(1234, "16J", "D"), (0, "0", "0"), (36, "14", "U"), (32, "10", "*")]
)
def test_a_number_has_the_symbols_and_the_check_that_crockford_gives(number: int, symbols: str, check: str) -> None:
    # 1234 is 16J with the check symbol D in the documentation of the package base32-crockford, from memory;
    # the others by the rule of the page: 32 is `10`, and 32 mod 37 is the first symbol after Z
    code = head_code(f"{number:020x}" + "0" * 44).replace("-", "")
    assert code == symbols.rjust(16, "0") + check


def test_what_is_no_hash_has_no_code() -> None:
    assert head_code("") == ""
    assert head_code("abc") == ""
    assert head_code("z" * 64) == ""


@given(HASHES)
def test_a_code_is_read_back_however_it_is_written(head: str) -> None:
    code = head_code(head)
    assert [len(group) for group in code.split("-")] == [4, 4, 4, 4, 1]
    for written in (
        code,
        code.lower(),
        code.replace("-", " "),
        code.replace("-", ""),
        code.replace("1", "l").replace("0", "o"),
    ):
        assert read_code(written) == head[:20]
    assert read_code(head) == head


@given(HASHES, st.integers(0, 15), st.sampled_from(DIGITS))
def test_one_wrong_symbol_is_noticed(head: str, at: int, other: str) -> None:
    # 32^k and 37 have no common factor, so no change of one symbol keeps the number modulo 37
    code = head_code(head).replace("-", "")
    wrong = code[:at] + other + code[at + 1 :]
    assert (read_code(wrong) is None) == (wrong != code)


@given(HASHES, st.integers(0, 14))
def test_two_swapped_neighbours_are_noticed(head: str, at: int) -> None:
    code = head_code(head).replace("-", "")
    swapped = code[:at] + code[at + 1] + code[at] + code[at + 2 :]
    assert (read_code(swapped) is None) == (swapped != code)


@pytest.mark.parametrize("written", ["", "7K3M", "not a code at all", "7K3M-Q0ZX-9ABC-DEFG", "🙂" * 17])
def test_what_is_no_code_is_not_read(written: str) -> None:
    assert read_code(written) is None
