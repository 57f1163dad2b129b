"""The worst job of plain examples, worked out by hand, and what is said of limits."""

import pytest

from runner.procedure.jobs.results import result_of
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.worst import judge, worst_jobs
from tests.procedure.jobs.examples import calculation, plain, procedure
from tests.procedures.shipped import procedure_of

ROLL = """\
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300], likely: [900, 1300]}
  od: {ask: Outer diameter, unit: mm, within: [200, 1200]}
  core: {ask: Core, unit: mm, within: [76, 180]}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
  tension: {ask: Tension, unit: N/m, within: [60, 400]}
tables:
  wanted:
    columns: {substrate: text, low: N/m, high: N/m}
    rows: [[kraft paper, 90, 260], [BOPP film, 60, 140]]
calculations:
  side: {formula: "pi * (od^2 - core^2) / 4", unit: m^2}
  mass: {formula: "side * width * 700 [kg/m^3]", unit: kg, limit: "<= 1100 [kg]", round: up 1 kg}
  set: {formula: tension, unit: N/m, limit: ">= lookup(wanted, substrate, low) and <= lookup(wanted, substrate, high)"}
  bar: {formula: "2 * set * width / g_n - 3 [kg]", unit: kg, limit: ">= 0 [kg]"}
"""


def test_the_heaviest_roll_is_the_widest_and_thickest_on_the_smallest_core() -> None:
    """pi (1.2^2 - 0.076^2) / 4 * 1.3 * 700 = 1025.06 kg, rounded up: 1026."""
    worst = next(worst for worst in worst_jobs(procedure(ROLL)) if worst.name == "mass")
    assert dict(worst.job) == {"width": 1.3, "od": 1.2, "core": 0.076}
    assert worst.value == pytest.approx(1026, abs=1e-9)
    assert worst.margin == pytest.approx(74, abs=1e-9)
    assert worst.proven


def test_a_job_keeps_the_limits_of_what_a_value_rests_on() -> None:
    """The bar is lightest at 60 N/m, which only film may have: 2 * 60 * 0.4 / 9.80665 - 3 = 1.8946 kg."""
    worst = next(worst for worst in worst_jobs(procedure(ROLL)) if worst.name == "bar")
    assert dict(worst.job) == {"width": 0.4, "substrate": "BOPP film", "tension": 60.0}
    assert worst.margin == pytest.approx(2 * 60 * 0.4 / 9.80665 - 3)
    of = procedure(ROLL)
    assert judge(Space(of, ["bar"]), calculation(of, "bar"), calculation(of, "bar").limits[0]).kept


def test_fixed_values_are_held() -> None:
    worst = next(worst for worst in worst_jobs(procedure(ROLL), {"od": 0.6, "width": 0.5}) if worst.name == "mass")
    assert dict(worst.job) == {"width": 0.5, "od": 0.6, "core": 0.076}
    assert worst.value == 98.0


def test_the_most_broken_limit_comes_first() -> None:
    worst = worst_jobs(procedure(ROLL))
    assert [(found.name, found.margin < 0) for found in worst][:2] == [("set", True), ("set", True)]
    assert worst[0].margin == pytest.approx(140 - 400)


def test_a_likely_job_is_named_before_an_unlikely_one() -> None:
    text = ROLL.replace("<= 1100", "<= 200")
    of = procedure(text)
    found = judge(Space(of, ["mass"]), calculation(of, "mass"), calculation(of, "mass").limits[0])
    assert found.broken is not None
    assert found.job["width"] in ("900 mm", "1300 mm", "1100 mm")


def test_a_limit_that_no_job_keeps_is_proved() -> None:
    of = procedure(ROLL.replace("<= 1100", "<= 1"))
    found = judge(Space(of, ["mass"]), calculation(of, "mass"), calculation(of, "mass").limits[0])
    assert found.never
    assert found.broken is not None


@pytest.mark.parametrize(
    ("limit", "kept", "never"), [("< 0", False, True), ("<= 0", True, False), (">= 1", False, True)]
)
def test_a_value_that_is_always_the_same_keeps_its_limit_or_never_does(limit: str, kept: bool, never: bool) -> None:
    of = procedure(plain({"a": (0.0, 0.0)}, {"double": ("a + a", limit)}))
    found = judge(Space(of, ["double"]), calculation(of, "double"), calculation(of, "double").limits[0])
    assert (found.kept, found.never) == (kept, never)


@pytest.mark.parametrize(("limit", "kept", "never"), [("<= 50", False, True), ("<= 60", True, False)])
def test_a_value_that_rests_on_no_input_is_judged_too(limit: str, kept: bool, never: bool) -> None:
    """A beam of 48 kg and slings of 9 kg are 57 kg in every job."""
    of = procedure(plain({"a": (0.0, 1.0)}, {"gear": ("48 + 9", limit)}))
    found = judge(Space(of, ["gear"]), calculation(of, "gear"), calculation(of, "gear").limits[0])
    assert (found.kept, found.never, found.broken is not None) == (kept, never, never)
    assert [worst.value for worst in worst_jobs(of)] == [57.0]


def test_another_text_that_alone_is_no_better_leads_on_to_a_worse_job() -> None:
    """The rough check lets a roll be (0.79 (1.2^2 - 0.076^2) 1.3 rho + 2.62) / 0.6 kg at most: 2213.6 of film (900 kg/m^3),
    2459.1 of label paper (1000 kg/m^3), which is no heavier as long as its grammage is that of the film."""
    worst = next(found for found in worst_jobs(procedure_of("change-roll")) if found.name == "roll_mass")
    assert worst.value == pytest.approx(2460, abs=1)
    assert dict(worst.job)["substrate"] == "label paper"


