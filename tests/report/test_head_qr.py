"""The QR code of a head: its shape by the standard, and a page without it where the package is missing."""

import re
import sys

import pytest

from runner.report.contents.run_record import qr_blocks
from runner.report.head_qr import QUIET, qr_lines, qr_svg
from runner.report.verification import Verification

HEAD = "41d0c3a2b5968778695a4b3c2d1e0f00112233445566778899aabbccddeeff00"


def modules(svg: str) -> tuple[int, set[tuple[int, int]]]:
    """(modules a side with the quiet zone, places that are dark)."""
    size = re.search(r'viewBox="0 0 (\d+) \1"', svg)
    assert size is not None
    return int(size[1]), {(int(x), int(y)) for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", svg)}


def test_it_has_the_patterns_that_every_code_has() -> None:
    # ISO/IEC 18004:2015, 5.3 and 6.3, from memory: 17 + 4 x version modules a side, a quiet zone of 4, finder patterns of
    # 7 x 7 in three corners (dark frame, light ring, dark 3 x 3), timing patterns that alternate in row and column 6
    size, dark = modules(qr_svg(449, HEAD))
    side = size - 2 * QUIET
    assert QUIET == 4
    assert (side - 17) % 4 == 0
    assert {x for x, _ in dark} | {y for _, y in dark} <= set(range(QUIET, QUIET + side))
    for left, top in ((0, 0), (side - 7, 0), (0, side - 7)):
        for x in range(7):
            for y in range(7):
                ring = max(abs(x - 3), abs(y - 3))
                assert ((QUIET + left + x, QUIET + top + y) in dark) == (ring != 2)
    for at in range(8, side - 8):
        assert ((QUIET + at, QUIET + 6) in dark) == (at % 2 == 0)
        assert ((QUIET + 6, QUIET + at) in dark) == (at % 2 == 0)


def test_another_head_or_number_of_lines_is_another_code() -> None:
    assert len({qr_svg(449, HEAD), qr_svg(450, HEAD), qr_svg(449, HEAD[::-1])}) == 3
    assert qr_svg(449, HEAD) == qr_svg(449, HEAD)


def test_formats_without_pictures_say_the_same() -> None:
    assert qr_lines(449, HEAD) == ("changeover record of 449 lines", f"head {HEAD}")


def test_without_the_package_there_is_no_picture_and_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    found = Verification(True, HEAD, 449)
    assert qr_blocks(found) != ()
    monkeypatch.setitem(sys.modules, "segno", None)
    assert qr_svg(449, HEAD) == ""
    assert qr_blocks(found) == ()
    assert qr_blocks(Verification(False, "", 0)) == ()
