"""How an ink looks: foreground, background and whether bold. The only table of colours.

Grey is normal; saturated colour is for what is abnormal or can hurt. Every pair keeps a contrast of at least 4.5 to 1
(WCAG 2.2, 1.4.3), which a test computes. Without colour, bold and reverse remain.
"""

from typing import NamedTuple

from runner.screen.blocks import Ink


class Look(NamedTuple):
    """Colours as #rrggbb."""

    front: str
    back: str
    bold: bool = False
    reverse: bool = False
    """Shown in reverse where there is no colour."""


NIGHT = "#15181c"
DAY = "#f4f3ef"

QUIET: dict[Ink, Look] = {
    Ink.PLAIN: Look("#c6ccd2", NIGHT),
    Ink.STRONG: Look("#ffffff", NIGHT, bold=True),
    Ink.QUIET: Look("#8b949e", NIGHT),
    Ink.LABEL: Look("#9aa7b3", NIGHT),
    Ink.BAND: Look("#e6eaee", "#2b323a", bold=True, reverse=True),
    Ink.RULE: Look("#7a848e", NIGHT),
    Ink.KEY: Look("#ffffff", "#3a444f", bold=True, reverse=True),
    Ink.ENTRY: Look("#ffffff", "#2f3a46", bold=True),
    Ink.CHOSEN: Look("#101316", "#c9d3dc", bold=True, reverse=True),
    Ink.GOOD: Look("#b9d8bf", NIGHT),
    Ink.ABNORMAL: Look("#ffc36b", NIGHT, bold=True),
    Ink.DANGER: Look("#ffffff", "#b3261e", bold=True, reverse=True),
    Ink.WARNING: Look("#161100", "#f08c1e", bold=True, reverse=True),
    Ink.CAUTION: Look("#161400", "#f2d43c", bold=True, reverse=True),
    Ink.NOTICE: Look("#ffffff", "#2c5f96", bold=True, reverse=True),
    Ink.DRY: Look("#1a1400", "#d7c98a", bold=True, reverse=True),
}

DAYLIGHT: dict[Ink, Look] = {
    Ink.PLAIN: Look("#24292e", DAY),
    Ink.STRONG: Look("#000000", DAY, bold=True),
    Ink.QUIET: Look("#5f676f", DAY),
    Ink.LABEL: Look("#4c555e", DAY),
    Ink.BAND: Look("#14181c", "#cdd3d9", bold=True, reverse=True),
    Ink.RULE: Look("#666e76", DAY),
    Ink.KEY: Look("#ffffff", "#3f4953", bold=True, reverse=True),
    Ink.ENTRY: Look("#000000", "#dfe5ea", bold=True),
    Ink.CHOSEN: Look("#ffffff", "#2f3a45", bold=True, reverse=True),
    Ink.GOOD: Look("#1f5a2c", DAY),
    Ink.ABNORMAL: Look("#8a4200", DAY, bold=True),
    Ink.DANGER: Look("#ffffff", "#b3261e", bold=True, reverse=True),
    Ink.WARNING: Look("#161100", "#f08c1e", bold=True, reverse=True),
    Ink.CAUTION: Look("#161400", "#f2d43c", bold=True, reverse=True),
    Ink.NOTICE: Look("#ffffff", "#2c5f96", bold=True, reverse=True),
    Ink.DRY: Look("#1a1400", "#d7c98a", bold=True, reverse=True),
}

PALETTES: dict[str, dict[Ink, Look]] = {"quiet": QUIET, "daylight": DAYLIGHT}


def contrast(look: Look) -> float:
    """The contrast ratio of a look, 1 to 21 (WCAG 2.2, definitions of contrast ratio and relative luminance)."""
    lighter, darker = sorted((_luminance(look.front), _luminance(look.back)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    def linear(pair: str) -> float:
        part = int(pair, 16) / 255
        return float(part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4)

    return 0.2126 * linear(colour[1:3]) + 0.7152 * linear(colour[3:5]) + 0.0722 * linear(colour[5:7])
