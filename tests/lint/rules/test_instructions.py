"""Sentences as they stand in procedures: each with the one rule about words that speaks of it, or with none.

What is right here is right in the sense of the writers' guides that the rules name (ASD-STE100, DOE-STD-1029-92, HSG48); the
sentences are our own. The silent ones matter as much: a rule that cries at a plain order is switched off.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.lint.linter import lint_text
from runner.lint.word_lists import listed
from tests.lint.examples import whole

SILENT = """\
Open the unwind guard.
Close both latches of the unwind chucks.
Take knife and tape from the cart.
Tape the old web to the table of the infeed nip.
Look at both edges, the core and the surface of the new roll.
Look at the hook, its latch, the rope and the slings.
If the roll swings, lower it.
When the counter shows 20 m, press the stop button.
With both hands, hold the bar.
Before the web breaks, slow the press to 5 m/min.
Pull the web by hand to the infeed nip.
Press the start button of the press.
Turn the vent fully open.
Set the main switch to position 3.
Set the counter to 0.
Raise the roll by 100 mm.
Raise the speed of the press to 50 m/min.
Fill the chucks to between 5.5 and 6.5 bar.
Turn the screw by 2 turns.
Wipe roller 3.
Read the gauge again.
Stop the press.
Feed two more metres.
Roll the old core to the bin.
Tell the shift lead that the press is stopped.
Ask the lead who is at the rewind.
See what is left on the rollers.
Set down what is carried.
Say "feeding" to the unwind side.
Do not lift the roll.
Never stand under the hook.
Hold the roller still with the other hand.
Walk once round the press.
Slit the wraps along the roller.
Count the tools before you take them off the cart.
Turn the roll by hand until the bar hangs.
Press both buttons at the same time.
Watch the web for two more metres.
Guide the web over the entry idler.
Pin the tension bar at its upper stop.
Brake the roll by hand.
Mark the web 10 mm beside the hole.
Check the chuck for cracks.
Hang the weight pieces on the bar.
Line the web up with the mark on the frame.
Lower the hook until the slings hang slack.
"""

SPOKEN_OF = {
    "act-not-ordered": """\
The unwind guard should be closed.
Operator opens the guard.
Opens the guard.
Opening the guard.
Guard is closed.
Unwind guard must be closed.
Crane to the middle.
Both chucks open.
If the roll swings, the crane stops.
Please open the guard.
""",
    "more-than-one-act": """\
Open the guard and then pull the old core off.
Open the guard and pull the old core off.
Stop the press, open the guard.
Open the latch; take the core off.
Open the guard. Take the core off.
Loosen the screw and turn the knob.
Open the valve and check the gauge.
""",
    "condition-after-act": """\
Lower the roll if it swings.
Wipe the idler when it is dirty.
Open the valve unless the gauge shows zero.
""",
    "vague-words": """\
Lift the roll slowly.
Wipe the idler if necessary.
Tighten the screw firmly.
Put enough tape on the joint.
Clean the idler as required.
Turn the screw by a few notches.
""",
    "act-left-open": """\
Make sure that the guard is closed.
Ensure the latch is in.
See to it that the pin stands.
""",
    "act-left-to-choice": """\
Wipe the idler, preferably with the cloth.
Try to push the core back.
Open the valve, you may use the lever.
""",
    "passive-act": """\
Lift the roll. The chucks must be open.
Call the lead. The guard has to be closed.
""",
    "listed-by-exception": """\
Close all valves except the drain.
Take off everything but the core.
""",
    "and-or": """\
Wipe the idler and/or the tension bar.
""",
    "step-named-by-place": """\
Do the previous step on the other side.
Hang the pieces as in step 4.
Wipe the idler as above.
Go back to steps 2 and 3.
""",
    "number-without-unit": """\
Fill the chucks to 6.
Raise the roll by 100.
Tighten the screws to 12 and call the lead.
Hold the pressure below 5.5.
""",
    "unit-written-otherwise": """\
Raise the roll by 100mm.
Fill the chucks to 6bar.
Hang 20 kgs on the bar.
Feed the web by 3 mtrs.
""",
    "limits-as-plus-minus": """\
Fill the chucks to 6 bar ± 0.5 bar.
Set the sensor to 600 mm +/- 2 mm.
""",
    "wait-only-in-words": """\
Wait 2 min.
Leave the valve shut for 30 s.
Hold the roll there for 5 minutes.
""",
    "repeat-only-in-words": """\
Turn the screw by one notch and repeat until the bar is level.
Repeat until the bar is level.
""",
    "capitals-unexplained": """\
