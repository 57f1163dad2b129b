"""Every function that a formula may call, and the constants: one row each, listed here by theme.

Invariant: a row says everything about its function (parameters, kinds, value, bounds, words), so that checker, evaluator,
bounds and reference read this one table and adding a function is adding a row.
"""

from runner.formula.functions.numbers import NUMBERS
from runner.formula.functions.paths import PATHS
from runner.formula.functions.row import Function
from runner.formula.functions.tables import TABLES
from runner.formula.functions.trade import TRADE

FUNCTIONS: dict[str, Function] = {function.name: function for function in (*NUMBERS, *TABLES, *PATHS, *TRADE)}
