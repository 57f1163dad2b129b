"""The proof over every way through a procedure, over the engine's own order rules in `engine.flow`.

Invariant: what is reduced (positions that differ in nothing that still matters, moves of two lists that commute) hides no
fault and no shorter way to one; what is assumed, or left out for want of room, is said.
"""
