"""What findings say to do where authors slip most: the words that stand there, not only the rule."""

import pytest

from runner.procedure.compile import compile_procedure

TEXT = """\
format: 1
id: x
title: X
revision: 1
equipment: Line 3
purpose: It is done
people: {unwind: Operator}
states: {drive: {of: [stopped, running]}}
TOP
phases:
  - phase: Close
    steps:
      - STEP
"""
STEP = "{id: look, do: Look round.}"


@pytest.mark.parametrize(
    ("top", "step", "said"),
    [
        ("", "{id: look, do: Look., when: drive == stopped}", "States are no names in formulas or slots; write `needs`."),
        ("", '{id: look, do: "Look at {drive}."}', "States are no names in formulas or slots; write `needs`."),
        ("inputs: {}", STEP, "`inputs` is empty; "),
        ("tools: []", STEP, "`tools` is empty; "),
        ('pieces: {rack: {unit: kg, stock: {"0.5": -4}}}', STEP, "a count is a whole number, 0 or more; `-4` is not"),
        ("", "{id: off, do: Take disc #3 off., why: It is worn.}", "what follows this `#` is taken as a comment"),
        ("", "{id: wipe, do: Wipe: the idlers, why: Dust.}", "a value that holds a colon must stand in quotes"),
        ("", '{id: a, do: B., read: {c: {ask: D, unit: mm, at_most: "5 mm"}}}', "Write 5 [mm], or the number alone: it is in mm."),
        ("", '{id: a, do: B., read: {c: {ask: D, unit: mm, at_most: "2 * 5 mm"}}}', "stands in brackets: 5 [mm]."),
    ],
)  # fmt: skip
def test_a_slip_is_told_with_what_to_write(top: str, step: str, said: str) -> None:
    text = TEXT.replace("TOP\n", f"{top}\n" if top else "").replace("STEP", step)
    (finding,) = compile_procedure(text, "x.procedure.yaml", lambda _: None).findings
    assert said in f"{finding.message} | {finding.hint}"


def test_a_remark_in_braces_over_several_lines_is_no_cut_text() -> None:
    step = "{id: look,  # the first one\n         do: Look round."
    text = TEXT.replace("TOP\n", "").replace("STEP", step)
    (finding,) = compile_procedure(text, "x.procedure.yaml", lambda _: None).findings
    assert finding.rule == "yaml-syntax"
