"""The working of a formula, as an operator would write it."""

import pytest

from runner.formula.explain import explain
from tests.formula.vocabulary import tree

SHOWN = {
    "tension": "150 N/m", "web_width": "1200 mm", "roll_od": "1000 mm", "core_od": "76 mm", "caliper": "104 um",
    "bar_pull": "360 N", "lift": "-3 kg", "substrate": "BOPP film", "share": "12 %",
}  # fmt: skip


@pytest.mark.parametrize(
    ("formula", "working"),
    [
        ("tension * web_width", "150 N/m × 1200 mm"),
        ("pi * (roll_od^2 - core_od^2) / (4 * caliper)", "π × ((1000 mm)² - (76 mm)²) / (4 × 104 um)"),
        ("bar_pull / g_n - 3.2 [kg]", "360 N / (9.80665 m/s²) - 3.2 kg"),
        ("bar_pull / tension", "360 N / (150 N/m)"),
        ("2 * lift", "2 × (-3 kg)"),
        ("roll_od - lift", "1000 mm - (-3 kg)"),
        ("caliper^-2", "(104 um)⁻²"),
        ("if(substrate == 'BOPP film', 2, 1)", "if(BOPP film = BOPP film, 2, 1)"),
        ("not (tension >= 2 [N/m]) or share != 0.5", "not 150 N/m ≥ 2 N/m or 12 % ≠ 0.5"),
        ("path_length(unwind) + not_known", "path_length(unwind) + not_known"),
        ("roll_od - (core_od - caliper)", "1000 mm - (76 mm - 104 um)"),
        ("-(roll_od + core_od)", "-(1000 mm + 76 mm)"),
        ("max(roll_od, 1.50 [m])", "max(1000 mm, 1.5 m)"),
    ],
)
def test_the_working_has_numbers_in_the_place_of_names(formula: str, working: str) -> None:
    assert explain(tree(formula), SHOWN) == working
