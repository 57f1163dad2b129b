"""The table of kinds of change, one file a theme. Invariant: every key of the language is in a row, or in `untold` or `keys`."""

from runner.lint.diff.row import Row
from runner.lint.diff.rows import (
    asks,
    calculations,
    cautions,
    head,
    holds,
    moves,
    phases,
    states,
    steps,
    troubles,
    values,
)

ROWS: tuple[Row, ...] = (
    *head.ROWS,
    *cautions.ROWS,
    *values.ROWS,
    *states.ROWS,
    *calculations.ROWS,
    *phases.ROWS,
    *steps.ROWS,
    *moves.ROWS,
    *holds.ROWS,
    *asks.ROWS,
    *troubles.ROWS,
)
"""All kinds of change, in the order in which they are looked for."""
