"""What a lint has to load: the formula package brings in nothing slow."""

import subprocess
import sys

SLOW = (
    "dataclasses",
    "inspect",
    "decimal",
    "fractions",
    "json",
    "difflib",
    "pathlib",
    "asyncio",
    "textual",
    "rich",
    "jsonschema",
)


def test_reading_and_bounding_a_formula_loads_nothing_slow() -> None:
    code = (
        "import sys\n"
        "from runner.formula import bounds, check, evaluate, explain, quantity, syntax\n"
        "from runner.formula.scope import EMPTY\n"
        "expr = syntax.parse('2 * 3.2 [kg] + 1 [lb]')\n"
        "assert check.check(expr, {}).faults == ()\n"
        "assert evaluate.evaluate(expr, {}, EMPTY) > 6\n"
        f"print([name for name in {SLOW!r} if name in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
