"""The result of a simulation as lines for a terminal: no wider than asked, no characters but ASCII and the procedure's own."""

import textwrap
from collections.abc import Iterable, Iterator

from runner.procedure.clean import clean
from runner.training.simulate.result import Problem, Result

BAR = 40
NAMED = {0.0: "least", 0.5: "median", 1.0: "most"}
SIMULATED = (
    "Simulated: no press, no people. Times are drawn around what the procedure expects, chances are set and not measured; "
    "a second person or a moved step saves so much on paper alone."
)


def lines_of(result: Result, width: int = 80) -> Iterator[str]:
    """The report."""
    yield f"{clean(result.title)} ({result.procedure}, revision {result.revision})"
    yield f"{result.runs} simulated runs, seed {result.seed}, {result.events} events"
    yield from wrapped(SIMULATED, width)
    yield ""
    yield "Outcomes"
    for outcome, count in result.outcomes:
        yield f"  {outcome:<12} {count:>7}"
    yield f"  {'a job came first that may not begin':<36} {result.jobs_refused:>7}"
    yield ""
    yield from covered(result, width)
    yield from problems("Refused by the engine", result.refusals, width)
    yield from problems("Dead ends", result.dead_ends, width)
    yield from times(result)
    yield from saved(result, width)


def covered(result: Result, width: int) -> Iterator[str]:
    """What was reached, and by name what was not."""
    yield "Reached"
    for kind, met, whole in result.coverage:
        yield f"  {kind:<20} {met:>4} of {whole}"
    yield ""
    if result.missed:
        yield "Never reached"
        for missed in result.missed:
            yield from wrapped(f"{missed.words} ({missed.proof})", width, "  ")
        yield ""


def problems(title: str, found: tuple[Problem, ...], width: int) -> Iterator[str]:
    """Each with its runs, to be played again."""
    yield title + ("" if found else ": none")
    for problem in found:
        yield from wrapped(" ".join((f"{problem.times} x", *problem.where.split(), clean(problem.words))), width, "  ")
        yield f"      --replay {problem.seeds[0]}" + "".join(f" | {seed}" for seed in problem.seeds[1:])
    yield ""


def times(result: Result) -> Iterator[str]:
    """Durations of the runs that finished."""
    if not result.bars:
        return
    yield "Minutes of the runs that finished   whole run   press stands"
    for (share, total), (_, stopped) in zip(result.total_s, result.stopped_s, strict=True):
        yield f"  {NAMED.get(share, f'{100 * share:g} %'):<32} {minutes(total):>10} {minutes(stopped):>14}"
    yield ""
    most = max(count for _, _, count in result.bars)
    for low, high, count in result.bars:
        bar = "#" * round(BAR * count / most)
        yield f"  {minutes(low):>6} - {minutes(high):>6} min {count:>6} {bar}".rstrip()
    yield ""


def saved(result: Result, width: int) -> Iterator[str]:
    """What would shorten the time that the press stands."""
    if result.savings:
        yield f"Moved out of the time that the press stands (mean of {result.looked_at} runs)"
        for row in result.savings:
            yield f"  {row.name:<38.38} saves {minutes(row.numbers[0]):>5} min, critical in {100 * row.numbers[1]:.0f} %"
        yield ""
    if result.second_list_s > 0.0:
        yield f"Two lists side by side save {minutes(result.second_list_s)} min now."
    if result.helped:
        yield "A second person in a list of one could save at most"
        for row in result.helped:
            yield f"  {clean(row.name):<38.38} {minutes(row.numbers[1]):>5} of {minutes(row.numbers[0])} min"
    yield from wrapped(
        "Rates: " + ", ".join(f"{name.replace('_', ' ')} {rate:g}" for name, rate in result.rates.items()), width
    )


def minutes(seconds: float) -> str:
    """Minutes with one digit after the point."""
    return f"{seconds / 60:.1f}"


def wrapped(text: str, width: int, indent: str = "") -> Iterable[str]:
    """Lines no wider than that."""
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + "  " if indent else "")
