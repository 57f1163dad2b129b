"""The procedure that the reference shows whole: small, and with nearly every word of the language in it.

Every worked example of a key is tried out by putting it into this text, so the names that examples use are defined here.
Press, people and numbers are invented.
"""

from runner.procedure.language.site import HASH

PROCEDURE_PATH = "change-roll.procedure.yaml"
PROCEDURE_TEXT = """\
# yaml-language-server: $schema=../schemas/procedure.schema.json
format: 1
id: change-roll
title: Change the substrate roll
revision: 4
status: draft
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: New roll threaded, tension set, first good metre made
changes:
  - {revision: 4, date: 2026-11-20, why: The rack has 2.5 kg pieces now., retrain: read}
people:
  unwind: Operator, unwind side
  rewind: Operator, rewind side
  lead: Shift lead
tools: [Core knife, Sensor key, Tape]
references: [Crane manual of Line 3]

cautions:
  hanging-load:
    signal: danger
    hazard: A roll on the crane can fall or swing.
    harm: Crushing.
    avoid: Stay clear of the drop zone.
  torn-edge:
    signal: notice
    hazard: A web fed askew tears at its edge.
    avoid: Feed in creep speed only.

inputs:
  web_width: {ask: Web width, unit: mm, within: [400, 1300], likely: [900, 1300]}
  tension: {ask: Web tension per width, unit: N/m, within: [60, 400], why: Sets the pull on the tension bar.}
  roll_od: {ask: Outer diameter of the new roll, unit: mm, within: [200, 1200]}
  core_od: {ask: Outer diameter of its core, unit: mm, within: [76, 180]}
  caliper: {ask: Substrate thickness, unit: um, within: [12, 400]}
  grammage: {ask: Substrate grammage, unit: g/m^2, within: [10, 350]}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
  roll_number: {ask: Number on the roll label}

tables:
  wanted_tension:
    columns: {substrate: text, low: N/m, high: N/m}
    rows:
      - [kraft paper, 90, 260]
      - [BOPP film, 60, 120]

pieces:
  rack: {unit: kg, stock: {"1": 8, "2.5": 8, "5": 6}}

web_paths:
  unwind:
    rollers:
      - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
      - {roller: entry idler, at: [900 mm, 300 mm], diameter: 100 mm, pass: under}
      - {roller: tension bar, at: [1250 mm, 700 mm], diameter: 120 mm, pass: over, moves: vertical, travel: [-250 mm, 200 mm]}
      - {roller: exit idler, at: [1600 mm, 300 mm], diameter: 100 mm, pass: under}

states:
  unwind_drive: {of: [stopped, creeping, automatic], at_end: automatic}
  unwind_guard: {of: [open, closed], at_end: closed, label: Guard of the unwind}
  crane: {of: [free, carrying], at_end: free, one_owner: true, keeps: true}

calculations:
  web_length:
    formula: pi * (roll_od^2 - core_od^2) / (4 * caliper)
    unit: m
    rough: {formula: roll_od^2 / caliper * 3 / 4, within: 20 %}
    example: {given: {roll_od: 1000 mm, core_od: 152 mm, caliper: 100 um}, gives: 7673 m, within: 1 m}
    why: The web is as long as the ring's area divided by the thickness.
  roll_mass: {formula: grammage * web_width * web_length, unit: kg, limit: "<= 800 [kg]"}
  bar_pull: {formula: "tension * web_width * bar_factor(unwind, 'tension bar')", unit: N}
  bar_mass: {formula: "bar_pull / g_n - 3.2 [kg]", unit: kg, limit: ">= 0 [kg]", round: nearest 0.5 kg}
  bar_pieces: {split: bar_mass, from: rack, ends: 2, within: 0.5 kg, gives: tension, release: lead}
  feed: {formula: path_length(unwind) + 2 * pi * core_od, unit: m}
  most_tension: {formula: "lookup(wanted_tension, substrate, high)", unit: N/m}

make_safe:
  - {do: Press the emergency stop., makes: {unwind_drive: stopped}}
  - {do: Keep everybody away from the unwind.}

phases:
  - phase: Make safe
    press: running
    steps:
      - {id: unwind-off, by: unwind, do: Set the unwind speed to zero., makes: {unwind_drive: stopped}}
      - id: open-unwind-guard
        by: unwind
        needs: {unwind_drive: stopped}
        do: Open the unwind guard.
        makes: {unwind_guard: open}

  - phase: Load the roll
    park: after
    make_safe:
      - {do: Lower the roll to the floor., makes: {crane: free}}
      - {do: Press the emergency stop., makes: {unwind_drive: stopped}}
    steps:
      - id: check-label
        by: unwind
        do: Compare the label on the core with the ticket.
        scan: {roll_label: {ask: Label on the core, match: roll_number, else: wrong-roll}}
        choose:
          roll_substrate: {ask: Substrate on the label, of: [kraft paper, BOPP film], match: substrate, else: wrong-roll}
          winding: {ask: Winding direction, of: [print side out, print side in], accept: [print side out], else: wrong-roll}
        second: {by: lead, how: independent}
        trouble:
          - {id: wrong-roll, sign: The roll is not the one on the ticket, do: "Send it back and fetch roll {roll_number}.", back_to: check-label}
      - id: fetch-crane
        by: unwind
        do: Bring the empty crane over the roll.
        makes: {crane: free}
        trouble:
          - {sign: The crane is faulty, do: Lock the crane., then: stop, blocking: true}
      - id: lift
        by: unwind
        cautions: [hanging-load]
        needs: {unwind_drive: stopped, unwind_guard: open, crane: free}
        makes: {crane: carrying}
        when: roll_mass > 25 [kg]
        hold:
          release: lead
          confirm: [Both chucks are open, Drop zone is clear, Winding direction matches the ticket]
          protects: Chuck latch
        do: Lift the roll of {roll_mass:.0f} into the chucks.
        why: More than 25 kg is no lift for one person.
        explain: A roll that hangs in one chuck tips. Both chucks must carry it before the hook is slack.
        expect: 6 min
        trouble:
          - {sign: The roll swings, do: Lower it to the floor and unhook it., back_to: fetch-crane}
      - id: unhook
        by: unwind
        when: roll_mass > 25 [kg]
        needs: {crane: carrying}
        do: Unhook the crane.
        makes: {crane: free}
      - id: core-pressure
        by: unwind
        do: Inflate the core chuck.
        read: {core_pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7], likely: [6, 6.5], else: leak}}
        wait: {at_least: 30 s, at_most: 5 min}
        repeat: {until: "core_pressure >= 6 [bar]", at_most: 3, else: leak}
        trouble:
          - {id: leak, sign: The pressure falls, do: "Bleed the chuck of {core_pressure:.1f}.", back_to: core-pressure}
      - id: hang-pieces
        by: unwind
        do: Hang {bar_pieces:.1f} on the tension bar, half at each end.
        read:
          bar_gap: {ask: Gap under the bar, unit: mm, at_least: 5, else: bar-low}
        trouble:
          - {id: bar-low, sign: The bar hangs too low, do: Take the pieces off and lift the bar., back_to: hang-pieces}
      - id: wipe-bar
        by: unwind
        optional: reason
        do: Wipe the tension bar.

  - phase: Thread both sides
    together:
      unwind:
        - id: thread-unwind
          cautions: [torn-edge]
          needs: {unwind_drive: stopped}
          do: Thread the unwind side and feed {feed:.1f}, or {feed:.0f ft}.
          thread: unwind
          advance: feed
      rewind:
        - {id: wipe-rewind, do: Wipe the idlers of the rewind., optional: lead}

  - phase: Close and run
    park: throughout
    steps:
      - {use: close-side.fragment.yaml, with: {side: unwind}}
      - {id: creep, by: unwind, needs: {unwind_guard: closed}, do: Start at creep speed., makes: {unwind_drive: creeping}}
      - id: automatic
        by: unwind
        needs: {unwind_guard: closed, unwind_drive: creeping}
        do: Go to automatic and keep the tension below {most_tension:.0f}.
        makes: {unwind_drive: automatic}
"""

