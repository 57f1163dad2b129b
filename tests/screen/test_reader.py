"""What `changeover scan-test` says of a reader. Names of control characters are those of ISO/IEC 646; `]C1` is the
symbology identifier of a GS1-128 code (ISO/IEC 15424); both from memory."""

import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.procedure.clean import is_clean
from runner.screen.reader import Pressed, judge, lines_of, scans
from tests.screen.terminal import ENTER, Terminal


def sent(text: str, gap_s: float = 0.003, end: str = "enter", at: float = 10.0) -> list[Pressed]:
    """A scan."""
    keys = [(sign, sign) for sign in text] + ([(end, "\r" if end == "enter" else None)] if end else [])
    return [Pressed(key, sign, at + place * gap_s) for place, (key, sign) in enumerate(keys)]


def test_a_good_reader_needs_no_advice() -> None:
    found = judge(sent("4012345678901"))
    assert (found.text, found.end, found.burst, found.advice) == ("4012345678901", "Enter", True, ())
    assert found.names[-1] == "Enter"
    assert found.gaps_ms[0] == 3.0
    assert "can be used as it is" in "\n".join(lines_of(found))


@pytest.mark.parametrize(
    ("scan", "words"),
    [
        (sent("40123456", end=""), "ends with no key"),
        (sent("40123456", end="tab"), "ends with Tab"),
        (sent("40123456", gap_s=0.09), "Too slow"),
        (sent("401"), "fewer than 4"),
        (sent("]C140123456"), "]C1"),
        (sent("4012ß456"), "keyboard layout"),
        ([*sent("40123456", end=""), *sent("", at=10.03), *sent("", at=10.04)], "more than once"),
        ([*sent("4012", end="f5"), *sent("99", at=10.02)], "F5, which command"),
        ([*sent("0112", end=""), Pressed("ctrl+right_square_bracket", "\x1d", 10.014), *sent("10", at=10.02)], "GS in the"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_reader_is_said(scan: list[Pressed], words: str) -> None:
    assert words in " ".join(judge(scan).advice)


def test_scans_are_parted_by_a_pause() -> None:
    assert [len(scan) for scan in scans([*sent("4012"), *sent("99", at=10.5), *sent("1", at=10.6)])] == [5, 5]


@given(st.lists(st.tuples(st.characters(), st.floats(0, 1)), min_size=1, max_size=30))
def test_whatever_is_sent_can_be_shown(keys: list[tuple[str, float]]) -> None:
    at, pressed = 0.0, []
    for sign, gap in keys:
        at += gap
        pressed.append(Pressed(sign, sign, at))
    for scan in scans(pressed):
        for line in lines_of(judge(scan)):
            assert is_clean(line)


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")
def test_the_command_shows_a_scan_on_a_terminal_and_leaves_on_ctrl_c() -> None:
    with Terminal("-m", "runner", "scan-test") as terminal:
        terminal.until("Scan a code")
        terminal.child.send("4012345678901" + ENTER)
        text = terminal.until("taken as a barcode reader")
        assert "4 0 1 2 3 4 5 6 7 8 9 0 1 Enter" in text
        terminal.child.send("\x03")
        assert terminal.ended(5) == 0
