"""Rules about formulas whose dimensions fit and whose numbers are wrong all the same.

An angle is taken out of a speed of rotation by hand, and turns and radians are 6.28 apart; no dimension tells them.
"""

from collections.abc import Iterator

from runner.formula.dimension import ROTATION, SPEED
from runner.formula.expr import Arithmetic, Expr, Name, Negate, Number, nodes
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity


@rule(Severity.WARNING)
def radian_of_circumference(analysis: Analysis) -> Iterator[Remark]:
    """A speed of rotation is taken with pi, as a circumference, and by the radian.

    Why: a roller runs off its circumference, pi * diameter, in a turn, and its radius in a radian. Mixed, the speed is wrong by 6.28,
    and no unit shows it.
    Source: circular motion, v = omega * r = pi * d * n (any machine design handbook, from memory); NIST SP 811, B.8, for rpm.

    Wrong:
        inputs:
          turning: {ask: Speed of the roller, unit: rpm, within: [10, 600]}
          roller_od: {ask: Diameter of the roller, unit: mm, within: [80, 300]}
        calculations:
          web_speed:
            formula: turning * pi * roller_od / 1 [rad]  # here
            unit: m/min
            limit: "<= 4000 [m/min]"
            example: {given: {turning: 100 rpm, roller_od: 100 mm}, gives: 197.39 m/min, within: 0.1 m/min}
    Right:
        inputs:
          turning: {ask: Speed of the roller, unit: rpm, within: [10, 600]}
          roller_od: {ask: Diameter of the roller, unit: mm, within: [80, 300]}
        calculations:
          web_speed:
            formula: turning * pi * roller_od / 1 [turn]
            unit: m/min
            limit: "<= 600 [m/min]"
            example: {given: {turning: 100 rpm, roller_od: 100 mm}, gives: 31.42 m/min, within: 0.1 m/min}
    """
    units = {given.name: given.unit for given in analysis.procedure.inputs}
    units |= {worked.name: worked.unit for worked in analysis.calculations}
    units |= {ask.name: ask.unit for step in analysis.steps for ask in step.asks}
    dimensions = {name: unit.dimension for name, unit in units.items() if unit is not None}
    for worked in analysis.calculations:
        for product in nodes(worked.formula):
            if not isinstance(product, Arithmetic) or product.op not in ("*", "/"):
                continue
            over, under = factors(product, True), factors(product, False)
            turned = any(isinstance(part, Name) and dimensions.get(part.id) == ROTATION for part in over)
            moved = any(isinstance(part, Name) and dimensions.get(part.id) == SPEED for part in over)
            if (turned and has_pi(over) and has_radian(under)) or (moved and has_pi(under) and has_radian(over)):
                yield Remark(
                    analysis.within(worked.place, "formula"),
                    f"`{worked.name}` takes a circumference (pi) by the radian, which is wrong by 2 pi",
                    "Write 1 [turn] where pi * diameter stands, 1 [rad] where a radius stands.",
                )
                break


def factors(expr: Expr, over: bool) -> list[Expr]:
    """The factors of a product that stand over the line, or those under it."""
    match expr:
        case Negate():
            return factors(expr.operand, over)
        case Arithmetic(op="*"):
            return factors(expr.left, over) + factors(expr.right, over)
        case Arithmetic(op="/"):
            return factors(expr.left, over) + factors(expr.right, not over)
        case _:
            return [expr] if over else []


def has_pi(parts: list[Expr]) -> bool:
    """Whether pi is among the factors."""
    return any(isinstance(part, Name) and part.id == "pi" for part in parts)


def has_radian(parts: list[Expr]) -> bool:
    """Whether a number of radians is among the factors."""
    return any(isinstance(part, Number) and part.unit in ("rad", "mrad") for part in parts)
