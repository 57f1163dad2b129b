"""Whatever is proved of all jobs holds for every job tried, and every job that is named does what is said of it."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.formula.evaluate import Value
from runner.formula.fault import Fault
from runner.formula.interval import Unbounded
from runner.formula.syntax import parse
from runner.procedure.compile import compile_procedure
from runner.procedure.jobs.over import result_over, worked_over
from runner.procedure.jobs.results import result_of
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.worst import judge, worst_jobs
from runner.procedure.model import Procedure
from tests.formula.strategies import FORMULAS, NAMES
from tests.lint.examples import whole
from tests.procedure.jobs.examples import calculation, jobs, plain, verdict

BAND = st.tuples(st.integers(-20, 20), st.integers(0, 20)).map(lambda ends: (float(ends[0]), float(ends[0] + ends[1])))
BANDS = st.fixed_dictionaries(dict.fromkeys(NAMES, BAND))
LIMITS = st.builds("{} {}".format, st.sampled_from([">=", "<=", "<", ">"]), st.integers(-30, 30))
SLOW = settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow]
)


def compiled(
    bands: dict[str, tuple[float, float]], first: str, second: str, limits: tuple[str, str]
) -> Procedure | None:
    """A procedure of two calculations of which the second uses the first; None where the language does not take it."""
    if isinstance(parse(first), Fault) or isinstance(parse(second), Fault):
        return None
    text = plain(bands, {"first": (first, limits[0]), "second": (f"first + ({second})", limits[1])})
    return compile_procedure(whole(text), "example.procedure.yaml", lambda _: None).procedure


@SLOW
@given(BANDS, FORMULAS, FORMULAS, st.tuples(LIMITS, LIMITS), st.integers(0, 10**6))
def test_verdicts_on_limits_hold_for_every_job(
    bands: dict[str, tuple[float, float]], first: str, second: str, limits: tuple[str, str], seed: int
) -> None:
    of = compiled(bands, first, second, limits)
    if of is None:
        return
    for name in ("first", "second"):
        space, worked = Space(of, [name]), calculation(of, name)
        found = judge(space, worked, worked.limits[0])
        tried = {verdict(space, job, name) for job in jobs(space, 30, seed)}
        if found.kept:
            assert not tried & {"out", "failed"}
        if found.never:
            assert "in" not in tried
        if found.broken is not None:
            assert found.broken.verdict in ("out", "failed")
            assert all(
                low <= float(found.job[name]) <= high for name, (low, high) in bands.items() if name in found.job
            )
            assert not found.kept


@SLOW
@given(BANDS, FORMULAS, FORMULAS, st.tuples(LIMITS, LIMITS), st.integers(0, 10**6))
def test_a_formula_said_to_have_results_has_one_for_every_job(
    bands: dict[str, tuple[float, float]], first: str, second: str, limits: tuple[str, str], seed: int
) -> None:
    of = compiled(bands, first, second, limits)
    if of is None:
        return
    for name in ("first", "second"):
        space, worked = Space(of, [name]), calculation(of, name)
        found = result_of(space, worked.formula, name, may_be_negative=False)
        if found.near:  # as typed it has a result, which no bounds hold
            whole = worked_over(space, space.start(), name)
            assert whole is not None
            assert isinstance(result_over(space, worked.formula, whole), Unbounded)
        elif found.fault is not None:
            assert verdict(space, {key: float(text) for key, text in found.job.items()}, name) == "failed"
        elif found.unclear is None and found.negative is None:
            assert all(verdict(space, job, name) != "failed" for job in jobs(space, 30, seed))
        if found.negative is not None:
            assert found.negative < 0.0


@SLOW
@given(BANDS, FORMULAS, FORMULAS, st.tuples(LIMITS, LIMITS), st.integers(0, 10**6))
def test_no_job_is_nearer_to_a_limit_than_the_worst_one_where_that_is_proved(
    bands: dict[str, tuple[float, float]], first: str, second: str, limits: tuple[str, str], seed: int
) -> None:
    of = compiled(bands, first, second, limits)
    if of is None:
        return
    for worst in worst_jobs(of):
        space = Space(of, [worst.name])
        limit = float(worst.limit.split()[1])
        upper = worst.limit.startswith("<")
        room = 0.03 * abs(worst.margin) + 1e-6 * (1.0 + abs(worst.value))
        assert abs((limit - worst.value if upper else worst.value - limit) - worst.margin) <= room
        if not worst.proven:
            continue
        for job in jobs(space, 30, seed):
            if verdict(space, job, worst.name) in ("in", "out"):
                value = _value(space, job, worst.name)
                assert (limit - value if upper else value - limit) >= worst.margin - room


def _value(space: Space, job: dict[str, Value], name: str) -> float:
    from runner.procedure.jobs.trial import Trial

    worked = space.worked[name]
    found = Trial(space, name).result(worked.formula)(job)  # type: ignore[union-attr]  # no split here
    assert found.value is not None
    return found.value
