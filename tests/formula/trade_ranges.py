"""Where the arguments of the trade's functions are drawn from in the laws of bounds, in SI, by the name of the function."""

from math import pi

OUTER, CORE, CALIPER, WIDTH = (0.2, 1.2), (0.05, 0.2), (1e-5, 4e-4), (0.4, 1.3)
FORCE, MASS, TENSION = (0.0, 5000.0), (0.0, 2000.0), (0.0, 400.0)
STEEP = (pi / 6, pi / 2)
LEGS = (1.0, 4.0)

TRADE_RANGES: dict[str, list[tuple[float, float]]] = {
    "roll_length": [OUTER, CORE, CALIPER],
    "roll_diameter": [(0, 20000), CORE, CALIPER],
    "roll_diameter_after": [(0.6, 1.2), (0, 600), CORE, CALIPER],
    "roll_turns": [OUTER, CORE, CALIPER],
    "roll_caliper": [(1, 20000), OUTER, CORE],
    "roll_length_left": [(0, 20000), (0.8, 1.2), (0.2, 0.8), CORE],
    "roll_mass_by_grammage": [(0.01, 0.35), WIDTH, (0, 20000)],
    "roll_mass_by_density": [(500, 1400), WIDTH, OUTER, CORE],
    "tube_mass": [(0.1, 0.3), (0.05, 0.1), (0, 2), (500, 8000)],
    "disagreement": [(0, 1000), (0, 1000)],
    "length_for_job": [(0, 20000), (0, 0.9), (0, 500), (0, 10), (0, 50)],
    "reel_width_tolerance": [(0.1, 1.3)],
    "wrap_pull": [(-100, 2000), (0, 2 * pi), (1, 5)],
    "mass_to_hang": [(-100, 2000), (0, 50), (-500, 500)],
    "mass_on_lever": [(-100, 2000), (0, 1), (0.1, 1), (-100, 100)],
    "tension_of_mass": [(0, 200), (0.1, 6.2), (-500, 500), (1, 5)],
    "cylinder_push": [(-1e5, 1e6), (0.01, 0.2)],
    "cylinder_pull": [(-1e5, 1e6), (0.05, 0.2), (0, 0.05)],
    "capstan": [(0, 1), (0, 20)],
    "web_slips": [TENSION, TENSION, (0, 0.6), (0, 2 * pi)],
    "torque_to_hold": [(-100, 5000), (0, 1.2)],
    "turning_speed": [(-5, 5), (0.05, 1.2)],
    "roll_inertia": [MASS, OUTER, CORE],
    "turning_energy": [(0, 200), (-50, 50)],
    "torque_to_stop": [(0, 200), (-50, 50), (0.5, 60)],
    "time_to_stop": [(0, 200), (-50, 50), (1, 500)],
    "web_to_stop": [(-5, 5), (0, 60)],
    "taper_constant_torque": [TENSION, (1, 10)],
    "taper_hyperbolic": [TENSION, (0, 1), (1, 10)],
    "taper_linear": [TENSION, (0, 1), (1, 5), (5, 10)],
    "leg_load": [MASS, LEGS, STEEP],
    "leg_load_by_height": [MASS, LEGS, (1, 1.4), (0.7, 1)],
    "sling_capacity": [MASS, LEGS, STEEP],
    "reserve_on_hook": [MASS, MASS, MASS, MASS],
    "load_on_beam_end": [MASS, (0, 2), (0.1, 2)],
    "spreader_push": [MASS, STEEP],
    "tube_second_moment": [(0.1, 0.3), (0, 0.1)],
    "sag_between_ends": [(-100, 10000), (0, 1.2), (1.2, 2), (1e9, 2e11), (1e-7, 1e-5)],
    "sag_of_cantilever": [(-100, 10000), (0, 2), (1e9, 2e11), (1e-7, 1e-5)],
    "torque_of_chuck": [FORCE, (1, 12), (0, 0.6), (0.05, 0.2)],
}
"""For each argument the least and the largest; every function has a value everywhere within."""

WHOLE: dict[str, int] = {
    "wrap_pull": 2,
    "tension_of_mass": 3,
    "leg_load": 1,
    "leg_load_by_height": 1,
    "sling_capacity": 1,
    "torque_of_chuck": 1,
}
"""The place of an argument that counts things, and is a whole number."""
