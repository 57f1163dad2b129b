"""Brakes, stops and winding taper, from `runner.trade`: their formulas, ranges and sources stand beside the arithmetic there."""

from runner.formula.dimension import ENERGY, INERTIA, LENGTH, MASS, NUMBER, ROTATION, SPEED, TIME
from runner.formula.functions.bars import FORCE_OF_WEB, web_tension
from runner.formula.functions.row import Function, Given, Misfit, Parameter, corners, gives, row
from runner.formula.interval import Interval, Possible, absolute
from runner.formula.kinds import Kind
from runner.trade import brake, taper

DIAMETER = Parameter("diameter", "number", LENGTH)
ROLL_INERTIA = Parameter("inertia", "number", INERTIA)
TURNING = Parameter("turning", "number", ROTATION)
WEB_SPEED = Parameter("speed", "number", SPEED)
A_TIME = Parameter("time", "number", TIME)
START = Parameter("start", "number")
TAPER = Parameter("taper", "number", NUMBER)
RATIO = Parameter("ratio", "number", NUMBER)


def winding_tension(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of a taper: a tension in total or per width comes out as it went in."""
    return web_tension(given[0], 0) or given[0].kind


def turning_energy_bounds(inertia: Interval, turning: Interval) -> Possible:
    """Rises with the speed either way round, so the corners are those of its size."""
    return corners(brake.turning_energy)(inertia, absolute(turning))


BRAKES: tuple[Function, ...] = (
    row(
        "torque_to_hold",
        (FORCE_OF_WEB, DIAMETER),
        kind=gives(ENERGY),
        value=brake.brake_torque,
        bounds=corners(brake.brake_torque),
        doc="Brake torque that holds this total tension at the outside of a roll; ask for the full roll and for its core.",
        example="torque_to_hold(tension * web_width, roll_od)",
    ),
    row(
        "turning_speed",
        (WEB_SPEED, DIAMETER),
        kind=gives(ROTATION),
        value=brake.turning_speed,
        bounds=corners(brake.turning_speed),
        doc="Speed of rotation of a roll or roller that runs with the web.",
        example="turning_speed(200 [m/min], roll_od)",
    ),
    row(
        "roll_inertia",
        (Parameter("mass", "number", MASS), Parameter("outer", "number", LENGTH), Parameter("core", "number", LENGTH)),
        kind=gives(INERTIA),
        value=brake.roll_inertia,
        bounds=corners(brake.roll_inertia),
        doc="Moment of inertia of a roll about its axis, from its mass and its diameters.",
        example="roll_inertia(roll_mass, roll_od, core_od)",
    ),
    row(
        "turning_energy",
        (ROLL_INERTIA, TURNING),
        kind=gives(ENERGY),
        value=brake.turning_energy,
        bounds=turning_energy_bounds,
        doc="Energy in a turning roll, which its brake takes up as heat in a stop.",
        example="turning_energy(roll_inertia(roll_mass, roll_od, core_od), 60 [rpm])",
    ),
    row(
        "torque_to_stop",
        (ROLL_INERTIA, TURNING, A_TIME),
        kind=gives(ENERGY),
        value=brake.stopping_torque,
        bounds=corners(brake.stopping_torque),
        doc="Brake torque that stops a roll in this time, on top of what holds the tension.",
        example="torque_to_stop(roll_inertia(roll_mass, roll_od, core_od), 60 [rpm], 10 [s])",
    ),
    row(
        "time_to_stop",
        (ROLL_INERTIA, TURNING, Parameter("torque", "number", ENERGY)),
        kind=gives(TIME),
        value=brake.stopping_time,
        bounds=corners(brake.stopping_time),
        doc="Time in which this torque, beside what holds the tension, stops a roll.",
        example="time_to_stop(roll_inertia(roll_mass, roll_od, core_od), 60 [rpm], 50 [Nm])",
    ),
    row(
        "web_to_stop",
        (WEB_SPEED, A_TIME),
        kind=gives(LENGTH),
        value=brake.stopping_length,
        bounds=corners(brake.stopping_length),
        doc="Web that runs out during an even stop from this speed.",
        example="web_to_stop(200 [m/min], 10 [s])",
    ),
    row(
        "taper_constant_torque",
        (START, RATIO),
        kind=winding_tension,
        value=taper.constant_torque,
        bounds=corners(taper.constant_torque),
        doc="Winding tension under one torque, by the ratio of the diameter now to that at the start.",
        example="taper_constant_torque(tension, roll_od / core_od)",
    ),
    row(
        "taper_hyperbolic",
        (START, TAPER, RATIO),
        kind=winding_tension,
        value=taper.hyperbolic,
        bounds=corners(taper.hyperbolic),
        doc="Winding tension `start * (1 - taper * (1 - 1 / ratio))`, between constant tension (taper 0) and constant torque (taper 1).",
        example="taper_hyperbolic(tension, 25 [%], roll_od / core_od)",
    ),
    row(
        "taper_linear",
        (START, TAPER, RATIO, Parameter("full_ratio", "number", NUMBER)),
        kind=winding_tension,
        value=taper.linear,
        bounds=corners(taper.linear),
        doc="Winding tension `start * (1 - taper * (ratio - 1) / (full_ratio - 1))`, which falls evenly to the full roll.",
        example="taper_linear(tension, 25 [%], 600 [mm] / core_od, roll_od / core_od)",
    ),
)
