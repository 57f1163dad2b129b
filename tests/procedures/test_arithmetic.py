"""The arithmetic of the shipped procedures against an independent calculation in plain Python.

Every worked example is calculated again here, by handbook formula or by search, and never by `runner.trade` or
`runner.formula`. g is 9.80665 m/s², exact by definition (NIST SP 811).
"""

import itertools
from collections.abc import Callable, Iterator
from math import isclose, pi, radians, sin

import pytest

from runner.procedure.model import Calculation, Split
from tests.procedures.shipped import NAMES, procedure_of
from tests.procedures.taut_web import Disc, taut

G = 9.80665

UNWIND: tuple[Disc, ...] = (
    (0.0, 1.0, 1.0, "over"),
    (1.0, 1.3, 0.10, "over"),
    (1.2, 0.6, 0.12, "under"),
    (1.4, 1.3, 0.10, "over"),
    (1.9, 0.9, 0.12, "under"),
    (2.4, 1.3, 0.18, "over"),
)
REWIND: tuple[Disc, ...] = (
    (0.0, 1.3, 0.18, "over"),
    (0.6, 1.3, 0.10, "over"),
    (0.85, 0.6, 0.12, "under"),
    (1.1, 1.3, 0.10, "over"),
    (1.6, 0.9, 0.12, "under"),
    (2.0, 1.4, 0.10, "over"),
    (2.8, 1.0, 0.106, "over"),
)
BAR = 2
"""Place of the tension bar in both paths."""
UNWIND_FACTOR = taut(UNWIND).upward[BAR]
REWIND_FACTOR = taut(REWIND).upward[BAR]

Given = dict[str, float]


def length_on_roll(outer: float, core: float, caliper: float) -> float:
    """Turn by turn, not by the closed formula: mean circumferences of (D - d)/2t turns
    (Argonne, Ask a Scientist, math99015: L = pi N (D + d)/2)."""
    turns = (outer - core) / (2 * caliper)
    return turns * pi * (outer + core) / 2


def tube(outer: float, wall: float, width: float, density: float) -> float:
    """Mass of a tube from its mean circumference: pi (D - wall) wall w rho."""
    return pi * (outer - wall) * wall * width * density


