"""The published figures for motion with a guard open, against the page that publishes them."""

from fractions import Fraction

from pint import UnitRegistry

from runner.lint.motion_figures import FIGURES

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
