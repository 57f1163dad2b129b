"""Cores, shafts and chucks, from `runner.trade`: their formulas, ranges and sources stand beside the arithmetic there."""

from runner.formula.dimension import ENERGY, FORCE, LENGTH, NUMBER, PRESSURE, SECOND_MOMENT
from runner.formula.functions.row import Function, Parameter, corners, gives, row
from runner.trade import friction, stiffness

FORCE_ON_SHAFT = Parameter("force", "number", FORCE)
MODULUS = Parameter("modulus", "number", PRESSURE)
MOMENT = Parameter("second_moment", "number", SECOND_MOMENT)

SHAFTS: tuple[Function, ...] = (
    row(
        "tube_second_moment",
        (Parameter("outer", "number", LENGTH), Parameter("inner", "number", LENGTH)),
        kind=gives(SECOND_MOMENT),
        value=stiffness.tube_second_moment,
        bounds=corners(stiffness.tube_second_moment),
        doc="Second moment of area of a core or a shaft against bending; inner 0 for a solid bar.",
        example="tube_second_moment(76 [mm], 60 [mm])",
    ),
    row(
        "sag_between_ends",
        (
            FORCE_ON_SHAFT,
            Parameter("loaded", "number", LENGTH),
            Parameter("span", "number", LENGTH),
            MODULUS,
            MOMENT,
        ),
        kind=gives(LENGTH),
        value=stiffness.sag,
        bounds=corners(stiffness.sag),
        doc="Sag of a shaft on two ends under a load spread over its middle: over the whole span, a part of it, or one point (0 m).",
        example="sag_between_ends(roll_mass * g_n, web_width, 1.6 [m], 200 [GPa], tube_second_moment(76 [mm], 60 [mm]))",
    ),
    row(
        "sag_of_cantilever",
        (FORCE_ON_SHAFT, Parameter("length", "number", LENGTH), MODULUS, MOMENT),
        kind=gives(LENGTH),
        value=stiffness.cantilever_sag,
        bounds=corners(stiffness.cantilever_sag),
        doc="Sag at the free end of a shaft that is held at one end, its load spread over its length.",
        example="sag_of_cantilever(roll_mass * g_n, 1.6 [m], 200 [GPa], tube_second_moment(76 [mm], 60 [mm]))",
    ),
    row(
        "torque_of_chuck",
        (
            Parameter("leaf_force", "number", FORCE),
            Parameter("leaves", "number", NUMBER),
            Parameter("friction", "number", NUMBER),
            Parameter("bore", "number", LENGTH),
        ),
        kind=gives(ENERGY),
        value=friction.chuck_torque,
        bounds=corners(friction.chuck_torque),
        doc="Torque that the leaves of an expanding chuck hold by friction in the bore of a core; hold it against torque_to_hold.",
        example="torque_of_chuck(900 [N], 6, 0.2, 76 [mm]) - torque_to_hold(tension * web_width, roll_od)",
    ),
)