Set the DSR to zero.
Call the QRX of the line.
""",
    "lift-without-caution": """\
Lift the roll into the chucks.
Hoist the load by 100 mm.
""",
    "double-negative": """\
Do not open the guard unless the key is out.
Never pull the web without gloves.
""",
}

PAIRS = [(line, rule) for rule, lines in SPOKEN_OF.items() for line in lines.splitlines()]

ABOUT_WORDS = frozenset(SPOKEN_OF) | {"sentence-too-long", "says-safe", "thing-called-otherwise"}


def rules(sentence: str) -> list[str]:
    quoted = sentence.replace("'", "''")
    step = f"phases:\n  - phase: Work\n    park: after\n    steps:\n      - {{id: work, by: unwind, do: '{quoted}'}}\n"
    found = [f for f in lint_text(whole(step), "x.procedure.yaml", lambda _: None) if f.rule in ABOUT_WORDS]
    line = next(n for n, text in enumerate(whole(step).splitlines(), 1) if "id: work" in text)
    assert all(f.place.line == line for f in found)
    return [f.rule for f in found]


@pytest.mark.parametrize("sentence", SILENT.splitlines())
def test_a_plain_order_has_nothing_said_of_it(sentence: str) -> None:
    assert rules(sentence) == []


@pytest.mark.parametrize(("sentence", "rule"), PAIRS)
def test_a_sentence_is_spoken_of(sentence: str, rule: str) -> None:
    assert rule in rules(sentence)


def test_every_rule_about_how_to_order_has_sentences() -> None:
    from importlib import import_module

    from runner.lint.rule import Rule

    themes = [import_module(f"runner.lint.rules.{name}") for name in ("wording", "orders", "figures")]
    ids = {value.id for theme in themes for value in vars(theme).values() if isinstance(value, Rule)}
    assert ids - {"sentence-too-long"} <= set(SPOKEN_OF)


def test_twenty_words_are_not_too_many_and_a_slot_is_one() -> None:
    twenty = " ".join(["Set", "the", "guide", *["beside"] * 17]) + "."
    assert rules(twenty) == []
    assert rules(twenty.replace(".", " there.")) == ["sentence-too-long"]
    assert rules("Set it. " + twenty) == []


def test_making_safe_is_read_like_a_step() -> None:
    text = whole("make_safe:\n  - {do: Slowly press the stop button.}\n")
    found = [(f.rule, f.place.line) for f in lint_text(text, "x.procedure.yaml", lambda _: None)]
    assert found == [("vague-words", text.splitlines().index("  - {do: Slowly press the stop button.}") + 1)]


def test_what_a_trouble_tells_to_do_may_be_two_acts() -> None:
    step = (
        "phases:\n  - phase: Fill\n    park: after\n    steps:\n      - id: fill\n        by: unwind\n        do: Fill the chuck.\n"
        "        trouble: [{sign: It leaks, do: Bleed the chuck and inflate it again., back_to: fill}]\n"
    )
    assert lint_text(whole(step), "x.procedure.yaml", lambda _: None) == ()


ODD_WORDS = listed(
    "0 1 ² ½ ± . , ; : ! / - # () [ ] İ ß é {roll_od} {roll_od:.0f} and/or 1,234.5 5mm inch raise the with wait lift roll 100 mm "
    "m/min is if then repeat ABC safe to step 3"
)

ODD = st.lists(st.sampled_from([*sorted(ODD_WORDS), "\u00a0"]), min_size=1, max_size=12)


@given(ODD)
@settings(max_examples=200, deadline=None)
def test_no_text_of_an_act_stops_the_rules(words: list[str]) -> None:
    act = " ".join(words).replace("'", "''")
    text = whole(
        "inputs:\n  roll_od: {ask: Diameter, unit: mm, within: [200, 1200]}\n"
        "states:\n  press_drive: {of: [stopped, inching], at_start: stopped}\n  guard: {of: [open, closed], at_start: open}\n"
        "  crane: {of: [free, carrying], at_start: free}\ntools: [Core knife]\n"
        f"phases:\n  - phase: A\n    park: after\n    steps:\n      - {{id: a, by: unwind, do: '{act}', "
        "needs: {guard: open}, makes: {press_drive: inching, crane: carrying}}\n"
    )
    lines = text.splitlines()
    for finding in lint_text(text, "x.procedure.yaml", lambda _: None):
        assert 1 <= finding.place.line <= len(lines)
        assert 1 <= finding.place.column <= len(lines[finding.place.line - 1]) + 1
