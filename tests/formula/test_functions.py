"""The function table: every row is whole, its example works, and one without bounds cannot be made."""

import pytest

from runner.formula.check import check
from runner.formula.expr import CONSTANT_NAMES
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.functions.row import Parameter, row
from runner.formula.kinds import Kind, Path, Quantity, Table, TextKind
from tests.formula.vocabulary import tree, unit_of


def quantity(unit: str) -> Quantity:
    return Quantity(unit_of(unit).dimension)


NAMES: dict[str, Kind] = {
    **{
        name: quantity(unit)
        for unit, names in {
            "m": "web_width feed roll_length repeat core_od roll_od caliper length length_left ticket_length job_length left_gap right_gap",
            "kg": "sling_rating beam_rating crane_rating bar_mass roll_mass ticket_mass",
            "N/m": "tension",
            "N": "pull_after pull_before",
            "deg": "wrap",
            "1": "friction",
            "bar": "core_pressure",
            "g/m^2": "grammage",
        }.items()
        for name in names.split()
    },
    "substrate": TextKind(("kraft paper", "BOPP film")),
    "wanted_tension": Table((("substrate", TextKind(("kraft paper", "BOPP film"))), ("high", quantity("N/m")))),
    "board_tension": Table((("caliper", quantity("m")), ("pull", quantity("N/m")))),
    "unwind": Path(("roll", "entry idler", "tension bar", "exit idler"), frozenset({"tension bar"})),
}
"""The names of the examples."""


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_example_of_a_function_is_a_good_formula_that_calls_it(name: str) -> None:
    function = FUNCTIONS[name]
    assert f"{name}(" in function.example
    checked = check(tree(function.example), NAMES)
    assert checked.faults == ()
    assert checked.kind is not None


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_function_says_what_it_does_in_one_sentence(name: str) -> None:
    function = FUNCTIONS[name]
    assert function.name == name
    assert function.doc.endswith(".")
    assert function.usage.startswith(f"{name}(")
    assert callable(function.bounds)


def test_a_row_without_a_bounds_rule_does_not_construct() -> None:
    with pytest.raises(TypeError, match="bounds"):
        row("f", (Parameter("x", "number"),), kind=lambda _: TextKind(), value=abs, doc="", example="")  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="no bounds rule"):
        row("f", (Parameter("x", "number"),), kind=lambda _: TextKind(), value=abs, bounds=None, doc="", example="")  # type: ignore[arg-type]


def test_the_constants_are_those_that_the_tree_knows() -> None:
    assert CONSTANTS.keys() == CONSTANT_NAMES
    assert not CONSTANTS.keys() & FUNCTIONS.keys()
    assert CONSTANTS["g_n"].value == 9.80665  # m/s^2, exact: 3rd CGPM (1901), NIST SP 811


@pytest.mark.parametrize("name", FUNCTIONS)
def test_too_few_and_too_many_arguments_are_faults(name: str) -> None:
    function = FUNCTIONS[name]
    counts = [function.fewest - 1] + ([] if function.most is None else [function.most + 1])
    for count in counts:
        faults = check(tree(f"{name}({', '.join(['1'] * count)})"), NAMES).faults
        assert len(faults) == 1
        assert f"here are {count}" in faults[0].message
        assert function.usage in faults[0].hint
