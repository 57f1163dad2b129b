"""Colours against WCAG 2.1: the published pairs first, then every pair of ours."""

import pytest
from rich.color import Color, ColorSystem

from runner.screen.blocks import Ink
from runner.screen.palette import PALETTES, USUAL, Look, after, contrast


@pytest.mark.parametrize(
    ("front", "back", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # WCAG 2.1, definition of contrast ratio: 1 to 21
        ("#ffffff", "#ffffff", 1.0),  # the same
        ("#777777", "#ffffff", 4.48),  # WCAG 2.x understanding texts: just fails 4.5 on white, from memory
        ("#767676", "#ffffff", 4.54),  # the same: just passes, from memory
        ("#ff0000", "#ffffff", 4.00),  # the primaries on white, as contrast checkers print them, from memory
        ("#0000ff", "#ffffff", 8.59),  # the same
        ("#00ff00", "#ffffff", 1.37),  # the same
    ],
)
def test_contrast_is_that_of_wcag(front: str, back: str, ratio: float) -> None:
    assert contrast(Look(front, back)) == pytest.approx(ratio, abs=0.01)


COLOURED = [name for name in PALETTES if name != "mono"]
NEEDED = {"contrast": 7.0}
"""WCAG 2.1, 1.4.6 for the palette for glare; the others as 1.4.3 says."""


def test_there_is_a_palette_for_dark_light_glare_and_no_colour() -> None:
    assert list(PALETTES) == ["dark", "light", "contrast", "mono"]
    assert USUAL in PALETTES


@pytest.mark.parametrize("name", COLOURED)
def test_every_ink_has_the_contrast_that_its_palette_needs(name: str) -> None:
    palette = PALETTES[name]
    assert set(palette) == set(Ink)
    needed = NEEDED.get(name, 4.5)
    weak = {ink: round(contrast(look), 2) for ink, look in palette.items() if contrast(look) < needed}
    assert not weak


@pytest.mark.parametrize("name", COLOURED)
def test_the_contrast_is_kept_where_a_terminal_has_only_256_colours(name: str) -> None:
    def nearest(colour: str) -> str:
        return Color.parse(colour).downgrade(ColorSystem.EIGHT_BIT).get_truecolor().hex

    needed = NEEDED.get(name, 4.5)
    for ink, look in PALETTES[name].items():
        assert contrast(Look(nearest(look.front), nearest(look.back))) >= needed, ink


def test_mono_names_no_colour_at_all() -> None:
    assert set(PALETTES["mono"]) == set(Ink)
    assert all(look.front == look.back == "" for look in PALETTES["mono"].values())


LOUD = {Ink.ABNORMAL, Ink.DANGER, Ink.WARNING, Ink.CAUTION, Ink.NOTICE, Ink.DRY}
"""What is abnormal, can hurt, or must not be taken for a live run."""


@pytest.mark.parametrize("name", COLOURED)
def test_only_what_is_abnormal_or_can_hurt_has_saturated_colour(name: str) -> None:
    for ink, look in PALETTES[name].items():
        spread = max(_spread(look.front), _spread(look.back))
        assert spread >= 60 if ink in LOUD else spread <= 60, (ink, look)


def _spread(colour: str) -> int:
    parts = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    return max(parts) - min(parts)


@pytest.mark.parametrize("name", PALETTES)
def test_without_colour_what_is_filled_is_in_reverse(name: str) -> None:
    for ink in (Ink.DANGER, Ink.WARNING, Ink.CAUTION, Ink.NOTICE, Ink.CHOSEN, Ink.KEY, Ink.DRY):
        assert PALETTES[name][ink].reverse, ink


def test_the_key_goes_through_all_palettes_and_back() -> None:
    name, seen = USUAL, []
    for _ in PALETTES:
        name = after(name)
        seen.append(name)
    assert set(seen) == set(PALETTES)
    assert name == USUAL
    assert after("no such palette") == USUAL
