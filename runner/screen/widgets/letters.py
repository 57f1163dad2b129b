"""Letters and digits that are read from across the press hall: five points high, each as many wide as it needs.

Capitals only, but a small `m` of its own: in a unit `mPa` and `MPa` are not the same. What has no letter is left blank.
"""

HEIGHT = 5
"""Points."""
BETWEEN = 1
"""Points between two letters."""

SHAPES: dict[str, str] = {
    " ": "../../../../..",
    "0": "###/#.#/#.#/#.#/###", "1": ".#./##./.#./.#./###", "2": "###/..#/###/#../###", "3": "###/..#/.##/..#/###",
    "4": "#.#/#.#/###/..#/..#", "5": "###/#../###/..#/###", "6": "###/#../###/#.#/###", "7": "###/..#/.#./.#./.#.",
    "8": "###/#.#/###/#.#/###", "9": "###/#.#/###/..#/###",
    "A": ".##./#..#/####/#..#/#..#", "B": "###./#..#/###./#..#/###.", "C": ".###/#.../#.../#.../.###",
    "D": "###./#..#/#..#/#..#/###.", "E": "###/#../##./#../###", "F": "###/#../##./#../#..",
    "G": ".###/#.../#.##/#..#/.###", "H": "#..#/#..#/####/#..#/#..#", "I": "#/#/#/#/#", "J": "..#/..#/..#/#.#/.#.",
    "K": "#..#/#.#./##../#.#./#..#", "L": "#../#../#../#../###", "M": "#...#/##.##/#.#.#/#...#/#...#",
    "N": "#...#/##..#/#.#.#/#..##/#...#", "O": ".##./#..#/#..#/#..#/.##.", "P": "###./#..#/###./#.../#...",
    "Q": ".##./#..#/#..#/#.##/.###", "R": "###./#..#/###./#.#./#..#", "S": ".###/#.../.##./...#/###.",
    "T": "###/.#./.#./.#./.#.", "U": "#..#/#..#/#..#/#..#/.##.", "V": "#...#/#...#/.#.#./.#.#./..#..",
    "W": "#...#/#...#/#.#.#/##.##/#...#", "X": "#.#/#.#/.#./#.#/#.#", "Y": "#.#/#.#/.#./.#./.#.",
    "Z": "####/...#/.##./#.../####", "m": "...../...../####./#.#.#/#.#.#",
    ".": "./././#/#", ",": "../../../.#/#.", ":": "./#/./#/.", ";": "../.#/../.#/#.", "-": ".../.../###/.../...",
    "+": ".../.#./###/.#./...", "/": "..#/..#/.#./#../#..", "(": ".#/#./#./#./.#", ")": "#./.#/.#/.#/#.",
    "%": "#..#/...#/.##./#.../#..#", "=": ".../###/.../###/...", "<": "..#/.#./#../.#./..#", ">": "#../.#./..#/.#./#..",
    "!": "#/#/#/./#", "?": "###/..#/.#./.../.#.", "'": "#/#/././.", '"': "#.#/#.#/.../.../...", "*": ".../#.#/.#./#.#/...",
    "^": ".#./#.#/.../.../...", "_": ".../.../.../.../###", "&": ".#../#.#./.#../#.#./.#.#", "#": ".#.#./#####/.#.#./#####/.#.#.",
}  # fmt: skip
"""Rows from the top, a point where `#` stands."""


HALVES = ((1, 1), (2, 2), (3, 3), (4, 4))
"""Points of half a cell's height: with the signs for upper and lower half."""
CELLS = ((1, 1), (2, 1), (3, 2), (4, 2))
"""Points of whole cells, for plain characters."""


def points(text: str) -> tuple[str, ...]:
    """The rows of a text, `#` and `.`; a letter of another case is the capital."""
    shapes = [SHAPES.get(letter, SHAPES.get(letter.upper(), SHAPES[" "])).split("/") for letter in text]
    return tuple(("." * BETWEEN).join(_even(shape)[row] for shape in shapes) for row in range(HEIGHT))


def _even(shape: list[str]) -> list[str]:
    width = max(map(len, shape))
    return [row.ljust(width, ".") for row in shape]


def long(text: str) -> int:
    """Points that a text is wide."""
    return len(points(text)[0])


def cells_high(scale: int, plain: bool) -> int:
    """Rows of the terminal that a line of text takes at a scale, from 0."""
    high = (CELLS if plain else HALVES)[scale][1] * HEIGHT
    return high if plain else (high + 1) // 2


def cells_wide(text: str, scale: int, plain: bool) -> int:
    """Columns of the terminal that a text takes at a scale."""
    return long(text) * (CELLS if plain else HALVES)[scale][0]


def drawn(text: str, scale: int, plain: bool) -> list[str]:
    """The text as rows of cells."""
    across, upwards = (CELLS if plain else HALVES)[scale]
    wide = ["".join(point * across for point in row) for row in points(text)]
    high = [row for row in wide for _ in range(upwards)]
    if plain:
        return [row.replace(".", " ") for row in high]
    high += ["." * len(high[0])] * (len(high) % 2)
    return ["".join(map(_half, high[at], high[at + 1])) for at in range(0, len(high), 2)]


def _half(upper: str, lower: str) -> str:
    return {"##": "█", "#.": "▀", ".#": "▄", "..": " "}[upper + lower]
