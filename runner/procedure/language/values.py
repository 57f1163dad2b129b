"""Keys of the values that a procedure knows: job ticket, tables, counterweight pieces, web paths, states, calculations.

They say where a number comes from, what it may be and in which unit; steps and formulas only name it.
"""

from runner.procedure.language.shape import (
    FLAG,
    FORMULA,
    MASS_KEY,
    NAME,
    NUMBER,
    QUANTITY,
    TEXT,
    UNIT,
    VALUE,
    Either,
    Group,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    Scalar,
    whole,
)

PAIR = ListOf(NUMBER, 2, 2)

INPUT = Record(
    "an input",
    (
        Key("ask", TEXT, True, "What it is called on the job ticket.", "ask: Web width"),
        Key(
            "unit",
            UNIT,
            False,
            "Makes it a number in this unit. With neither `unit` nor `choose` it is plain text.",
            "unit: mm",
        ),
        Key(
            "within",
            PAIR,
            False,
            "Least and greatest value allowed, in the unit. Any other is refused.",
            "within: [400, 1300]",
        ),
        Key(
            "likely",
            PAIR,
            False,
            "Outside of these a value is marked as unusual before the run begins. It is not asked for twice.",
            "likely: [900, 1300]",
        ),
        Key("choose", ListOf(TEXT, 2), False, "Makes it a choice of these texts.", "choose: [kraft paper, BOPP film]"),
        Key("why", TEXT, False, "What the value is needed for.", "why: Sets the pull on the tension bar."),
    ),
    "A value from the job ticket, given before the run begins. It does not change in a run.",
    (
        Group("at most one", ("unit", "choose")),
        Group("at most one", ("choose", "within")),
        Group("at most one", ("choose", "likely")),
    ),
)

TABLE = Record(
    "a table",
    (
        Key(
            "columns",
            MapOf(NAME, UNIT, 1, "name of the column"),
            True,
            "Each column with the unit of its numbers, or the word `text`.",
            "columns: {substrate: text, low: N/m, high: N/m}",
        ),
        Key(
            "rows",
            ListOf(ListOf(VALUE)),
            True,
            "One list a row, one value a column.",
            "rows:\n  - [kraft paper, 90, 260]\n  - [BOPP film, 60, 120]",
        ),
    ),
    "A table for `lookup` and `interpolate` in formulas.",
)

COUNT = whole(0)._replace(name="count")

RACK = Record(
    "a rack",
    (
        Key(
            "unit",
            UNIT,
            True,
            "The unit of the masses, a mass: kg, g, lb or oz. A mass has three digits after the point at most.",
            "unit: kg",
        ),
        Key(
            "stock",
            MapOf(MASS_KEY, COUNT, 1, "mass of one piece"),
            True,
            "How many pieces of each mass there are.",
            'stock: {"1": 8, "2.5": 8, "5": 6}',
        ),
    ),
    "Counterweight pieces at hand.",
)

DIRECTION = Scalar(
    "direction",
    "`vertical`, `horizontal`, or an angle from the horizontal like `30 deg`",
    r"vertical|horizontal|-?(?:0|[1-9][0-9]{0,2})(?:\.[0-9]{1,6})? ?(?:deg|rad)",
    "string",
)

ROLLER = Record(
    "a roller",
    (
        Key("roller", TEXT, True, "What people call it. Unique in its path.", "roller: tension bar"),
        Key(
            "at",
            ListOf(FORMULA, 2, 2),
            True,
            "Where its centre is, across and up, seen from the operator side: two quantities or formulas over inputs.",
            "at: [1250 mm, 700 mm]",
        ),
        Key("diameter", FORMULA, True, "Its diameter: a quantity or a formula over inputs.", "diameter: 120 mm"),
        Key(
            "pass",
            OneOf(("over", "under")),
            True,
            "Whether the web runs over its top or under its bottom.",
            "pass: over",
        ),
        Key(
            "moves",
            DIRECTION,
            False,
            "The way it can move, for a bar that the web pulls at: `vertical`, `horizontal`, or an angle from the "
            "horizontal, up to the right.",
            "moves: 75 deg",
        ),
        Key(
            "travel",
            ListOf(QUANTITY, 2, 2),
            False,
            "How far it moves: both ends, measured from the place where it is drawn, up or to the right above zero. "
            "With it lint looks at the path all the way, and formulas may ask for lengths and pulls elsewhere on it.",
            "travel: [-150 mm, 200 mm]",
        ),
    ),
    "One roller of a web path, in the order in which the web meets them.",
)

