"""The procedure that the tests of this folder ask: small, with one of each sort of value."""

from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.report.working.given import JOB_FILE, Given, take
from runner.report.working.sweep import Sweep, read_sweep
from runner.report.working.swept import Swept, sweep_out

TEXT = """\
format: 1
id: bench
title: Bench
revision: 3
equipment: Line 3
purpose: Try the arithmetic
people: {unwind: Operator}
inputs:
  roll_od: {ask: Outer diameter, unit: mm, within: [200, 1200]}
  core_od: {ask: Core, unit: mm, within: [76, 180]}
  caliper: {ask: Thickness, unit: um, within: [12, 400]}
  oven: {ask: Oven, unit: degC, within: [20, 120]}
  free_speed: {ask: Speed, unit: m/min}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
  ticket: {ask: Ticket}
tables:
  most: {columns: {substrate: text, high: mm}, rows: [[kraft paper, 1100], [BOPP film, 900]]}
pieces:
  rack: {unit: kg, stock: {"1": 4, "5": 4}}
calculations:
  web_length: {formula: pi * (roll_od^2 - core_od^2) / (4 * caliper), unit: m}
  wound: {formula: roll_od, unit: mm, limit: "<= lookup(most, substrate, high)"}
  steps: {formula: "roll_od * 1 [kg/m]", unit: kg, round: nearest 0.1 kg, limit: "<= 1 [kg]"}
  share: {formula: "1 [m^2] / (roll_od - 600 [mm])", unit: m}
  after: {formula: 2 * share, unit: m}
  wanted: {formula: "roll_od * 20 [kg/m]", unit: kg}
  hung: {split: wanted, from: rack, ends: 2, within: 1 kg}
  warm: {formula: oven, unit: degC}
  length_left: {formula: web_length - counter, unit: m}
  apart: {formula: "2 [m]", unit: m}
phases:
  - phase: One
    steps:
      - {id: count, by: unwind, do: Read the counter., read: {counter: {ask: Counter, unit: m}}}
      - {id: look, by: unwind, do: Look at the side., choose: {side: {ask: Which side, of: [left, right]}}}
      - {id: show, by: unwind, do: "Say {length_left:.0f}, {warm:.0f}, {apart:.0f}, {hung}, {after:.0f}, {steps:.0f}, {wound:.0f}."}
"""

JOB = {"roll_od": "1000 mm", "core_od": "76 mm", "caliper": "104 um", "oven": "60 degC", "substrate": "kraft paper"}


def procedure() -> Procedure:
    """The bench, compiled."""
    compiled = compile_procedure(TEXT, "bench.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


BENCH = procedure()


def given(**typed: str) -> dict[str, Given]:
    """Values of the bench's job, some of them other."""
    found = take(BENCH, {name: (text, JOB_FILE) for name, text in {**JOB, **typed}.items()})
    assert not isinstance(found, str), found
    return found


def sweep(text: str, points: int | None = None) -> Sweep:
    """A sweep that is understood."""
    found = read_sweep(BENCH, text, points)
    assert isinstance(found, Sweep), found
    return found


def swept(text: str, *picked: str) -> Swept:
    """The bench's job swept."""
    asked = sweep(text)
    others = {name: one for name, one in given().items() if name != asked.source.name}
    found = sweep_out(BENCH, others, asked, picked)
    assert isinstance(found, Swept), found
    return found
