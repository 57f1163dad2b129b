"""Cases of the rules about safety content, at the edges that the examples of their pages leave out."""

import pytest

from runner.lint.linter import lint_text
from tests.lint.examples import whole


def rules(text: str) -> list[str]:
    return [finding.rule for finding in lint_text(whole(text), "x.procedure.yaml", lambda _: None)]


MOTION = """\
states:
  press_drive: {{of: [stopped, inching], at_start: stopped}}
  print_guard: {{of: [open, closed], at_start: open}}
{calculations}phases:
  - phase: Turn
    park: after
    steps:
      - {{id: turn, by: unwind, needs: {{print_guard: open}}, do: "{act}", makes: {{press_drive: inching}}}}
      - {{id: stop, by: unwind, do: Stop the press., needs: {{press_drive: inching}}, makes: {{press_drive: stopped}}}}
      - {{id: close, by: unwind, do: Close the guard., needs: {{press_drive: stopped}}, makes: {{print_guard: closed}}}}
"""

ABOUT_MOTION = {"motion-without-guard", "motion-with-guard-open", "held-motion-too-fast", "held-motion-without-figure"}


# Figures: HSE, Printing machinery, Control definitions: 25 mm or 1 m/min first, 75 mm or 5 m/min at most.
@pytest.mark.parametrize(
    ("act", "rule"),
    [
        ("Inch the press on by 25 mm.", ""),
        ("Inch the press on by 26 mm.", "held-motion-without-figure"),
        ("Inch the press on by 75 mm.", "held-motion-without-figure"),
        ("Inch the press on by 76 mm.", "held-motion-too-fast"),
        ("Run the press at 1 m/min by the hold-to-run button.", ""),
        ("Run the press at 5 m/min by the hold-to-run button.", "held-motion-without-figure"),
        ("Run the press at 5.1 m/min by the hold-to-run button.", "held-motion-too-fast"),
        ("Run the press at 17 ft/min by the hold-to-run button.", "held-motion-too-fast"),  # 5.18 m/min, exact foot
        ("Run the press at 16 ft/min by the hold-to-run button.", "held-motion-without-figure"),  # 4.88 m/min
        ("Turn the press on with the hold-to-run button.", "held-motion-without-figure"),
    ],
)
def test_held_motion_is_measured_against_the_published_figures(act: str, rule: str) -> None:
    found = [name for name in rules(MOTION.format(act=act, calculations="")) if name in ABOUT_MOTION]
    assert set(found) - {rule} <= ({"held-motion-without-figure"} if rule == "held-motion-too-fast" else set())
    assert (rule in found) if rule else found == []


def test_motion_that_nobody_holds_is_told_whatever_its_speed() -> None:
    text = MOTION.format(act="Turn the press on at 1 m/min.", calculations="").replace("inching", "creeping")
    assert "motion-with-guard-open" in rules(text)


def test_a_slot_counts_with_the_limit_of_its_calculation() -> None:
    calculations = (
        "inputs:\n  speed: {ask: Speed, unit: m/min, within: [1, 9]}\ncalculations:\n"
        '  crawl: {formula: speed / 9, unit: m/min, limit: "<= LIMIT [m/min]", '
        "example: {given: {speed: 9 m/min}, gives: 1 m/min, within: 0.1 m/min}}\n"
    )
    act = "Run the press at {crawl:.1f} by the hold-to-run button."
    for limit, rule in (("1", ""), ("6", "held-motion-too-fast")):
        found = rules(MOTION.format(act=act, calculations=calculations.replace("LIMIT", limit)))
        assert [name for name in found if name == "held-motion-too-fast"] == ([rule] if rule else [])


def test_only_the_guard_of_the_same_side_is_wanted() -> None:
    text = """\
states:
  unwind_drive: {of: [stopped, running], at_start: stopped, at_end: running}
  unwind_guard: {of: [open, closed], at_start: open, at_end: closed}
  rewind_guard: {of: [open, closed], at_start: open, at_end: closed}
phases:
  - phase: Start
    park: after
    steps:
      - {id: close, by: unwind, do: Close the unwind guard., makes: {unwind_guard: closed}}
      - {id: start, by: unwind, do: Start the unwind., needs: {unwind_guard: closed}, makes: {unwind_drive: running}}
      - {id: other, by: unwind, do: Close the rewind guard., makes: {rewind_guard: closed}}
"""
    assert rules(text) == []
    assert "motion-without-guard" in rules(text.replace("unwind_drive", "press_drive"))


CAUTION = (
    "cautions:\n  it: {{signal: {signal}, hazard: It is there., {harm}avoid: Stay clear.}}\n"
    "phases:\n  - {{phase: A, park: after, steps: [{{id: a, by: unwind, do: Wipe the idler., cautions: [it]}}]}}\n"
)


# Definitions of ANSI Z535.6 and ISO 3864-2: death or serious injury for danger and warning, less for caution, property for notice.
@pytest.mark.parametrize(
    ("signal", "harm", "rule"),
    [
        ("danger", "Death.", ""),
        ("warning", "Crushed hand or arm.", ""),
        ("warning", "Severed fingers.", ""),
        ("caution", "Severed fingers.", "signal-below-harm"),
        ("caution", "Death by crushing.", "signal-below-harm"),
        ("caution", "Pinched fingers.", ""),
        ("caution", "Cut hand.", ""),
        ("danger", "Pinched fingers.", "signal-above-harm"),
        ("warning", "Scratches on the hands, bruises.", "signal-above-harm"),
        ("warning", "Cut or pinched hand.", ""),
        ("danger", "Loss of an eye.", ""),
    ],
)
def test_the_signal_word_fits_the_harm(signal: str, harm: str, rule: str) -> None:
    found = rules(CAUTION.format(signal=signal, harm=f"harm: '{harm}', "))
    assert [name for name in found if name.startswith("signal")] == ([rule] if rule else [])


def test_a_notice_that_names_an_injury_is_none() -> None:
    text = CAUTION.format(signal="notice", harm="").replace("It is there.", "The blade does injury to hands.")
    assert "signal-below-harm" in rules(text)


NAMES = """\
tools: [Core knife]
states:
  bar: {{of: [pinned, free], at_start: free, label: tension bar}}
phases:
  - phase: Pin
    park: after
    steps:
      - {{id: pin, by: unwind, do: "{act}", makes: {{bar: pinned}}}}
      - {{id: cut, by: unwind, do: Cut the tape with the core knife., needs: {{bar: pinned}}}}
"""


@pytest.mark.parametrize(
    ("act", "told"),
    [
        ("Pin the tension bar.", False),
        ("Pin both tension bars.", False),
        ("Pin the tension arm.", True),
        ("Pin the tenson bar.", True),
        ("Pin the tensoin bar.", True),
        ("Pin the tension roller.", False),
        ("Pin the front bar.", False),
        ("Set the tension back.", False),
        ("Take the core knives.", False),
        ("Take the core to the bin.", False),
    ],
)
def test_a_name_with_another_word_is_told(act: str, told: bool) -> None:
    assert ("thing-called-otherwise" in rules(NAMES.format(act=act))) is told
