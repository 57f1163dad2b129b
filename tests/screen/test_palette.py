"""Colours against WCAG 2.2: the published pairs first, then every pair of ours."""

import pytest

from runner.screen.blocks import Ink
from runner.screen.palette import PALETTES, Look, contrast


@pytest.mark.parametrize(
    ("front", "back", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # WCAG 2.2, definition of contrast ratio: 1 to 21
        ("#ffffff", "#ffffff", 1.0),  # the same
        ("#777777", "#ffffff", 4.48),  # WCAG 2.x understanding texts: just fails 4.5 on white, from memory
        ("#767676", "#ffffff", 4.54),  # the same: just passes, from memory
    ],
)
def test_contrast_is_that_of_wcag(front: str, back: str, ratio: float) -> None:
    assert contrast(Look(front, back)) == pytest.approx(ratio, abs=0.01)


@pytest.mark.parametrize("name", PALETTES)
def test_every_ink_has_a_contrast_of_four_and_a_half_to_one(name: str) -> None:
    palette = PALETTES[name]
    assert set(palette) == set(Ink)
    weak = {ink: round(contrast(look), 2) for ink, look in palette.items() if contrast(look) < 4.5}
    assert not weak


def test_only_what_is_abnormal_or_can_hurt_has_saturated_colour() -> None:
    loud = {Ink.ABNORMAL, Ink.DANGER, Ink.WARNING, Ink.CAUTION, Ink.NOTICE, Ink.DRY}
    for palette in PALETTES.values():
        for ink, look in palette.items():
            for colour in (look.front, look.back):
                parts = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
                if ink not in loud:
                    assert max(parts) - min(parts) <= 60, (ink, colour)


def test_without_colour_what_is_filled_is_in_reverse() -> None:
    for palette in PALETTES.values():
        for ink in (Ink.DANGER, Ink.WARNING, Ink.CAUTION, Ink.NOTICE, Ink.CHOSEN, Ink.KEY, Ink.DRY):
            assert palette[ink].reverse, ink
