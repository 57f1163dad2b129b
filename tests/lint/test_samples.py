"""Sample jobs are jobs: within what the procedure accepts, the same on every run, and both ways of a condition."""

from runner.lint.samples import SPREAD, deciding, fractions, samples
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from tests.lint.examples import whole

EXAMPLE = """\
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300]}
  od: {ask: Outer diameter, unit: mm, within: [200, 1200]}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film, PET film]}
states:
  web: {of: [cut, joined]}
calculations:
  area: {formula: width * od, unit: m^2}
phases:
  - phase: Join
    park: after
    steps:
      - {id: one, by: unwind, do: "Join {width} {od}.", when: "area > 1 [m^2]", makes: {web: joined}}
      - {id: two, by: unwind, do: Join., when: substrate == 'PET film', makes: {web: joined}}
      - {id: three, by: unwind, do: Join., when: "width > 2000 [mm]", makes: {web: joined}}
      - {id: four, by: unwind, do: Join., when: "od > 300 [mm]"}
"""


def procedure(text: str = EXAMPLE) -> Procedure:
    compiled = compile_procedure(whole(text), "example.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


def test_only_conditions_that_bear_on_order_are_decided() -> None:
    texts = [condition.text for condition in deciding(procedure())]
    assert texts == ["area > 1 [m^2]", "substrate == 'PET film'", "width > 2000 [mm]"]


def test_every_combination_that_jobs_have_is_found_and_no_other() -> None:
    found = {tuple(sample.truths.values()) for sample in samples(procedure())}
    assert found == {(wide, film, False) for wide in (True, False) for film in (True, False)}


def test_samples_are_the_same_on_every_run() -> None:
    assert samples(procedure()) == samples(procedure())


def test_the_words_of_a_sample_are_what_a_person_would_type() -> None:
    assert all("mm" in sample.words and "substrate " in sample.words for sample in samples(procedure()))


def test_without_conditions_there_is_one_sample_that_decides_nothing() -> None:
    (only,) = samples(procedure(""))
    assert only.truths == {}
    assert only.words == ""


def test_fractions_stay_within_the_box() -> None:
    every = list(fractions(3))
    assert len(every) == 3 + 2 * 3 + SPREAD
    assert all(0.0 <= fraction(n) <= 1.0 for fraction in every for n in range(3))


OPEN = """\
inputs:
  width: {ask: Web width, unit: mm}
  lot: {ask: Lot of the roll}
states:
  web: {of: [cut, joined]}
phases:
  - phase: Join
    park: after
    steps:
      - id: look
        by: unwind
        do: Look at the gauge for {width} {lot}.
        read: {gauge: {ask: Pressure, unit: bar, at_least: 2, else: low}}
        scan: {label: {ask: Label of the core}}
        trouble: [{id: low, sign: It is low, do: Wait., then: stop}]
      - {id: one, by: unwind, do: Join., when: "width > 900 [mm]", makes: {web: joined}}
      - {id: two, by: unwind, do: Join., when: lot == 'A1', makes: {web: joined}}
      - {id: three, by: unwind, do: Join., when: "gauge > 6 [bar]", makes: {web: joined}}
      - {id: four, by: unwind, do: Join., when: label != 'B2', makes: {web: joined}}
"""


def test_values_without_limits_lie_around_what_the_conditions_name() -> None:
    found = [sample.truths for sample in samples(procedure(OPEN))]
    for condition in deciding(procedure(OPEN)):
        assert {truths[condition.text] for truths in found} == {True, False}, condition.text
