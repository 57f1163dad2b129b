"""The trade's formulas a second time, written from the books over mpmath numbers, as judges of values and bounds.

Letters are those of the handbooks: D and d outside and inside, L length, t thickness, W load, F force, q an angle.
"""
# ruff: noqa: N803, E741  # handbook letters read better here than words

from collections.abc import Callable
from typing import Any

import mpmath as m

G = m.mpf("9.80665")

JUDGES: dict[str, Callable[..., Any]] = {
    "roll_length": lambda D, d, t: m.pi * (D**2 - d**2) / (4 * t),
    "roll_diameter": lambda L, d, t: m.sqrt(d**2 + 4 * t * L / m.pi),
    "roll_diameter_after": lambda D, x, d, t: m.sqrt(d**2 + 4 * t * (m.pi * (D**2 - d**2) / (4 * t) - x) / m.pi),
    "roll_turns": lambda D, d, t: (D / 2 - d / 2) / t,
    "roll_caliper": lambda L, D, d: m.pi * ((D / 2) ** 2 - (d / 2) ** 2) / L,
    "roll_length_left": lambda L, D, x, d: L * (x**2 - d**2) / (D**2 - d**2),
    "roll_mass_by_grammage": lambda g, w, L: g * w * L,
    "roll_mass_by_density": lambda r, w, D, d: r * w * m.pi * ((D / 2) ** 2 - (d / 2) ** 2),
    "tube_mass": lambda D, d, L, r: r * L * m.pi * ((D / 2) ** 2 - (d / 2) ** 2),
    "disagreement": lambda a, b: abs(a - b) / max(a, b) if max(a, b) else m.mpf(0),
    "length_for_job": lambda L, w, once, n, s: L / (1 - w) + once + n * s,
    "reel_width_tolerance": lambda w: sorted((m.mpf("0.002"), w * m.mpf("0.005"), m.mpf("0.003")))[1],
    "wrap_pull": lambda F, q, k=1: k * F * m.hypot(1 - m.cos(q), m.sin(q)),
    "mass_to_hang": lambda R, mass, F=0: (R - F) / G - mass,
    "mass_on_lever": lambda R, a, b, M=0: (R * a - M) / G / b,
    "tension_of_mass": lambda mass, q, F=0, k=1: (mass * G + F) / k / m.hypot(1 - m.cos(q), m.sin(q)),
    "cylinder_push": lambda p, D: p * m.pi * (D / 2) ** 2,
    "cylinder_pull": lambda p, D, d: p * m.pi * ((D / 2) ** 2 - (d / 2) ** 2),
    "capstan": lambda mu, q: m.exp(mu * q),
    "torque_to_hold": lambda F, D: F * D / 2,
    "turning_speed": lambda v, D: v / (m.pi * D) * 2 * m.pi,
    "roll_inertia": lambda mass, D, d: mass * ((D / 2) ** 2 + (d / 2) ** 2) / 2,
    "turning_energy": lambda J, w: J * w**2 / 2,
    "torque_to_stop": lambda J, w, t: J * w / t,
    "time_to_stop": lambda J, w, M: J * w / M,
    "web_to_stop": lambda v, t: v * t / 2,
    "taper_constant_torque": lambda T, r: T / r,
    "taper_hyperbolic": lambda T, q, r: T * (1 - q + q / r),
    "taper_linear": lambda T, q, r, full: T - T * q * (r - 1) / (full - 1),
    "leg_load": lambda W, n, q: W / min(n, 3) / m.cos(m.pi / 2 - q),
    "leg_load_by_height": lambda W, n, L, H: W / min(n, 3) * L / H,
    "sling_capacity": lambda R, n, q: R * min(n, 3) * m.cos(m.pi / 2 - q),
    "reserve_on_hook": lambda W, *ratings: min(R - W for R in ratings),
    "load_on_beam_end": lambda W, a, b: W * b / (a + b),
    "spreader_push": lambda W, q: W * G / 2 * m.cos(q) / m.sin(q),
    "tube_second_moment": lambda D, d: m.pi / 4 * ((D / 2) ** 4 - (d / 2) ** 4),
    "sag_between_ends": lambda W, c, L, E, I: W * (8 * L**3 - 4 * L * c**2 + c**3) / (384 * E * I),
    "sag_of_cantilever": lambda W, L, E, I: W * L**3 / (8 * E * I),
    "torque_of_chuck": lambda F, n, mu, d: mu * F * n * (d / 2),
}  # fmt: skip
"""Each formula once more, over mpmath numbers."""
