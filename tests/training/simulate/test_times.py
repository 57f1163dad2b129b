"""Durations: the critical path and quantiles against other libraries, savings against small cases by hand.

Judges: the longest path by Bellman and Ford on negative lengths (scipy.sparse.csgraph), quantiles by numpy, whose linear
method is type 7 of R. J. Hyndman and Y. Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996).
"""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import bellman_ford

from runner.training.simulate.many import Simulation, seeds_of
from runner.training.simulate.rates import LONGEST, PLAIN, SHORTEST
from runner.training.simulate.schedule import Attempt, critical, retimed
from runner.training.simulate.times import quantile
from tests.engine.bench import compiled
from tests.training.simulate.lines import PAIRED, small


@st.composite
def networks(draw: st.DrawFn) -> tuple[Attempt, ...]:
    """Attempts that follow some of those before them."""
    count = draw(st.integers(1, 9))
    made = []
    for number in range(count):
        after = draw(st.sets(st.integers(0, number - 1), max_size=3)) if number else set()
        made.append(Attempt(f"s{number}", "unwind", 0, 0.0, float(draw(st.integers(1, 60))), tuple(sorted(after))))
    return tuple(made)


@settings(max_examples=80, deadline=None)
@given(networks())
def test_the_critical_path_is_a_longest_one(attempts: tuple[Attempt, ...]) -> None:
    size = len(attempts)
    lengths = np.zeros((size + 1, size + 1))
    for number, attempt in enumerate(attempts):
        for before in attempt.after or (size,):
            lengths[before, number] = -(attempt.end - attempt.start)
    longest = -min(bellman_ford(csr_matrix(lengths), indices=size))
    chain = critical(attempts)
    assert retimed(attempts, {}) == pytest.approx(longest)
    assert sum(attempts[at].end - attempts[at].start for at in chain) == pytest.approx(longest)
    assert all(one in attempts[other].after for one, other in pairwise(chain))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0, 1e5), min_size=1, max_size=30), st.floats(0, 1))
def test_quantiles_are_of_type_7(values: list[float], share: float) -> None:
    assert quantile(values, share) == pytest.approx(float(np.quantile(values, share, method="linear")), abs=1e-6)


def test_times_of_steps_are_drawn_from_a_triangle() -> None:
    """Mean (a + b + c) / 3 and variance (a² + b² + c² - ab - ac - bc) / 18 of the triangular distribution
    (N. L. Johnson, S. Kotz and N. Balakrishnan, Continuous Univariate Distributions, volume 2, from memory)."""
    walks = [Simulation(small(), PLAIN).one(seed) for seed in seeds_of(1, 300)]
    stops = [attempt for walk in walks for attempt in walk.schedule.attempts if attempt.step == "stop"]
    worked = [attempt.end - attempt.start for attempt in stops]
    a, c, b = SHORTEST * 120.0, 120.0, LONGEST * 120.0
    deviation = ((a * a + b * b + c * c - a * b - a * c - b * c) / 18) ** 0.5
    assert np.mean(worked) == pytest.approx((a + b + c) / 3, abs=4 * deviation / 300**0.5)
    assert min(worked) >= a
    assert max(worked) <= b + 1e-6


def test_a_step_off_the_critical_path_saves_nothing() -> None:
    simulation = Simulation(compiled(PAIRED), PLAIN).play(seeds_of(1, 20))
    saved = {one.step: one for one in simulation.times.savings()}
    assert "short" not in saved
    assert saved["long"].critical == 1.0
    assert 10 * 60 * SHORTEST < saved["long"].saved_s < 10 * 60 * LONGEST


def test_two_lists_save_the_shorter_one() -> None:
    simulation = Simulation(compiled(PAIRED), PLAIN).play(seeds_of(1, 20))
    assert 60 * SHORTEST <= simulation.times.one_person() <= 60 * LONGEST + 10


def test_a_second_person_saves_no_more_than_half_and_nothing_along_a_chain() -> None:
    simulation = Simulation(small(), PLAIN).play(seeds_of(1, 20))
    means = simulation.times.means()
    (helped,) = simulation.times.helped()
    assert helped.alone_s == pytest.approx(sum(means.values()))
    # stop, then press with its hold and its wait; only wipe and foil go side by side: by hand
    assert helped.saved_s == pytest.approx(min(means["wipe"], means["foil"]))


def test_a_run_timed_again_as_it_was_lasts_as_long() -> None:
    """Where nobody waits for a halt, the links say all that had to be waited for."""
    for seed in ("1-0", "1-1"):
        walk = Simulation(compiled(PAIRED), PLAIN).one(seed)
        last = max(attempt.end for attempt in walk.schedule.attempts)
        assert retimed(walk.schedule.attempts, {}) == pytest.approx(last, rel=0.05)
