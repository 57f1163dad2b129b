"""The plain order walked: lists side by side in both orders, conditions decided by jobs, one departure at a time."""

from runner.lint.linter import lint_text
from runner.lint.rule import all_rules
from runner.procedure.finding import Finding
from tests.lint.examples import whole

PATH = "example.procedure.yaml"


def found(example: str, rule: str) -> list[Finding]:
    findings = lint_text(whole(example), PATH, lambda _: None)
    assert {f.rule for f in findings} <= all_rules().keys(), findings
    return [f for f in findings if f.rule == rule]


def at(finding: Finding, example: str) -> str:
    """The rest of the line that a finding points into, from its column."""
    return whole(example).splitlines()[finding.place.line - 1][finding.place.column - 1 :]


SIDE_BY_SIDE = """\
people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
states:
  web: {of: [cut, joined], at_start: cut}
phases:
  - phase: Join
    park: after
    together:
      unwind:
        - {id: join, do: Join the web., makes: {web: joined}}
      rewind:
        - {id: pull, do: Pull the web., needs: {web: joined}}
"""


def test_a_step_may_wait_for_what_the_other_list_brings() -> None:
    assert found(SIDE_BY_SIDE, "needs-unmet") == []


def test_a_need_that_neither_list_brings_is_unmet() -> None:
    example = SIDE_BY_SIDE.replace("makes: {web: joined}", "makes: {web: cut}")
    finding = found(example, "needs-unmet")[0]
    assert at(finding, example).startswith("web: joined")
    assert finding.trace[-1] == "step 1b.1 (pull) comes up: web must be joined; it is cut"


def test_two_lists_that_wait_for_each_other_are_found() -> None:
    example = SIDE_BY_SIDE.replace(
        "{id: join, do: Join the web., makes: {web: joined}}",
        "{id: join, do: Join the web., needs: {end: held}, makes: {web: joined}}",
    )
    example = example.replace(
        "needs: {web: joined}}",
        "needs: {web: joined}}\n        - {id: hold-end, do: Hold the end., makes: {end: held}}",
    ).replace("states:\n", "states:\n  end: {of: [loose, held], at_start: loose}\n")
    assert found(example, "needs-unmet") == []
    (finding,) = found(example, "lists-wait-for-each-other")
    assert "`join` and `pull` wait for each other" in finding.message


def test_a_list_that_spoils_the_other_lists_need_is_found_in_the_order_in_which_it_does() -> None:
    example = SIDE_BY_SIDE.replace("at_start: cut", "at_start: joined").replace(
        "makes: {web: joined}", "makes: {web: cut}"
    )
    (finding,) = found(example, "needs-unmet")
    assert finding.trace == (
        "at the start web is joined",
        "step 1a.1 (join) makes web cut",
        "step 1b.1 (pull) comes up: web must be joined; it is cut",
    )


def test_a_fault_is_told_once_and_not_again_at_every_later_step() -> None:
    example = """\
states:
  guard: {of: [open, closed]}
phases:
  - phase: Load
    park: after
    steps:
      - {id: one, by: unwind, do: Take the core., needs: {guard: open}}
      - {id: two, by: unwind, do: Take the shaft., needs: {guard: open}}
"""
    assert [at(f, example) for f in found(example, "needs-unmet")] == ["guard: open}}"]


CONDITIONS = """\
inputs:
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
  width: {ask: Web width, unit: mm, within: [400, 1300]}
states:
  knife: {of: [straight, hot], at_start: straight}
phases:
  - phase: Cut
    park: after
    steps:
      - {id: hot, by: unwind, do: "Fit the hot knife for {width}.", when: "WHEN_MADE", makes: {knife: hot}}
      - {id: cut, by: unwind, do: Cut the web., when: "WHEN_NEEDED", needs: {knife: NEEDED}}
"""


