"""What goes from a page to its process, whatever a page sends."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.cli.serving.page import page
from runner.cli.serving.session import LONGEST, packet, size_of
from runner.screen.keys import KEYS

ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
)


def parted(data: bytes) -> list[tuple[bytes, bytes]]:
    """Packets of the pipe: a letter, the length in four bytes, the payload."""
    found = []
    while data:
        length = int.from_bytes(data[1:5], "big")
        found.append((data[:1], data[5 : 5 + length]))
        data = data[5 + length :]
    return found


def test_keys_and_sizes_go_to_the_process() -> None:
    assert parted(packet(["stdin", "6.2\r"])) == [(b"D", b"6.2\r")]
    ((kind, payload),) = parted(packet(["resize", {"width": 120, "height": 40}]))
    assert (kind, json.loads(payload)) == (b"M", {"type": "resize", "width": 120, "height": 40})


@given(ANYTHING)
def test_nothing_else_does(message: object) -> None:
    for kind, payload in parted(packet(message)):
        assert kind == b"D" or json.loads(payload)["type"] in ("resize", "focus", "blur")
        assert len(payload) <= 4 * LONGEST


@pytest.mark.parametrize("size", [("0", "24"), ("80", "-1"), ("80", "x"), ("1e3", "24"), ("99999", "24"), (None, None)])
def test_a_size_that_is_none_is_not_taken(size: tuple[object, object]) -> None:
    assert size_of(*size) is None


def test_a_process_is_never_told_to_quit_by_a_page() -> None:
    assert packet(["quit"]) == packet({"type": "quit"}) == packet(["meta", {"type": "quit"}]) == b""


def test_the_page_has_every_key_and_takes_nothing_from_elsewhere() -> None:
    text = page("Changeover", "ws://127.0.0.1:8400/ws")
    for key in KEYS:
        assert f">{key.cap}<small>{key.short or key.label}</small></button>" in text
    assert "http:" not in text
    assert "https:" not in text
    assert "<script>" not in text
