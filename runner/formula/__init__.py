"""Formulas: one tree, several readings of it (kinds and dimensions, value, bounds, working).

Invariant: a formula from anybody is read to a value or to a fault with its columns, within bounded time and size; a float
is SI, and no number that is infinite, not a number, or of the wrong dimension ever leaves this package.
"""