def test_a_limit_is_not_said_to_be_broken_where_only_the_other_side_is() -> None:
    of = procedure(plain({"a": (0.0, 3.0)}, {"gap": ("a", "<= -1 and >= 0")}))
    gap = calculation(of, "gap")
    above, below = (judge(Space(of, ["gap"]), gap, limit) for limit in gap.limits)
    assert above.never
    assert below.kept
    assert below.broken is None


def test_the_limits_of_answers_and_what_must_match_are_kept() -> None:
    of = procedure("""\
inputs:
  ticket: {ask: Gap on the ticket, unit: mm, within: [1, 10]}
calculations:
  rest: {formula: "1 [mm^2] / (gap - ticket + 1 [mm])", unit: mm, limit: "<= 2 [mm]"}
  off: {formula: "1 [mm^2] / (gap - 5 [mm])", unit: mm}
phases:
  - phase: Set
    park: after
    steps:
      - id: set
        by: unwind
        do: Set the gap.
        read:
          gap: {ask: Gap at the gauge, unit: mm, within: [ticket, 12]}
""")
    rest = calculation(of, "rest")
    found = result_of(Space(of, ["rest"]), rest.formula, "rest")
    assert found.fault is None
    verdict = judge(Space(of, ["rest"]), rest, rest.limits[0])
    assert verdict.broken is None


@pytest.mark.parametrize(
    ("formula", "job"),
    [
        ("1 [mm^2] / (gap - 5 [mm])", {"gap": "5 mm"}),
        ("1 [mm^2] / (gap - width)", {"gap", "width"}),
        ("(7.25 [mm] - gap)^-1 * 1 [mm^2]", {"gap": "7.25 mm"}),
    ],
)
def test_a_zero_inside_the_bands_is_found(formula: str, job: object) -> None:
    of = procedure(f"""\
inputs:
  gap: {{ask: Gap, unit: mm, within: [1, 10]}}
  width: {{ask: Width, unit: mm, within: [4, 40]}}
calculations:
  off: {{formula: "{formula}", unit: mm}}
""")
    found = result_of(Space(of, ["off"]), calculation(of, "off").formula, "off")
    assert found.fault is not None
    assert "divides by zero" in found.fault.message
    assert found.job == job if isinstance(job, dict) else set(found.job) == job


def test_a_divisor_that_passes_zero_between_two_numbers_is_told_too() -> None:
    """No typed gap is the root of two, and none that is near it gives a result that anybody could use."""
    of = procedure("""\
inputs:
  gap: {ask: Gap, unit: mm, within: [1, 10]}
calculations:
  off: {formula: "1 [mm^3] / (gap^2 - 2 [mm^2])", unit: mm}
""")
    found = result_of(Space(of, ["off"]), calculation(of, "off").formula, "off")
    assert found.fault is not None
    assert "zero" in found.fault.message
    assert found.job["gap"].startswith("1.4142")


def test_a_number_without_limits_may_be_zero() -> None:
    of = procedure("""\
inputs:
  count: {ask: Prints on the counter, unit: "1"}
calculations:
  each: {formula: "100 [m] / count", unit: m}
""")
    found = result_of(Space(of, ["each"]), calculation(of, "each").formula, "each")
    assert found.fault is not None
    assert "zero" in found.fault.message
    assert found.job == {"count": "0"}


def test_a_reading_is_only_known_where_its_step_was_done() -> None:
    """The gap is read on thick webs alone, so its distance from 100 um never is zero."""
    of = procedure("""\
inputs:
  caliper: {ask: Thickness, unit: um, within: [100, 400]}
calculations:
  share: {formula: "gap / (caliper - 100 [um])", unit: "1"}
phases:
  - phase: Set
    park: after
    steps:
      - {id: set, by: unwind, do: Set the gap., when: "caliper > 300 [um]", read: {gap: {ask: Gap, unit: um, within: [0, 500]}}}
""")
    assert result_of(Space(of, ["share"]), calculation(of, "share").formula, "share").fault is None
    step = of.phases[0].lists[0].steps[0]._replace(when=None)
    phase = of.phases[0]._replace(lists=(of.phases[0].lists[0]._replace(steps=(step,)),))
    always = of._replace(phases=(phase,))
    assert result_of(Space(always, ["share"]), calculation(of, "share").formula, "share").job["caliper"] == "100 um"


def test_an_answer_moves_along_with_its_limit() -> None:
    """The plate is at least half the roll, so the least reserve, half of what is missing, comes with the heaviest roll."""
    of = procedure("""\
inputs:
  roll: {ask: Mass of the roll, unit: kg, within: [100, 800]}
calculations:
  reserve: {formula: plate - roll, unit: kg, limit: ">= 0 [kg]"}
phases:
  - phase: Lift
    park: after
    steps:
      - {id: read, by: unwind, do: Read the plate., read: {plate: {ask: Rating, unit: kg, within: [roll / 2, 2000]}}}
""")
    (worst,) = worst_jobs(of)
    assert dict(worst.job) == {"roll": 800.0, "plate": 400.0}
    assert worst.margin == pytest.approx(-400)
