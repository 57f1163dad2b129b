"""A bench whose pieces can miss what is wanted: 5 kg pieces for a bar whose mass is twice the tension over g_n."""

from dataclasses import replace

from .bench import Bench, compiled

TEXT = """
format: 1
id: bar
title: Tension bar
revision: 1
equipment: Line 3
purpose: Hang the bar
people: {unwind: Operator, rewind: Helper, lead: Shift lead}
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300]}
  tension: {ask: Web tension, unit: N/m, within: [1, 400]}
pieces:
  rack: {unit: kg, stock: {"5": 8, "1": 2}}
calculations:
  pull: {formula: 2 * tension * width, unit: N}
  bar_mass: {formula: pull / g_n, unit: kg}
  bar_pieces: {split: bar_mass, from: rack, ends: 2, within: 1 kg, gives: tension, release: lead}
  hook: {formula: "bar_pieces + 8 [kg]", unit: kg}
phases:
  - phase: Hang
    steps:
      - {id: fetch, by: unwind, do: Fetch the rack.}
      - id: load
        by: unwind
        do: "Load the bar: {bar_pieces}."
        read: {on_bar: {ask: Mass on the bar, unit: kg, within: ["bar_pieces - 0.1 [kg]", "bar_pieces + 0.1 [kg]"]}}
      - {id: tell, by: rewind, do: "Tell the crew that {hook} hang there."}
"""


def at_the_rack() -> Bench:
    """Begun with a web of 1.2 m; 150 N/m want 36.7098 kg, and the rack has 32 or 40 kg."""
    bench = Bench(compiled("", TEXT))
    bench.must(replace(bench.begin_intent(), inputs=(("width", "1200"), ("tension", "150"))))
    return bench