def conditions(made: str, needed: str, value: str) -> str:
    return CONDITIONS.replace("WHEN_MADE", made).replace("WHEN_NEEDED", needed).replace("NEEDED", value)


def test_steps_under_conditions_that_exclude_each_other_do_not_spoil_each_other() -> None:
    example = conditions("substrate == 'BOPP film'", "substrate == 'kraft paper'", "straight")
    assert found(example, "needs-unmet") == []


def test_a_condition_that_leaves_a_need_unmet_is_told_with_its_job() -> None:
    example = conditions("substrate == 'BOPP film'", "width > 500 [mm]", "hot")
    (finding,) = found(example, "needs-unmet")
    assert finding.trace[0].startswith("a job with substrate kraft paper, width ")
    assert "step 1.1 (hot) does not apply in this job" in finding.trace


def test_the_same_condition_is_decided_the_same_way_along_a_walk() -> None:
    assert found(conditions("width > 900 [mm]", "width > 900 [mm]", "hot"), "needs-unmet") == []


def test_a_job_beyond_the_limit_of_a_calculation_is_no_job() -> None:
    example = conditions("load > 500 [kg]", "load > 500 [kg]", "hot") + (
        'calculations:\n  load: {formula: "width * 1 [kg/mm]", unit: kg, limit: "<= 800 [kg]"}\n'
    )
    assert found(example, "needs-unmet") == []
    beyond = example.replace('when: "load > 500 [kg]", makes', 'when: "load > 900 [kg]", makes')
    (finding,) = found(beyond, "needs-unmet")
    assert "step 1.1 (hot) does not apply in this job" in finding.trace


CRANE = """\
people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
states:
  crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
phases:
  - phase: Lift
    park: after
    together:
      unwind:
        - {id: lift, do: Lift the roll., makes: {crane: carrying}}
      rewind:
        - {id: unhook, do: Unhook the beam., makes: {crane: free}}
"""


def test_a_crane_that_the_other_list_would_bring_back_is_left_taken() -> None:
    (finding,) = found(CRANE, "one-owner-left-taken")
    assert at(finding, CRANE).startswith("crane: free")
    assert "Operator, unwind side has it" in finding.message


def test_a_crane_brought_back_by_its_owner_is_free_for_the_other_list() -> None:
    example = CRANE.replace(
        "makes: {crane: carrying}}",
        "makes: {crane: carrying}}\n        - {id: free, do: Unhook., makes: {crane: free}}",
    )
    assert found(example, "one-owner-left-taken") == []


def test_a_state_that_a_trouble_leaves_unknown_at_the_end_is_found() -> None:
    example = """\
states:
  guard: {of: [open, closed], at_end: closed}
phases:
  - phase: Close
    park: after
    steps:
      - id: close
        by: unwind
        do: Close the guard.
        makes: {guard: closed}
        trouble:
          - {sign: The guard jams, do: Tell the fitter., then: go_on}
"""
    (finding,) = found(example, "trouble-leads-to-unmet-need")
    assert at(finding, example).startswith("then: go_on")
    assert "guard is not closed at the end" in finding.message
    assert found(example.replace("then: go_on", "then: stop"), "trouble-leads-to-unmet-need") == []


def test_a_wrong_end_names_the_steps_that_made_it() -> None:
    example = """\
states:
  guard: {of: [open, closed], at_end: closed}
phases:
  - phase: Open
    park: after
    steps:
      - {id: open, by: unwind, do: Open the guard., makes: {guard: open}}
"""
    (finding,) = found(example, "state-wrong-at-end")
    assert at(finding, example).startswith("at_end: closed")
    assert finding.trace == (
        "at the start guard is not known",
        "step 1.1 (open) makes guard open",
        "the last step is done",
    )


def test_an_end_that_nobody_makes_is_wrong_too() -> None:
    (finding,) = found("states:\n  guard: {of: [open, closed], at_end: closed}\n", "state-wrong-at-end")
    assert "nobody has said what it is" in finding.message
