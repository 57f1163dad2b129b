"""The side view of a web path, drawn from the same numbers that lengths and pulls come from: as text and as SVG.

Invariant: rollers are numbered from 1 in threading order, in every drawing alike; both axes have the same scale; nothing
is told by colour.
"""
