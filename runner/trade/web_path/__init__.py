"""The way of the web over its rollers, seen from the side: free spans, wrap angles, lengths, pulls, travel of a bar.

Invariant: x runs to the right, y upwards, metres; the web is a line without thickness that lies tight on every roller it
is told to pass. Geometry that no web can take is a value (`Problem`), never an error.
"""

from runner.trade.web_path.roller import HORIZONTAL, VERTICAL, Contact, Problem, Roller, WebPath
from runner.trade.web_path.solving import solve

__all__ = ["HORIZONTAL", "VERTICAL", "Contact", "Problem", "Roller", "WebPath", "solve"]
