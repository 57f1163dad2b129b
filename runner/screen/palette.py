"""How an ink looks: foreground, background and whether bold. The only table of colours.

Grey is normal; saturated colour is for what is abnormal or can hurt. Every pair keeps a contrast of at least 4.5 to 1
(WCAG 2.1, 1.4.3), in the palette for glare 7 to 1 (1.4.6), which a test computes. Without colour, bold and reverse remain.
"""

from typing import NamedTuple

from runner.screen.blocks import Ink


class Look(NamedTuple):
    """Colours as #rrggbb; empty for those of the terminal itself."""

    front: str
    back: str
    bold: bool = False
    reverse: bool = False
    """Shown in reverse where there is no colour."""


NIGHT = "#15181c"
DAY = "#f4f3ef"

DARK: dict[Ink, Look] = {
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

LIGHT: dict[Ink, Look] = {
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

BLACK = "#000000"

CONTRAST: dict[Ink, Look] = {
    Ink.PLAIN: Look("#f2f2f2", BLACK),
    Ink.STRONG: Look("#ffffff", BLACK, bold=True),
    Ink.QUIET: Look("#c4c4c4", BLACK),
    Ink.LABEL: Look("#d4d4d4", BLACK),
    Ink.BAND: Look("#ffffff", "#2e2e2e", bold=True, reverse=True),
    Ink.RULE: Look("#b4b4b4", BLACK),
    Ink.KEY: Look(BLACK, "#e6e6e6", bold=True, reverse=True),
    Ink.ENTRY: Look("#ffffff", "#333333", bold=True),
    Ink.CHOSEN: Look(BLACK, "#ffffff", bold=True, reverse=True),
    Ink.GOOD: Look("#d6ecd9", BLACK),
    Ink.ABNORMAL: Look("#ffd060", BLACK, bold=True),
    Ink.DANGER: Look("#ffffff", "#9c1510", bold=True, reverse=True),
    Ink.WARNING: Look(BLACK, "#ff9d2e", bold=True, reverse=True),
    Ink.CAUTION: Look(BLACK, "#ffe23f", bold=True, reverse=True),
    Ink.NOTICE: Look("#ffffff", "#17457a", bold=True, reverse=True),
    Ink.DRY: Look(BLACK, "#e8d98a", bold=True, reverse=True),
}

MONO: dict[Ink, Look] = {ink: Look("", "", look.bold, look.reverse) for ink, look in DARK.items()}
"""No colour at all: the terminal's own two, bold and reverse."""

PALETTES: dict[str, dict[Ink, Look]] = {"dark": DARK, "light": LIGHT, "contrast": CONTRAST, "mono": MONO}
"""In the order in which the key goes through them."""
USUAL = "dark"


def after(name: str) -> str:
    """The name of the next palette."""
    names = tuple(PALETTES)
    return names[(names.index(name) + 1) % len(names)] if name in names else USUAL


def contrast(look: Look) -> float:
    """The contrast ratio of a look, 1 to 21 (WCAG 2.1, definitions of contrast ratio and relative luminance)."""
    lighter, darker = sorted((_luminance(look.front), _luminance(look.back)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    def linear(pair: str) -> float:
        part = int(pair, 16) / 255
        return float(part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4)

    return 0.2126 * linear(colour[1:3]) + 0.7152 * linear(colour[3:5]) + 0.0722 * linear(colour[5:7])
