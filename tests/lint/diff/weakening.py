"""Edits of the roll change that each make it weaker in one way, with the kind of change that tells it."""

from tests.lint.diff.written import MAIN, Edit

WEAKENING = (
    Edit(
        "hold-confirmation",
        "            - Nobody stands in the drop zone\n          protects: Hoist brake and safety latch of the hook\n        do: Raise the roll by 100 mm.",
        "          protects: Hoist brake and safety latch of the hook\n        do: Raise the roll by 100 mm.",
    ),
    Edit(
        "hold-protection",
        "          protects: Hoist brake and safety latch of the hook\n        do: Raise the roll by 100 mm.",
        "        do: Raise the roll by 100 mm.",
    ),
    Edit(
        "hold-releaser",
        "          release: lead\n          confirm:\n            - The loads told",
        "          release: rewind\n          confirm:\n            - The loads told",
    ),
    Edit(
        "hold",
        "    hold:\n      release: lead\n      confirm:\n        - Both latches stand open\n        - The gauge stands at zero\n"
        "        - Nobody stands in the drop zone\n      protects: Hoist brake and safety latch of the hook\n",
        "",
        "take-roll-off.fragment.yaml",
        2,
    ),
    Edit("answer-limits", "unit: deg, within: [45, 90]", "unit: deg, within: [30, 90]"),
    Edit("answer-limits", "unit: deg, within: [45, 90], else", "unit: deg, else", MAIN, 2),
    Edit("answer-limits", '"roll_od - 10 [mm]"', '"roll_od - 20 [mm]"'),
    Edit("answer-limits", '"rewind_core_od + 1 [mm]"', '"rewind_core_od * 1.05 + 1 [mm]"'),
    Edit("answer-limits", "9.5 * caliper", "caliper * 9"),
    Edit("answer-limits", "at_least: flattest_leg", "at_least: 0.9 * flattest_leg"),
    Edit("answer-limits", "at_least: 0, likely: [10, 40000]", "at_least: 0, likely: [10, 50000]"),
    Edit("input-limits", "within: [20, 300]", "within: [20, 400]"),
    Edit("input-limits", "unit: mm, within: [400, 1300], likely: [900, 1300]", "unit: mm, within: [400, 1300]", MAIN, 2),
    Edit("input-choice", "choose: [outside, inside]", "choose: [outside, inside, either]"),
    Edit("limit", '"<= 800 [kg]"', '"<= 0.9 [t]"'),
    Edit("limit", '    limit: "<= 5 [m/min]"\n', ""),
    Edit("limit", '">= lookup(wanted_tension, substrate, low) and <= ', '">= 0.9 * lookup(wanted_tension, substrate, low) and <= '),
    Edit("formula", "min(crane_plate, beam_plate) - hook_load", "min(crane_plate, beam_plate) - hook_load + 5 [kg]"),
    Edit("formula", "formula: grammage * web_width * web_length + core_mass", "formula: grammage * web_width * web_length"),
    Edit("rough-check", ', within: 40 %}', ', within: 45 %}'),
    Edit(
        "worked-example",
        "    example: {given: {core_od: 106 mm, web_width: 1000 mm}, gives: 3.002 kg, within: 0.001 kg}\n", "",
    ),
    Edit(
        "pieces-tolerance",
        "from: unwind_rack, ends: 2, within: 1 kg", "from: unwind_rack, ends: 2, within: 2 kg",
    ),
    Edit(
        "pieces-tolerance",
        "from: rewind_rack, ends: 2, within: 1 kg", "from: rewind_rack, ends: 2, within: 1 kg, uneven: 1 kg",
    ),
    Edit(
        "lifting-gear",
        "by 100 mm.\n        lifts: {hook_load: [crane, lifting_beam], sling_leg: [sling_leg]}",
        "by 100 mm.\n        lifts: {hook_load: [crane], sling_leg: [sling_leg]}",
    ),
    Edit(
        "lifting-gear",
        "between the chucks.\n        lifts: {hook_load: [crane, lifting_beam], sling_leg: [sling_leg]}\n",
        "between the chucks.\n",
    ),
    Edit("caution-signal", "  hanging-load:\n    signal: danger", "  hanging-load:\n    signal: warning"),
    Edit(
        "caution-shown",
        "        cautions: [hanging-load]\n        needs: {crane: carrying, unwind_drive: stopped}\n        hold:\n          release: lead\n"
        "          confirm:\n            - The loads told",
        "        needs: {crane: carrying, unwind_drive: stopped}\n        hold:\n          release: lead\n"
        "          confirm:\n            - The loads told",
    ),
    Edit(
        "second-look",
        "        second: {by: rewind, how: independent}\n        trouble:\n          - id: weak-gear",
        "        second: {by: rewind, how: together}\n        trouble:\n          - id: weak-gear",
    ),
    Edit(
        "second-look",
        "        second: {by: rewind, how: independent}\n        trouble:\n          - id: wrong-roll",
        "        trouble:\n          - id: wrong-roll",
    ),
    Edit(
        "need",
        "        needs: {press_drive: stopped}\n        do: Set the unwind speed to zero.",
        "        do: Set the unwind speed to zero.",
    ),
    Edit("state-at-end", "unwind_guard: {of: [closed, open], at_end: closed}", "unwind_guard: {of: [closed, open]}"),
    Edit("state-one-owner", "at_end: free, one_owner: true}", "at_end: free}"),
    Edit("state-keeps", "at_end: attached}", "at_end: attached, keeps: true}"),
    Edit("state-at-start", "brake: {of: [holding, released, automatic], ", "brake: {of: [holding, released, automatic], at_start: holding, "),
    Edit("optional", "        do: Look at the loose end of the new roll.\n", "        optional: lead\n        do: Look at the loose end of the new roll.\n"),
    Edit("condition", "        when: substrate == 'BOPP film' or substrate == 'PE film'\n", "        when: substrate == 'BOPP film'\n"),
    Edit("condition", "        do: Tell the shift lead the reserve", "        when: roll_mass > 100 [kg]\n        do: Tell the shift lead the reserve"),
    Edit("trouble-way-on", "            do: Hang the out-of-use tag on the crane.\n            then: stop", "            do: Hang the out-of-use tag on the crane.\n            then: go_on"),
    Edit("answer-accepted", "            accept: [nothing moved]", "            accept: [nothing moved, cannot tell]"),
    Edit("answer-accepted", "            accept: [closed line]\n", "", MAIN, 2),
    Edit("answer-match", "match: roll_number, else: wrong-roll", "else: wrong-roll"),
    Edit("answer-way-out", "ask: Number on the label, match: roll_number, else: wrong-roll", "ask: Number on the label, match: roll_number"),
    Edit(
        "ask",
        "        scan:\n          roll_label: {ask: Number on the label, match: roll_number, else: wrong-roll}\n        second: {by: rewind, how: independent}\n",
        "        second: {by: rewind, how: independent}\n",
    ),
    Edit("make-safe", "  - do: Take the drive key to the shift lead.\n    makes: {drive_key: with the lead}\n", ""),
)  # fmt: skip
"""Every one is weaker by itself."""
