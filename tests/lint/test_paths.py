"""Web paths over all jobs: the job is named, the border is found, travels are tried, proofs are proofs."""

import pytest

from runner.lint.linter import lint_text
from runner.lint.path_jobs import PathJobs
from runner.procedure.compile import compile_procedure
from runner.procedure.finding import Finding
from runner.procedure.model import Procedure
from runner.trade.web_path import WebPath
from tests.lint.examples import whole

INPUTS = "inputs:\n  roll_od: {ask: Outer diameter, unit: mm, within: [200, 1200]}\n"
PATH = """web_paths:
  unwind:
    rollers:
      - {roller: roll, at: [0 mm, 900 mm], diameter: roll_od, pass: over}
      - {roller: entry idler, at: [ENTRY, 1300 mm], diameter: 100 mm, pass: over}
      - {roller: tension bar, at: [1000 mm, 800 mm], diameter: 120 mm, pass: under, moves: MOVES}
      - {roller: exit idler, at: [1300 mm, 1300 mm], diameter: 100 mm, pass: over}
"""
THREAD = """phases:
  - phase: Thread
    park: after
    steps: [{id: lead, by: unwind, do: Lead the web through., thread: unwind}]
"""


def text(entry: str = "750 mm", moves: str = "vertical", more: str = "", inputs: str = INPUTS) -> str:
    return whole(inputs + PATH.replace("ENTRY", entry).replace("MOVES", moves) + more + THREAD)


def findings(written: str) -> list[Finding]:
    found = lint_text(written, "x.procedure.yaml", lambda _: None)
    return [one for one in found if one.rule.startswith(("web-path", "tension-changes"))]


def compiled(written: str) -> Procedure:
    found = compile_procedure(written, "x.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


def line_of(written: str, part: str) -> int:
    return next(number for number, line in enumerate(written.split("\n"), start=1) if part in line)


def test_a_path_that_always_runs_is_proven_and_nothing_is_said() -> None:
    assert findings(text()) == []
    assert PathJobs(compiled(text()), "unwind").not_proven == ""


def test_a_job_at_the_edge_of_what_is_allowed_is_named_with_the_border() -> None:
    """By hand: the idler at (450, 400) from the roll's centre is sqrt(450^2 + 400^2) = 602.08 mm away, its radius is 50
    mm, so they touch at a roll of 2 * 552.08 = 1104.2 mm."""
    written = text("450 mm")
    (found,) = findings(written)
    assert found.rule == "web-path-impossible"
    assert found.place.line == line_of(written, "entry idler")
    assert "entry idler and roll overlap or touch (for roll_od 1200 mm)" in found.message
    assert found.hint == "The path can be run up to about roll_od 1104 mm."


def test_a_job_that_a_calculation_refuses_anyway_is_no_fault_of_the_path() -> None:
    limit = 'calculations:\n  rim: {formula: roll_od / 2, unit: mm, limit: "<= 540 [mm]"}\n'
    loose = limit.replace("540", "600")
    assert findings(text("450 mm", more=loose))[0].rule == "web-path-impossible"
    assert [one.rule for one in findings(text("450 mm", more=limit))] in ([], ["web-path-not-proven"])


def test_a_wrong_side_is_told_with_the_side_that_would_do() -> None:
    written = text().replace("pass: under, moves", "pass: over, moves")
    (found,) = findings(written)
    assert found.place.line == line_of(written, "tension bar")
    assert "`tension bar` could be passed under" in found.hint


def test_a_bar_is_looked_at_all_over_its_travel() -> None:
    written = text(moves="vertical, travel: [-200 mm, 700 mm]")
    (found,) = findings(written)
    assert found.rule == "web-path-impossible"
    assert found.place.line == line_of(written, "tension bar")
    assert "with tension bar at " in found.message
    assert findings(text(moves="vertical, travel: [-200 mm, 200 mm]")) == []


def test_a_path_without_jobs_names_none() -> None:
    written = whole(PATH.replace("roll_od", "1 m").replace("ENTRY", "300 mm").replace("MOVES", "vertical") + THREAD)
    (found,) = findings(written)
    assert "(for " not in found.message


def test_an_input_without_limits_is_left_to_its_own_note() -> None:
    inputs = "inputs:\n  roll_od: {ask: Outer diameter, unit: mm}\n"
    assert findings(text(inputs=inputs)) == []


def test_a_choice_is_tried_in_all_its_words() -> None:
    inputs = "inputs:\n  roll: {ask: Roll, choose: [small, large, jumbo]}\n"
    written = text("750 mm", inputs=inputs).replace(
        "diameter: roll_od", "diameter: \"if(roll == 'jumbo', 2 [m], 500 [mm])\""
    )
    (found,) = findings(written)
    assert "(for roll jumbo)" in found.message


@pytest.mark.parametrize(("travel", "told"), [("-100 mm, 100 mm", False), ("-300 mm, 300 mm", True)])
def test_a_changing_tension_is_told_unless_the_author_has_looked_at_the_ends(travel: str, told: bool) -> None:
    """The idlers are 250 and 300 mm to both sides and 500 mm above: the higher the bar, the flatter its spans."""
    calculation = "calculations:\n  pull: {formula: \"400 [N] * bar_factor(unwind, 'tension bar')\", unit: N}\n"
    ends = "  end: {formula: \"400 [N] * bar_factor_at(unwind, 'tension bar', 1)\", unit: N}\n"
    found = findings(text(moves=f"vertical, travel: [{travel}]", more=calculation))
    assert [one.rule for one in found] == (["tension-changes-over-travel"] if told else [])
    assert findings(text(moves=f"vertical, travel: [{travel}]", more=calculation + ends)) == []


def test_the_tension_change_is_the_one_that_the_pulls_give() -> None:
    calculation = "calculations:\n  pull: {formula: \"400 [N] * bar_factor(unwind, 'tension bar')\", unit: N}\n"
    (found,) = findings(text(moves="vertical, travel: [-300 mm, 300 mm]", more=calculation))
    least, most = (
        float(part) for part in found.message.split("`bar_factor` is ")[1].removesuffix(" there").split(" and ")
    )
    share = float(found.message.split("gives ")[1].split(" %")[0])
    assert share == pytest.approx(100 * (most / least - 1), abs=0.6)
    assert "at 300 mm of its travel than at -300 mm" in found.message


def test_every_job_tried_is_allowed_by_the_ticket() -> None:
    path = PathJobs(compiled(text()), "unwind")
    sizes = [job["roll_od"] for job in path.jobs()]
    assert min(sizes) == 0.2
    assert max(sizes) == 1.2
    assert len(set(sizes)) > 20
    assert all(isinstance(path.solved(job), WebPath) for job in path.jobs())
