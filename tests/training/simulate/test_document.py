"""The page about simulated runs: one file without script, each drawing in words as well, each dead end with its seed."""

import re

from runner.report.formats import FORMATS
from runner.training.schedule.arranged import arranged
from runner.training.simulate.document import document
from runner.training.simulate.many import Simulation, seeds_of
from runner.training.simulate.rates import PLAIN, Rates
from runner.training.simulate.result import result_of
from tests.engine.bench import compiled
from tests.training.simulate.lines import PAIRED, STUCK, small


def page_of(simulation: Simulation, form: str = "html") -> str:
    arrangement = arranged(simulation.procedure, simulation.times.means())
    return FORMATS[form].render(document(result_of(simulation, 1), arrangement)).decode()


def test_the_page_loads_nothing_and_every_drawing_says_what_it_shows() -> None:
    page = page_of(Simulation(small(), Rates()).play(seeds_of(1, 30)))
    assert "<script" not in page
    assert "default-src &#39;none&#39;" in page or "default-src 'none'" in page
    assert "color-scheme" in page
    drawings = re.findall(r"<svg.*?</svg>", page, re.DOTALL)
    assert len(drawings) == 3
    assert all('role="img"' in one and "<title>" in one and "<desc>" in one for one in drawings)
    assert "SIMULATED" in page


def test_a_dead_end_stands_there_with_its_seeds() -> None:
    page = page_of(Simulation(compiled(STUCK), PLAIN).play(seeds_of(7, 2)))
    assert "drive must be running; it is stopped" in page
    assert "7-0" in page
    assert "7-1" in page
    assert "No run finished." in page


def test_the_same_runs_make_the_same_page() -> None:
    first, second = (page_of(Simulation(compiled(PAIRED), PLAIN).play(seeds_of(1, 5))) for _ in range(2))
    assert first == second


def test_a_procedure_cannot_put_markup_into_the_page() -> None:
    hostile = compiled(PAIRED.replace("Both sides", '"<b>Both</b>"'))
    page = page_of(Simulation(hostile, PLAIN).play(seeds_of(1, 3)))
    assert "<b>Both" not in page
