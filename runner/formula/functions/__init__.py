"""Every function that a formula may call, and the constants: one row each, listed here by theme.

Invariant: a row says everything about its function (parameters, kinds, value, bounds, words), so that checker, evaluator,
bounds and reference read this one table and adding a function is adding a row.
"""

from runner.formula.functions.bars import BARS
from runner.formula.functions.brakes import BRAKES
from runner.formula.functions.lifts import LIFTS
from runner.formula.functions.numbers import NUMBERS
from runner.formula.functions.paths import PATHS
from runner.formula.functions.rolls import ROLLS
from runner.formula.functions.row import Function
from runner.formula.functions.shafts import SHAFTS
from runner.formula.functions.tables import TABLES

FUNCTIONS: dict[str, Function] = {
    function.name: function for function in (*NUMBERS, *TABLES, *PATHS, *ROLLS, *BARS, *BRAKES, *LIFTS, *SHAFTS)
}