WEB_PATH = Record(
    "a web path",
    (
        Key(
            "rollers",
            ListOf(ROLLER, 2),
            True,
            "The rollers, in the order in which the web meets them.",
            "rollers:\n  - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}\n"
            "  - {roller: entry idler, at: [900 mm, 300 mm], diameter: 100 mm, pass: under}\n"
            "  - {roller: tension bar, at: [1250 mm, 700 mm], diameter: 120 mm, pass: over, moves: vertical}\n"
            "  - {roller: exit idler, at: [1600 mm, 300 mm], diameter: 100 mm, pass: under}",
        ),
    ),
    "The way of the web, for threading roller by roller and for lengths and pulls in formulas.",
)

STATE = Record(
    "a state",
    (
        Key(
            "of",
            ListOf(TEXT, 2),
            True,
            "Its values. `unknown` is none of them: nobody vouches for it then.",
            "of: [open, closed]",
        ),
        Key(
            "at_start",
            TEXT,
            False,
            "The value at the start of a run, or `unknown`. `unknown` if left out.",
            "at_start: unknown",
        ),
        Key("at_end", TEXT, False, "The value it must have for the run to finish.", "at_end: closed"),
        Key(
            "one_owner",
            FLAG,
            False,
            "`true`: from the step that takes it out of its first value until one brings it back, only that list may use it. `false` if left out.",
            "one_owner: true",
        ),
        Key("keeps", FLAG, False, "`true`: a pause does not make it unconfirmed. `false` if left out.", "keeps: true"),
        Key(
            "label",
            TEXT,
            False,
            "What people read. The name with blanks for `_` if left out.",
            "label: Guard of the unwind",
        ),
    ),
    "Something about the press that steps need and make.",
)

EXAMPLE = Record(
    "a worked example",
    (
        Key(
            "given",
            MapOf(NAME, VALUE, 1, "name of the value"),
            True,
            "A quantity or choice for each value that the formula rests on.",
            "given: {roll_od: 1000 mm, core_od: 152 mm, caliper: 100 um}",
        ),
        Key("gives", QUANTITY, True, "The result, worked out by other means.", "gives: 7673 m"),
        Key("within", QUANTITY, True, "How far the formula's result may be from it.", "within: 1 m"),
    ),
    "A case worked out by hand; lint works it out again.",
)

ROUGH = Record(
    "a rough check",
    (
        Key(
            "formula",
            FORMULA,
            True,
            "The same result by a simpler way, over other values or the same.",
            "formula: roll_od^2 / caliper * 3 / 4",
        ),
        Key(
            "within",
            QUANTITY,
            True,
            "The share of the larger of the two by which they may differ, more than 0 % and less than 100 %.",
            "within: 20 %",
        ),
    ),
    "A second way to a result, worked out each time beside the formula. Where the two differ by more, the value does not count.",
)

CALCULATION = Record(
    "a calculation",
    (
        Key(
            "formula",
            FORMULA,
            True,
            "How it is worked out, over inputs, readings and other calculations.",
            "formula: pi * (roll_od^2 - core_od^2) / (4 * caliper)",
        ),
        Key(
            "unit",
            UNIT,
            True,
            "The unit of the result; `1` for a pure number. The formula must give this dimension.",
            "unit: m",
        ),
        Key(
            "limit",
            FORMULA,
            False,
            "What the result may be: `<=`, `<`, `>=` or `>` and a bound, two of them with `and`. In quotes, since it begins with `<` or `>`.",
            'limit: "> 0 [m] and <= 30000 [m]"',
        ),
        Key("round", TEXT, False, "`nearest`, `up` or `down`, and the step.", "round: nearest 1 m"),
        Key(
            "rough",
            ROUGH,
            False,
            "A rough check by an independent way.",
            'rough: {formula: "roll_od^2 / caliper * 3 / 4", within: 20 %}',
        ),
        Key(
            "example",
            EXAMPLE,
            False,
            "A case worked out by hand.",
            "example: {given: {roll_od: 1000 mm, core_od: 152 mm, caliper: 100 um}, gives: 7673 m, within: 1 m}",
        ),
        Key(
            "why",
            TEXT,
            False,
            "What it is for, or where the formula comes from.",
            "why: The web is as long as the ring's area through the thickness.",
        ),
    ),
    "A named formula.",
)