EXPECTED: dict[tuple[str, str], Callable[[Given], float]] = {
    ("change-roll", "set_tension"): lambda g: g["tension"],
    # Regression roll of 1000/76 mm and 104 um: 7508.286 m, 600.663 kg of web; derived, the formula's sources see above.
    ("change-roll", "web_length"): lambda g: length_on_roll(g["roll_od"], g["core_od"], g["caliper"]),
    # Tube 76/106 mm, 1 m, 700 kg/m³: 3.002 kg; derived.
    ("change-roll", "core_mass"): lambda g: tube(g["core_od"], 0.015, g["web_width"], 700),
    # rho w pi (D² - d²)/4 is the other form of the mass; with G = rho t both agree.
    ("change-roll", "roll_mass"): lambda g: (
        -(
            -(
                g["grammage"] / g["caliper"] * g["web_width"] * pi * (g["roll_od"] ** 2 - g["core_od"] ** 2) / 4
                + tube(g["core_od"], 0.015, g["web_width"], 700)
            )
            // 1
        )
    ),
    # The beam and its tackle count as load on the hook (LEEA text).
    ("change-roll", "hook_load"): lambda g: g["roll_mass"] + 57,
    ("change-roll", "lift_reserve"): lambda g: min(g["crane_plate"], g["beam_plate"]) - g["hook_load"],
    # W / (n sin alpha), alpha from the horizontal; printed factor at 60 degrees 1.155 (sling catalogues).
    ("change-roll", "flattest_leg"): lambda g: -(-g["hook_load"] / 2 / sin(radians(45)) // 1),
    ("change-roll", "sling_leg"): lambda g: -(-g["hook_load"] / 2 / sin(g["sling_angle"]) // 1),
    ("change-roll", "sling_reserve"): lambda g: g["sling_plate"] - g["sling_leg"],
    # Resultant of both spans along the travel of the bar, from the right angle between span and radius.
    ("change-roll", "unwind_pull"): lambda g: g["set_tension"] * g["web_width"] * UNWIND_FACTOR,
    # m g = R less the bar itself; 360 N with 180 degrees and a bar of 8 kg gives 28.7098 kg (derived).
    ("change-roll", "unwind_mass"): lambda g: g["unwind_pull"] / G - 8,
    ("change-roll", "rewind_pull"): lambda g: g["set_tension"] * g["web_width"] * REWIND_FACTOR,
    ("change-roll", "rewind_mass"): lambda g: g["rewind_pull"] / G - 6.5,
    ("change-roll", "thread_speed"): lambda g: g["feed_speed"] * 3 / 10,
    ("change-roll", "feed_length"): lambda _: -(-(20.2 + taut(REWIND).length) // 1),
    ("change-roll", "spare_length"): lambda g: g["web_length"] - g["feed_length"] - g["job_length"],
    # 7508.286 m at 200 m/min: 37.541 min (derived).
    ("change-roll", "run_time"): lambda g: g["job_length"] / g["run_speed"],
    ("change-roll", "sensor_place"): lambda g: g["web_width"] / 2 + 0.002,
    ("change-roll", "metres_left"): lambda g: g["web_length"] - g["first_good"] - g["job_length"],
    ("web-break", "web_force"): lambda g: g["tension"] * g["web_width"],
    ("web-break", "tape_width"): lambda _: 0.038,
    ("web-break", "joint_gap"): lambda _: 0.001,
    ("web-break", "unwind_mass"): lambda g: g["tension"] * g["web_width"] * UNWIND_FACTOR / G - 8,
    ("web-break", "rewind_mass"): lambda g: g["tension"] * g["web_width"] * REWIND_FACTOR / G - 6.5,
    # Regression roll of 400/76 mm and 90 um: 1345.858 m (derived).
    ("web-break", "web_left"): lambda g: length_on_roll(g["roll_now"], g["core_od"], g["caliper"]),
    ("web-break", "spare_web"): lambda g: g["web_left"] - g["job_left"],
    ("web-break", "first_speed"): lambda g: g["run_speed"] * 60 / 4 // 1 / 60,
    ("web-break", "second_speed"): lambda g: g["run_speed"] * 60 / 2 // 1 / 60,
    ("web-break", "lost_web"): lambda g: g["good_again"] - g["counter_break"],
    ("slitter-knives", "trim"): lambda g: (g["web_width"] - g["strips"] * g["strip_width"]) / 2,
    ("slitter-knives", "knives_needed"): lambda g: g["strips"] + 1,
    ("slitter-knives", "outer_knife"): lambda g: g["strips"] * g["strip_width"] / 2,
    ("slitter-knives", "overlap"): lambda g: 0.0008 + g["caliper"],
    # n = v/(pi D): 150 m/min on 120 mm is 397.887 rpm (derived); here in radians per second.
    ("slitter-knives", "knife_speed"): lambda g: 1.04 * g["run_speed"] / (g["knife_od"] / 2),
    ("slitter-knives", "width_error"): lambda g: abs(g["first_strip"] - g["strip_width"]),
}


def examples() -> Iterator[tuple[str, Calculation]]:
    """Every calculation with an example, in every shipped procedure."""
    for name in NAMES:
        for calculation in procedure_of(name).calculations:
            if isinstance(calculation, Calculation) and calculation.example is not None:
                yield name, calculation


def test_every_example_is_calculated_again_here() -> None:
    assert {(name, calculation.name) for name, calculation in examples()} == set(EXPECTED)


@pytest.mark.parametrize("key", sorted(EXPECTED), ids="/".join)
def test_an_example_agrees_with_an_independent_calculation(key: tuple[str, str]) -> None:
    calculation = next(c for name, c in examples() if (name, c.name) == key)
    assert calculation.example is not None
    given = {name: value for name, value in calculation.example.given if isinstance(value, float)}
    assert abs(EXPECTED[key](given) - calculation.example.gives) <= calculation.example.within + 1e-12


def test_the_regression_values_of_the_roll_stand_in_the_example() -> None:
    """7508.286 m and 600.663 kg of web on a roll of 1000/76 mm, 104 um, 80 g/m², 1 m: derived, and by two formulas."""
    assert isclose(length_on_roll(1.0, 0.076, 104e-6), 7508.286, abs_tol=0.001)
    assert isclose(0.080 * 1.0 * length_on_roll(1.0, 0.076, 104e-6), 600.663, abs_tol=0.001)
    assert isclose(tube(0.106, 0.015, 1.0, 700), 3.002, abs_tol=0.0005)


def test_a_sling_leg_agrees_with_the_printed_catalogue_factors() -> None:
    """Load factors printed in sling catalogues (ashleysling.com, sharrowlifting.com p. 93): 1.155 at 60, 1.414 at 45,
    each rounded to three decimals."""
    for angle, factor in ((60, 1.155), (45, 1.414)):
        assert isclose(1 / sin(radians(angle)), factor, abs_tol=0.002)


def test_the_second_opinion_gives_the_handbook_pull_for_half_a_turn() -> None:
    """A bar between two vertical spans: wrap 180 degrees, resultant 2 F (2 F sin(theta/2))."""
    loop = ((0.0, 1.0, 0.1, "over"), (0.1, 0.0, 0.1, "under"), (0.2, 1.0, 0.1, "over"))
    lead_in: tuple[Disc, ...] = ((-1.0, 1.0, 0.1, "over"), *loop, (1.2, 1.0, 0.1, "over"))
    assert isclose(taut(lead_in).upward[2], 2.0, abs_tol=1e-6)


@pytest.mark.parametrize(("target", "hung"), [(28.416, 28.0), (29.518, 30.0), (16.48, 16.0), (17.71, 18.0)])
def test_the_rack_holds_the_pieces_that_a_search_over_all_choices_finds(target: float, hung: float) -> None:
    """Brute force over every count per end of pieces of 2, 3 and 5 kg (8, 8 and 16 in the rack, so half per end)."""
    sums = {2 * a + 3 * b + 5 * c for a, b, c in itertools.product(range(5), range(5), range(9))}
    assert min((2 * end for end in sums), key=lambda mass: abs(mass - target)) == hung


def test_no_piece_is_planned_for_both_bars() -> None:
    for name in ("change-roll", "web-break"):
        splits = [c for c in procedure_of(name).calculations if isinstance(c, Split)]
        assert [split.rack for split in splits] == ["unwind_rack", "rewind_rack"]
        assert {split.ends for split in splits} == {2}
