"""The part of the reference on scenarios, with a scenario for the procedure that the reference shows whole."""

SCENARIO_PATH = "leaking-core.scenario.yaml"
SCENARIO_TEXT = """\
scenario: 1
id: leaking-core
procedure: change-roll
file: change-roll.procedure.yaml
title: Mount the new roll
purpose: A leak is found before the roll turns.
trainee: unwind
level: simulate
inputs:
  web_width: 1250 mm
  tension: 150 N/m
  roll_od: 1000 mm
  core_od: 152 mm
  caliper: 100 um
  grammage: 80 g/m^2
  substrate: kraft paper
  roll_number: KP-2047-03
crew: {unwind: Trainee, rewind: Partner, lead: Coach}
shows:
  core_pressure: {value: 6.2 bar, gauge: [0, 10]}
faults:
  - id: chuck-leaks
    kind: equipment
    at: core-pressure
    words: Air hisses at the operator side.
    shows: {core_pressure: {value: [4.8 bar, 6.1 bar], gauge: [0, 10]}}
    right: [{trouble: leak}, {out: core_pressure}, {note: equipment}]
    unsafe: [{answer: core_pressure}]
    hints: [Listen at the chuck., Read the gauge again., Type the pressure as it stands.]
questions:
  - id: why-pressure
    at: core-pressure
    ask: Why is the pressure read before anything turns?
    listen_for: [An empty chuck lets the core slip or fall]
criteria:
  - {id: leak-found, words: Finds a leak at the gauge., answered: chuck-leaks}
  - {id: reasons, words: Says why the pressure is read., explained: why-pressure}
  - {id: safe, words: Does nothing unsafe., safe: true}
"""

SCENARIOS = """\
## Scenarios

A scenario `*.scenario.yaml` is a dry run for training or assessment: `changeover dry-run PROCEDURE --scenario FILE`. It has the job,
what the simulated equipment shows, what goes wrong on purpose, and what counts as right and as unsafe. Nothing of it
ever reaches a press: a live run takes no scenario, and the record of a dry run is kept apart.

**What is shown.** Where a step asks, the trainee reads a drawn dial gauge or a card and types what stands there. What the
scenario does not say shows what is in order: the middle of the limits, the accepted answer, the text that must match.

**Faults** come as soon as their step is up. Until the right response the person of an `absent` role does nothing, and the acts
under `unsafe` are unsafe; one of them ends an assessment. A fault shows what it has until it was answered and its step
begins anew. At a `power-cut` the terminal goes dark: the run is resumed, and nothing is taken for what it was. Of the
faults that are `seeded`, `draw` many come, drawn by `--seed`; the same seed draws the same.

**Hints** have three levels, a reminder, the key points, showing it; each one taken is on record. Questions are asked and judged
by the coach. With `--assess --trainee NAME --coach NAME` there are no hints, and all criteria are shown
beforehand, those of faults that are not drawn as well.
`changeover assess RUN` gives the result with the lines of the record that show it; `--sign` enters the level into the
register of qualifications beside the site file.

**Lint** holds a scenario against its procedure and walks through it with its job: every fault can occur, every response exists
where it is looked for, and what is shown without a fault is in order.
"""
