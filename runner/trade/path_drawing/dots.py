"""A canvas of dots, two across and four down in every character cell, so that a dot is about as wide as it is high.

Shown with the characters of Unicode's Braille patterns (The Unicode Standard, block U+2800: dots 1 to 8 are the bits of
the code point), or with the plain characters that look most like the dots.
"""

from math import ceil, cos, hypot, pi, sin

BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bit of a dot by its row and column in the cell."""
BLANK = 0x2800

LOOKS = {
    " ": ("..", "..", "..", ".."),
    "'": (".#", ".#", "..", ".."),
    "`": ("#.", "#.", "..", ".."),
    ".": ("..", "..", ".#", ".#"),
    ",": ("..", "..", "#.", "#."),
    "-": ("..", "##", "##", ".."),
    "_": ("..", "..", "..", "##"),
    '"': ("##", "..", "..", ".."),
    "|": ("#.", "#.", "#.", "#."),
    "!": (".#", ".#", ".#", ".#"),
    "/": (".#", ".#", "#.", "#."),
    "\\": ("#.", "#.", ".#", ".#"),
    "#": ("##", "##", "##", "##"),
}
"""What plain characters look like in dots."""


def bits_of(look: tuple[str, ...]) -> int:
    """Dots as a number."""
    return sum(BITS[row][column] for row in range(4) for column in range(2) if look[row][column] == "#")


PLAIN = {character: bits_of(look) for character, look in LOOKS.items()}


class Dots:
    """Dots on a canvas of so many character cells; what lies outside is left out."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns, self.rows = columns, rows
        self.cells = [[0] * columns for _ in range(rows)]

    def put(self, x: float, y: float) -> None:
        """One dot; x counts dots from the left, y from the top."""
        column, row = int(x // 2), int(y // 4)
        if 0 <= column < self.columns and 0 <= row < self.rows:
            self.cells[row][column] |= BITS[int(y) % 4][int(x) % 2]

    def line(self, start: tuple[float, float], end: tuple[float, float], every: int = 1) -> None:
        """A straight line, of every dot or of every so-manieth."""
        count = max(1, ceil(max(abs(end[0] - start[0]), abs(end[1] - start[1]))))
        for number in range(0, count + 1, every):
            share = number / count
            self.put(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))

    def circle(self, x: float, y: float, radius: float) -> None:
        """A circle; the smallest is four dots."""
        radius = max(radius, 0.8)
        count = max(8, ceil(4.0 * pi * radius))
        for number in range(count):
            angle = 2.0 * pi * number / count
            self.put(x + radius * cos(angle), y + radius * sin(angle))

    def busy(self, column: int, row: int) -> int:
        """How many dots a cell holds."""
        return self.cells[row][column].bit_count()

    def character(self, column: int, row: int, plain: bool) -> str:
        """A cell as a character."""
        bits = self.cells[row][column]
        if plain:
            return looks_like(bits)
        return chr(BLANK | bits) if bits else " "


def looks_like(bits: int) -> str:
    """The plain character that differs from some dots in the fewest places; no dots are a blank, and only they."""
    if not bits:
        return " "
    return min((character for character in PLAIN if character != " "), key=lambda c: (PLAIN[c] ^ bits).bit_count())


def far(start: tuple[float, float], end: tuple[float, float]) -> float:
    """Distance of two points."""
    return hypot(end[0] - start[0], end[1] - start[1])
