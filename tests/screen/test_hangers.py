"""Pieces as they hang at both ends: bars by mass, counts and totals under them, unlike ends in words, also in ASCII.

Totals are plain sums of the pieces, worked by hand beside each case.
"""

import pytest

from runner.procedure.clean import is_clean
from runner.screen.widgets.hangers import MOST, brief_lines, hanger_lines

PAIR = ((("5", 2), ("2.5", 1)), (("5", 2), ("2.5", 1)))
UNLIKE = ((("5", 2), ("2.5", 1)), (("5", 2),))


def bars(lines: tuple[str, ...], left: str = "[") -> list[str]:
    return [line for line in lines if left in line]


def test_each_piece_is_a_bar_and_its_length_says_its_mass() -> None:
    lines = hanger_lines(PAIR, "kg", 78, plain=True)
    heavy, _, light = bars(lines)
    first = heavy.split("]")[0]
    assert first.count("=") + len(" 5 ") + 2 == 26  # the heaviest has the longest bar
    assert light.split("]")[0].count("=") + len(" 2.5 ") + 2 == 13  # half the mass, half the bar
    assert [line.count("[") for line in bars(lines)] == [2, 2, 2]


def test_count_and_total_stand_under_each_end() -> None:
    text = "\n".join(hanger_lines(PAIR, "kg", 78))
    assert text.count("2 x 5 = 10 kg") == text.count("1 x 2.5 = 2.5 kg") == text.count("3 pieces, 12.5 kg") == 2
    assert "UNLIKE" not in text


def test_unlike_ends_are_told_in_words() -> None:
    assert "THE ENDS ARE UNLIKE: end 1 carries 2.5 kg more than end 2" in "\n".join(hanger_lines(UNLIKE, "kg", 78))
    same_mass = ((("5", 2),), (("10", 1),))
    assert "UNLIKE: the same mass from other pieces" in "\n".join(hanger_lines(same_mass, "kg", 78))


def test_sums_are_exact() -> None:
    tenths = ((("0.1", 3),), (("0.3", 1),))
    assert "the same mass from other pieces" in "\n".join(hanger_lines(tenths, "kg", 78))  # 3 x 0.1 is 0.3, not more


def test_no_pieces_are_said_and_no_ends_draw_nothing() -> None:
    text = "\n".join(hanger_lines(((), ()), "kg", 78))
    assert text.count("nothing hangs here") == text.count("0 pieces, 0 kg") == 2
    assert hanger_lines((), "kg", 78) == ()


def test_one_end_has_one_column_and_cannot_be_unlike() -> None:
    text = "\n".join(hanger_lines(((("10", 1),),), "kg", 78))
    assert "end 1" in text
    assert "end 2" not in text
    assert "1 piece, 10 kg" in text


def test_forty_pieces_are_one_bar_a_kind_and_fit_a_small_terminal() -> None:
    forty = ((("5", 20), ("2.5", 12), ("0.5", 8)),) * 2
    lines = hanger_lines(forty, "kg", 78, plain=True)
    assert len(bars(lines)) == 3
    for words in ("20 x 5", "12 x 2.5", "8 x 0.5", "40 pieces, 134 kg"):  # 100 + 30 + 4
        assert words in "\n".join(lines)
    assert len(lines) <= 12


@pytest.mark.parametrize("width", [30, 41, 55, 78, 110])
@pytest.mark.parametrize("ends", [PAIR, UNLIKE, ((), (("2.5", 1),)), ((("5", MOST),),) * 2, ((("5", MOST + 1),),) * 3])
@pytest.mark.parametrize("plain", [True, False])
def test_no_line_is_wider_than_there_is_room(
    ends: tuple[tuple[tuple[str, int], ...], ...], width: int, plain: bool
) -> None:
    lines = hanger_lines(ends, "kg", width, plain=plain)
    assert lines
    assert max(map(len, lines)) <= max(width, 62)  # the sentence on unlike ends goes on in full
    assert all(len(line) <= width for line in lines if "UNLIKE" not in line)
    assert all(line.isascii() for line in lines) or not plain


def test_what_no_rack_has_does_no_harm() -> None:
    odd = ((("\x1b[31m5", 1), ("nan", 2), ("-3", 1), ("0", 1)),)
    lines = hanger_lines(odd, "kg", 78)
    assert all(is_clean(line) for line in lines)


def test_few_lines_say_the_same() -> None:
    lines = brief_lines(UNLIKE, "kg", 78, plain=True)
    assert len(lines) == 4  # sums, one bar for each of two kinds, the sentence
    assert "end 1: 3 pieces, 12.5 kg" in lines[0]
    assert "end 2: 2 pieces, 10 kg" in lines[0]
    assert "2 x 5" in lines[1]
    assert "1 x 2.5" in lines[2]
    assert "UNLIKE" in lines[3]
