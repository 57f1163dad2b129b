"""The trade's arithmetic: plain functions over SI floats, which import nothing else of this program.

Invariant: the same numbers in give the same number out, and a result outside a formula's range is refused or returned
as a value that says so, never bent to fit.
"""
