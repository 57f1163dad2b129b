"""What a simulation came to, as plain data: the text for people and the JSON both come from it."""

from typing import NamedTuple

from runner.procedure.model import steps_of
from runner.training.simulate.many import Met, Simulation
from runner.training.simulate.possible import says
from runner.training.simulate.rates import Rates
from runner.training.simulate.times import quantile

QUANTILES = (0.0, 0.05, 0.25, 0.5, 0.75, 0.95, 1.0)
BARS = 12
MOST_SAVINGS = 10


class Problem(NamedTuple):
    """A refusal or a dead end."""

    where: str
    words: str
    times: int
    seeds: tuple[str, ...]


class Missed(NamedTuple):
    """What no run came to."""

    words: str
    proof: str
    """What the linter's proof says of it."""


class Row(NamedTuple):
    """One line of a table: a name with numbers."""

    name: str
    numbers: tuple[float, ...]


class Result(NamedTuple):
    """The whole."""

    procedure: str
    title: str
    revision: int
    digest: str
    seed: int
    runs: int
    events: int
    jobs_refused: int
    outcomes: tuple[tuple[str, int], ...]
    coverage: tuple[tuple[str, int, int], ...]
    missed: tuple[Missed, ...]
    refusals: tuple[Problem, ...]
    dead_ends: tuple[Problem, ...]
    total_s: tuple[tuple[float, float], ...]
    """(share, seconds) over runs that finished."""
    stopped_s: tuple[tuple[float, float], ...]
    bars: tuple[tuple[float, float, int], ...]
    """(from, to, runs): how many finished runs lasted between so many seconds."""
    looked_at: int
    savings: tuple[Row, ...]
    """A step with its seconds saved on average and its share of critical paths."""
    second_list_s: float
    helped: tuple[Row, ...]
    """A phase with its seconds alone and the most that a second person could save."""
    rates: dict[str, float]


def result_of(simulation: Simulation, seed: int) -> Result:
    """Everything about the runs that were played."""
    procedure, times = simulation.procedure, simulation.times
    numbers = {step.id: step.number for step in steps_of(procedure)}
    unreached = simulation.coverage.unreached
    proof = says(procedure, unreached)
    savings = times.savings()[:MOST_SAVINGS]
    return Result(
        procedure.id, procedure.title, procedure.revision, procedure.digest, seed, simulation.runs, simulation.events,
        simulation.jobs_refused, tuple(sorted(simulation.outcomes.items())), simulation.coverage.counts(),
        tuple(Missed(spot.words, proof[spot]) for spot in unreached),
        problems([(f"{act} {step}".strip(), met) for (act, step, _), met in simulation.refusals.items()]),
        problems([("", met) for met in simulation.dead_ends.values()]),
        tuple((share, quantile(times.totals, share)) for share in QUANTILES),
        tuple((share, quantile(times.stopped, share)) for share in QUANTILES),
        bars(times.totals), len(times.schedules),
        tuple(Row(f"{numbers[one.step]} {one.step}", (one.saved_s, one.critical)) for one in savings),
        times.one_person(),
        tuple(Row(one.phase, (one.alone_s, one.saved_s)) for one in times.helped()),
        rates_of(simulation.rates),
    )  # fmt: skip


def problems(found: list[tuple[str, Met]]) -> tuple[Problem, ...]:
    """Most frequent first."""
    rows = [Problem(where, met.words, met.count, tuple(met.seeds)) for where, met in found]
    return tuple(sorted(rows, key=lambda row: (-row.times, row.where, row.words)))


def bars(values: list[float]) -> tuple[tuple[float, float, int], ...]:
    """Values counted in bars of equal width."""
    if not values:
        return ()
    low, high = min(values), max(values)
    width = (high - low) / BARS or 1.0
    counts = [0] * BARS
    for value in values:
        counts[min(BARS - 1, int((value - low) / width))] += 1
    return tuple((low + at * width, low + (at + 1) * width, count) for at, count in enumerate(counts))


def rates_of(rates: Rates) -> dict[str, float]:
    """The chances by name."""
    return {name: float(value) for name, value in rates._asdict().items()}


def as_data(result: Result) -> dict[str, object]:
    """For JSON: names for everything."""
    data = result._asdict()
    for key in ("missed", "refusals", "dead_ends"):
        data[key] = [row._asdict() for row in getattr(result, key)]
    data["outcomes"] = dict(result.outcomes)
    data["coverage"] = [{"kind": kind, "reached": met, "of": whole} for kind, met, whole in result.coverage]
    for key in ("total_s", "stopped_s"):
        data[key] = {f"{share:g}": round(seconds, 1) for share, seconds in getattr(result, key)}
    data["bars"] = [{"from_s": round(a, 1), "to_s": round(b, 1), "runs": count} for a, b, count in result.bars]
    data["savings"] = [
        {"step": row.name, "saved_s": round(row.numbers[0], 1), "on_critical_path": round(row.numbers[1], 3)}
        for row in result.savings
    ]
    data["helped"] = [
        {"phase": row.name, "alone_s": round(row.numbers[0], 1), "saved_at_most_s": round(row.numbers[1], 1)}
        for row in result.helped
    ]
    data["second_list_s"] = round(result.second_list_s, 1)
    return data
