"""A dial gauge drawn as text: an arc of marks from low to high, numbers at the large ones, and a pointer.

Pure, in Braille dots or in plain characters; whoever hears the screen gets the pointer's place in words. The number
itself is never told: reading it is what is trained. A large mark has five small ones.
"""

from math import cos, floor, log10, pi, sin

from runner.formula.quantity import shown_number
from runner.trade.path_drawing.dots import Dots

COLUMNS, ROWS = 40, 9
CENTRE_X, CENTRE_Y, RADIUS = 40.0, 33.0, 25.0
"""In dots, two a column and four a row."""
SMALL = 5
"""Small marks from one large mark to the next."""
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def large_step(low: float, high: float) -> float:
    """From one large mark to the next: 1, 2, 2.5 or 5 times a power of ten, so that there are from 4 to 10."""
    rough = (high - low) / 10
    power = 10.0 ** floor(log10(rough))
    return next(step * power for step in STEPS if step * power >= rough * (1 - 1e-9))


def share(value: float, low: float, high: float) -> float:
    """How far along the dial, from 0 to 1; a pointer beyond it rests on its stop."""
    return min(1.0, max(0.0, (value - low) / (high - low)))


def large_marks(low: float, high: float) -> tuple[float, ...]:
    """The values of the large marks."""
    step = large_step(low, high)
    count = floor((high - low) / step * (1 + 1e-9))
    return tuple(low + number * step for number in range(count + 1))


def at(part: float, radius: float) -> tuple[float, float]:
    """The dot at a share of the half circle, from the left over the top to the right."""
    angle = pi * (1.0 - part)
    return CENTRE_X + radius * cos(angle), CENTRE_Y - radius * sin(angle)


def dial(value: float, low: float, high: float, unit: str, plain: bool = False) -> tuple[str, ...]:
    """The lines of the drawing; `value`, `low` and `high` in the unit."""
    dots = Dots(COLUMNS, ROWS)
    step = large_step(low, high)
    for number in range(floor((high - low) / step * SMALL * (1 + 1e-9)) + 1):
        part = number * step / SMALL / (high - low)
        inner = RADIUS - (5.0 if number % SMALL == 0 else 2.0)
        dots.line(at(part, inner), at(part, RADIUS))
    dots.line((CENTRE_X, CENTRE_Y), at(share(value, low, high), RADIUS - 7.0))
    dots.circle(CENTRE_X, CENTRE_Y, 1.5)
    rows = [[dots.character(column, row, plain) for column in range(COLUMNS)] for row in range(ROWS)]
    for mark in large_marks(low, high):
        part = (mark - low) / (high - low)
        x, y = at(part, RADIUS + 3.0)
        text = shown_number(mark)
        column = round(x / 2 - (len(text) if part < 0.4 else 0 if part > 0.6 else len(text) / 2))
        row = max(0, min(ROWS - 1, int(y // 4)))
        for place, letter in enumerate(text):
            if 0 <= column + place < COLUMNS:
                rows[row][column + place] = letter
    lines = ["".join(row).rstrip() for row in rows]
    lines.append(f"{unit}; a small mark is {shown_number(step / SMALL)} {unit}".center(COLUMNS).rstrip())
    return tuple(lines)


def pointer_words(value: float, low: float, high: float, unit: str) -> str:
    """Where the pointer stands, in marks, for whoever cannot see it."""
    step = large_step(low, high)
    if value < low or value > high:
        return f"The pointer rests on the stop at the {'low' if value < low else 'high'} end."
    below = floor((value - low) / step * (1 + 1e-9))
    small = (value - low - below * step) / (step / SMALL)
    near = round(small * 2) / 2
    places = f"{near:g} small mark{'' if near == 1 else 's'} past" if near else "on"
    return (
        f"The pointer stands {places} the large mark {shown_number(low + below * step)}; "
        f"{SMALL} small marks are {shown_number(step)} {unit}."
    )