SPLIT = Record(
    "a split",
    (
        Key("split", NAME, True, "The calculation that says which mass is wanted.", "split: bar_mass"),
        Key("from", NAME, True, "The rack that the pieces come from.", "from: rack"),
        Key("ends", whole(1), False, "Over how many ends the pieces are laid out evenly. `2` if left out.", "ends: 2"),
        Key("within", QUANTITY, True, "How far the hung mass may be from the wanted one.", "within: 0.5 kg"),
        Key(
            "uneven",
            QUANTITY,
            False,
            "How far two ends may differ in mass. They have the same mass if left out.",
            "uneven: 1 kg",
        ),
        Key(
            "gives",
            NAME,
            False,
            "The input or calculation that the mass was worked out from: the working says which one the pieces really give.",
            "gives: tension",
        ),
        Key(
            "release",
            NAME,
            False,
            "The role that may accept the nearest choice, with a reason, where none is within tolerance. Until then, and where it "
            "is left out, the steps that use the split do not begin.",
            "release: lead",
        ),
    ),
    "Pieces from a rack, laid out evenly at the ends of a bar. In formulas it counts as the mass hung.",
)

VALUE_KEYS = (
    Key(
        "inputs",
        MapOf(NAME, INPUT, 1, "name of the input"),
        False,
        "Values from the job ticket.",
        "inputs:\n  web_width: {ask: Web width, unit: mm, within: [400, 1300], likely: [900, 1300]}\n"
        "  tension: {ask: Web tension per width, unit: N/m, within: [60, 400]}\n"
        "  roll_od: {ask: Outer diameter of the new roll, unit: mm, within: [200, 1200]}\n"
        "  core_od: {ask: Outer diameter of its core, unit: mm, within: [76, 180]}\n"
        "  caliper: {ask: Substrate thickness, unit: um, within: [12, 400]}\n"
        "  grammage: {ask: Substrate grammage, unit: g/m^2, within: [10, 350]}\n"
        "  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}\n"
        "  roll_number: {ask: Number on the roll label}",
    ),
    Key(
        "tables",
        MapOf(NAME, TABLE, 1, "name of the table"),
        False,
        "Tables for look-up in formulas.",
        "tables:\n  wanted_tension:\n    columns: {substrate: text, low: N/m, high: N/m}\n    rows:\n"
        "      - [kraft paper, 90, 260]\n      - [BOPP film, 60, 120]",
    ),
    Key(
        "pieces",
        MapOf(NAME, RACK, 1, "name of the rack"),
        False,
        "Racks of counterweight pieces.",
        'pieces:\n  rack: {unit: kg, stock: {"1": 8, "2.5": 8, "5": 6}}',
    ),
    Key(
        "web_paths",
        MapOf(NAME, WEB_PATH, 1, "name of the path"),
        False,
        "Web paths, each a list of rollers.",
        "web_paths:\n  unwind:\n    rollers:\n      - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}\n"
        "      - {roller: entry idler, at: [900 mm, 300 mm], diameter: 100 mm, pass: under}\n"
        "      - {roller: tension bar, at: [1250 mm, 700 mm], diameter: 120 mm, pass: over, moves: vertical}\n"
        "      - {roller: exit idler, at: [1600 mm, 300 mm], diameter: 100 mm, pass: under}",
    ),
    Key(
        "states",
        MapOf(NAME, STATE, 1, "name of the state"),
        False,
        "What the runner keeps track of, and lint proves about.",
        "states:\n  unwind_drive: {of: [stopped, creeping, automatic], at_end: automatic}\n"
        "  unwind_guard: {of: [open, closed], at_end: closed}\n"
        "  crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}",
    ),
    Key(
        "calculations",
        MapOf(NAME, Either("split", SPLIT, CALCULATION), 1, "name of the result"),
        False,
        "Named formulas, and splits of a mass into pieces. Any order; circles are refused.",
        "calculations:\n  web_length: {formula: pi * (roll_od^2 - core_od^2) / (4 * caliper), unit: m}\n"
        '  roll_mass: {formula: grammage * web_width * web_length, unit: kg, limit: "<= 800 [kg]"}\n'
        "  bar_pull: {formula: \"tension * web_width * bar_factor(unwind, 'tension bar')\", unit: N}\n"
        '  bar_mass: {formula: "bar_pull / g_n - 3.2 [kg]", unit: kg, limit: ">= 0 [kg]", round: nearest 0.5 kg}\n'
        "  bar_pieces: {split: bar_mass, from: rack, ends: 2, within: 0.5 kg}\n"
        "  feed: {formula: path_length(unwind) + 2 * pi * core_od, unit: m}\n"
        '  most_tension: {formula: "lookup(wanted_tension, substrate, high)", unit: N/m}',
    ),
)
