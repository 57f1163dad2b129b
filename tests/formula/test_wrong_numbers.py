"""Published numbers that are wrong: for each, the right one comes out of the formula, and never the printed one."""

from typing import NamedTuple

import pytest
from scipy.integrate import quad
from scipy.stats import norm

from runner.formula.evaluate import evaluate
from runner.formula.scope import EMPTY
from tests.formula.vocabulary import si, tree


class Wrong(NamedTuple):
    """Where it is printed, our formula for the same thing, what is printed, and what is right and how closely."""

    page: str
    formula: str
    printed: str
    right: str
    within: str


WRONG = [
    Wrong(
        "paper reel weight (calculatorultra.com): (48^2 - 6^2) * 36 * 0.04335 without pi / 4, and worked out wrongly",
        "roll_mass_by_density(0.04335 [lb/in^3], 36 [in], 48 [in], 6 [in])", "532.27 lb", "2779.87 lb", "0.005 lb",
    ),
    Wrong(
        "roof beam (tech-calculation.com): 5 w L^4 / (384 E I) with 2000 N/m, 6 m, 200 GPa, 6e-6 m^4",
        "sag_between_ends(2000 [N/m] * 6 [m], 6 [m], 6 [m], 200 [GPa], 6e-6 [m^4])", "10 mm", "28.125 mm", "1e-9 mm",
    ),
    Wrong(
        "basis weight (paperspecs.com): g/m^2 = lb of 500 sheets * 1406.5 / in^2",
        "1 [lb] / (500 * 1 [in^2])", "1406.5 g/m^2", "1406.139 g/m^2", "0.0005 g/m^2",
    ),
    Wrong(
        "cell volume (two ink articles): a billion cubic micrometres per square inch",
        "1e9 * (1 [um])^3 / (1 [in])^2", "1.54 cm^3/m^2", "1.5500031 cm^3/m^2", "5e-8 cm^3/m^2",
    ),
    Wrong("sling charts at 65 degrees", "leg_load(1 [t], 1, 65 [deg])", "1.104 t", "1.1034 t", "5e-5 t"),
    Wrong("sling charts at 40 degrees", "leg_load(1 [t], 1, 40 [deg])", "1.555 t", "1.5557 t", "5e-5 t"),
    Wrong("sling charts at 35 degrees", "leg_load(1 [t], 1, 35 [deg])", "1.742 t", "1.7434 t", "5e-5 t"),
    Wrong(
        "taper calculators that divide torque by radius: no taper enters, so 25 % at twice the radius would be half",
        "taper_hyperbolic(100 [N], 25 [%], 2)", "50 N", "87.5 N", "1e-9 N",
    ),
    Wrong(
        "roll inertia (meracalculator) as m D^2, which is not even a thin ring's m D^2 / 4",
        "roll_inertia(600.663 [kg], 1 [m], 76 [mm])", "600.663 kg*m^2", "75.517 kg*m^2", "0.0005 kg*m^2",
    ),
    Wrong(
        "diametral pitch (entpms): (pi * 2 in / 32) * 51; the 2 is no part of it",
        "pi / 32 * 1 [in] * 51", "10.013 in", "5.007 in", "0.0005 in",
    ),
    Wrong(
        "load angle (ehow.co.uk): 300 over 600 is printed as two, so a sling of half its length high would double",
        "leg_load_by_height(300 [lb], 1, 600 [mm], 300 [mm]) / 300 [lb]", "0.5", "2", "1e-12",
    ),
    Wrong(
        "the same page takes pounds for kilograms",
        "leg_load_by_height(300 [lb], 1, 600 [mm], 300 [mm])", "600 kg", "272.155 kg", "0.0005 kg",
    ),
]  # fmt: skip


@pytest.mark.parametrize("case", WRONG, ids=lambda case: case.page)
def test_the_right_number_comes_out_and_not_the_printed_one(case: Wrong) -> None:
    found = evaluate(tree(case.formula), {}, EMPTY)
    assert isinstance(found, float), found
    right, printed, within = si(case.right), si(case.printed), si(case.within)
    assert found == pytest.approx(right, abs=within)
    assert abs(found - printed) > 2 * within, "the printed number would pass too"


def test_a_chart_factor_with_its_digits_swapped_is_not_ours() -> None:
    """A2 of the mean chart for n = 5 is 0.577; one table (issuhub) prints 0.557. d2 by the integral of the normal range."""
    d2, _ = quad(lambda x: 1 - norm.cdf(x) ** 5 - norm.sf(x) ** 5, -10, 10)
    found = evaluate(tree(f"3 / ({d2!r} * sqrt(5))"), {}, EMPTY)
    assert found == pytest.approx(0.5768, abs=5e-5)
    assert found != pytest.approx(0.557, abs=0.01)