FRAGMENT_PATH = "close-side.fragment.yaml"
FRAGMENT_TEXT = """\
fragment: 1
id: close-side
title: Close one side
parameters: [side]
steps:
  - id: close-<side>-guard
    by: <side>
    do: Close the <side> guard.
    makes: {<side>_guard: closed}
"""

JOB_TEXT = """\
job: 1
procedure: change-roll
crew: {unwind: Ana Berg, rewind: Tom Lind, lead: Eva Roth}
inputs:
  web_width: 1250 mm
  tension: 120
  roll_od: 1000
  core_od: 152
  caliper: 100
  grammage: 80
  substrate: kraft paper
  roll_number: R-20417
"""

SITE_TEXT = f"""\
# yaml-language-server: $schema=../schemas/site.schema.json
site: 1
unknown: allowed
motion: {{distance: 20 mm, speed: 0.8 m/min, source: "Risk assessment of Line 3, sheet 4", date: 2026-05-04}}
people:
  - name: Eva Roth
    roles: [lead]
    pin: "{HASH}"
  - name: Ana Berg
    roles: [unwind, rewind]
    qualified: {{change-roll: 2027-06-30}}
    pin: "{HASH}"
needs_qualification: tell
pieces:
  rack: {{unit: kg, stock: {{"1": 6, "2.5": 8, "5": 6}}, counted: 2026-11-24}}
gear:
  crane: {{label: Crane of Line 3, rating: 1000 kg, inspected: 2026-09-14, until: 2027-09-14}}
  lifting_beam: {{rating: 900 kg, inspected: 2026-09-14, until: 2027-09-14}}
park_within: 90 min
shift_ends: ["06:00", "14:00", "22:00"]
"""

ANSWERS_TEXT = """\
answers: 1
procedure: change-roll
steps:
  - step: check-label
    answers: {roll_label: R-20417, roll_substrate: kraft paper, winding: print side out}
  - step: lift
    before:
      - {note: Hook latch is stiff, kind: equipment, severity: minor}
  - step: core-pressure
    answers: {core_pressure: [8.5, 6.2]}
  - step: hang-pieces
    answers: {bar_gap: 12}
    after:
      - {pause: Thread both sides}
      - {resume: true}
      - {look: {unwind_drive: stopped, unwind_guard: open}}
  - step: wipe-bar
    leave_out: Done by the night shift
  - step: thread-unwind
    answers: {thread_unwind_fed: 9.5}
"""
