"""Writes procedures of any length for measuring: valid, with nothing for lint to find above a note, and the same every time.

Every kind of key occurs about as often as in a real procedure; 60 steps make some 17 kB.
"""

HEAD = """\
# Written for measuring, {count} steps
format: 1
id: measured-{count}
title: Change the substrate roll, unwind and rewind
revision: 1
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: New roll threaded, tension set, first good metre made

people:
  unwind: Operator, unwind side
  rewind: Operator, rewind side
  lead: Shift lead

cautions:
  hanging-load:
    signal: danger
    hazard: A roll on the crane can fall or swing.
    harm: Crushing.
    avoid: Stand clear of the drop zone.

inputs:
  web_width: {{ask: Web width, unit: mm, within: [400, 1300]}}
  tension:   {{ask: Web tension, unit: N/m, within: [60, 400]}}
  roll_od:   {{ask: Outer diameter of the new roll, unit: mm, within: [250, 1200]}}
  core_od:   {{ask: Outer diameter of its core, unit: mm, within: [76, 180]}}
  caliper:   {{ask: Substrate thickness, unit: um, within: [12, 400]}}
  grammage:  {{ask: Substrate grammage, unit: g/m^2, within: [10, 350]}}

states:
  unwind_drive: {{of: [stopped, automatic], at_start: unknown, at_end: automatic}}
  unwind_guard: {{of: [open, closed], at_start: unknown, at_end: closed}}

calculations:
  length_on_roll:
    formula: pi * (roll_od^2 - core_od^2) / (4 * caliper)
    unit: m
    example: {{given: {{roll_od: 1000 mm, core_od: 152 mm, caliper: 100 um}}, gives: 7673 m, within: 1 m}}
  roll_mass:
    formula: grammage * web_width * length_on_roll
    unit: kg
    limit: "<= 43000 [kg]"
    example:
      given: {{grammage: 80 g/m^2, web_width: 1250 mm, roll_od: 1000 mm, core_od: 152 mm, caliper: 100 um}}
      gives: 767.3 kg
      within: 0.1 kg
  bar_mass:
    formula: tension * web_width * 2 / g_n
    unit: kg
    example: {{given: {{tension: 200 N/m, web_width: 1250 mm}}, gives: 50.99 kg, within: 0.01 kg}}

make_safe:
  - {{do: Press the stop button of the unwind., makes: {{unwind_drive: stopped}}}}

phases:
"""

FIRST = """\
      - {id: stop-unwind, by: unwind, do: Set the unwind speed to zero., makes: {unwind_drive: stopped}}
      - {id: open-guard, by: unwind, do: Open the unwind guard., needs: {unwind_drive: stopped}, makes: {unwind_guard: open}}
"""

LAST = """\
      - {id: close-guard, by: unwind, do: Close the unwind guard., makes: {unwind_guard: closed}}
      - {id: start-unwind, by: unwind, do: Set the unwind to automatic., needs: {unwind_guard: closed}, makes: {unwind_drive: automatic}}
      - {id: say-complete, by: lead, do: Say "roll change complete" to the crew.}
"""


def step(number: int) -> str:
    """One step; every key comes with a stride of its own."""
    lines = [
        f"      - id: step-{number}",
        f"        by: {('unwind', 'rewind')[number % 2]}",
        f"        do: Move bar {number % 9 + 1} to the mark at {{bar_mass:.1f}}.",
    ]
    if number % 2:
        lines.append("        needs: {unwind_drive: stopped, unwind_guard: open}")
    if number % 4 == 0:
        lines += [
            "        cautions: [hanging-load]",
            "        why: Above 25 kg a person does not lift alone.  # engineer's remark",
        ]
    if number % 4 == 0 and number % 5:
        lines.append("        second: {by: lead, how: together}")
    if number % 5 == 0:
        lines += [
            "        hold:",
            "          release: lead",
            '          confirm: [Both chucks are open, Drop zone is clear, "Winding direction: as the ticket says"]',
            "          protects: Chuck latch",
        ]
    if number % 6 == 0:
        lines += [
            "        read:",
            f"          pressure_{number}: {{ask: Pressure, unit: bar, within: [5.5, 7], else: leak}}",
        ]
        lines += ["        trouble:", "          - {id: leak, sign: The chuck leaks, do: Bleed the chuck., then: stop}"]
    if number % 7 == 0:
        lines += ["        when: roll_mass > 25 [kg]", "        expect: 1 min"]
    return "\n".join(lines) + "\n"


def procedure(count: int) -> str:
    """A procedure with so many steps, at least 5."""
    out = [HEAD.format(count=count)]
    for number in range(count - 5):
        if number % 20 == 0:
            out.append(f"  - phase: Part {number // 20 + 1}\n    press: stopped\n    park: after\n    steps:\n")
        if number == 0:
            out.append(FIRST)
        out.append(step(number))
    return "".join(out) + LAST
