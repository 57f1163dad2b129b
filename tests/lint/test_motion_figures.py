"""The published figures for motion with a guard open, against the page that publishes them."""

from fractions import Fraction

from pint import UnitRegistry

from runner.lint.linter import lint_text
from runner.lint.motion_figures import FIGURES
from runner.procedure.language.site import HASH

# HSE, Printing machinery, Control definitions (hse.gov.uk/printing/machine/control-definitions.htm), as excerpted:
# true inch 25 mm, limited inch 75 mm, slow crawl 1 m/min, fast slow crawl 5 m/min, all by hold-to-run.
PUBLISHED = {
    "true inch": "25 mm",
    "limited inch": "75 mm",
    "slow crawl": "1 m/min",
    "fast slow crawl": "5 m/min",
}


def test_the_figures_are_the_published_ones() -> None:
    registry: UnitRegistry[float] = UnitRegistry()
    assert {row.name for row in FIGURES} == set(PUBLISHED)
    for row in FIGURES:
        assert Fraction(row.most).limit_denominator(10**6) == Fraction(
            registry.Quantity(PUBLISHED[row.name]).to_base_units().magnitude
        ).limit_denominator(10**6)
        assert row.shown.startswith(PUBLISHED[row.name])


def test_the_smaller_figure_of_each_kind_comes_first() -> None:
    for dimension in {row.dimension for row in FIGURES}:
        rows = sorted((row for row in FIGURES if row.dimension == dimension), key=lambda row: row.most)
        assert [row.first for row in rows] == [True, False]


TURNING = """\
format: 1
id: turn
title: Turn the press on
revision: 1
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: A place of the roller is reached.
people: {unwind: "Operator, unwind side"}
states:
  press_drive: {of: [stopped, inching], at_start: stopped}
  print_guard: {of: [open, closed], at_start: open}
phases:
  - phase: Turn
    press: stopped
    park: after
    steps:
      - id: turn
        by: unwind
        needs: {print_guard: open}
        do: Turn the press on by SO FAR with the hold-to-run button.
        makes: {press_drive: inching}
      - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
      - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
"""
SITE = f"""\
site: 1
motion: {{distance: 15 mm, source: Risk assessment of Line 3, date: 2026-05-04}}
people: [{{name: Eva Roth, roles: [lead], pin: "{HASH}"}}]
"""
BEYOND, WITHOUT = "held-motion-too-fast", "held-motion-without-figure"


def told(figure: str, site: str | None) -> dict[str, str]:
    """Hints of the two rules on figures, by rule."""
    files = {} if site is None else {"hall/site.yaml": site}
    found = lint_text(TURNING.replace("SO FAR", figure), "hall/turn.procedure.yaml", files.get)
    return {finding.rule: finding.hint for finding in found if finding.rule in (BEYOND, WITHOUT)}


def test_the_sites_own_figure_counts_instead_of_the_published_ones() -> None:
    assert told("20 mm", None) == {}
    assert set(told("20 mm", SITE)) == {BEYOND, WITHOUT}
    assert "here: 15 mm (Risk assessment of Line 3, 2026-05-04)" in told("20 mm", SITE)[BEYOND]
    assert told("15 mm", SITE) == {}
    assert told("60 mm", SITE.replace("15 mm", "60 mm")) == {}


def test_where_the_site_gives_no_figure_of_that_kind_the_published_one_counts() -> None:
    assert told("0.9 m/min", SITE) == {}
    assert set(told("8 m/min", SITE)) == {BEYOND, WITHOUT}


def test_a_faulty_site_file_gives_no_figures() -> None:
    for wrong in ("15 kg", "0 mm", "far"):
        assert told("20 mm", SITE.replace("15 mm", wrong)) == {}
        assert lint_text(SITE.replace("15 mm", wrong), "hall/site.yaml", lambda _: None) != ()
