"""The result of a simulation as one document, for html and every other format of reports: figures, drawings, what sticks.

Each drawing says in words what it shows; each refusal and dead end has the seed that plays it again.
"""

from collections.abc import Iterator

from runner.report.document import Block, Document, Facts, Heading, Note, Picture, Pictures, Table
from runner.report.working.bars import bar_lines
from runner.report.working.marks import UNICODE
from runner.report.working.svg import bars_svg
from runner.report.working.swept import Curve
from runner.training.schedule.arranged import Arrangement
from runner.training.schedule.chart import lines, strips_of, svg
from runner.training.simulate.result import Problem, Result, as_data
from runner.training.simulate.text import NAMED, SIMULATED, minutes

WIDTH = 78
CAUTION = "None of this says that a hold, a look, a wait or a caution may be left out or hurried."
REPLAY = "A run is played again by its seed: changeover simulate PROC --replay SEED"


def document(result: Result, arrangement: Arrangement) -> Document:
    """The whole answer; the arrangement is made of the mean times of the runs."""
    title = f"Simulated runs: {result.title}"
    running = f"{result.procedure}, revision {result.revision}, text {result.digest[:12]}"
    blocks: list[Block] = [
        Facts(tuple(facts(result))), Note(SIMULATED), Heading("Reached"), coverage(result), *missed(result),
        Heading("What stuck"), *problems("Refused by the engine", result.refusals), *problems("Dead ends", result.dead_ends),
        Note(REPLAY), *times(result), *saved(result), *side_by_side(result, arrangement),
        Heading("How it was played"), rates(result),
    ]  # fmt: skip
    return Document(title, tuple(blocks), as_data(result), "SIMULATED", CAUTION, running)


def facts(result: Result) -> Iterator[tuple[str, str]]:
    """What was played."""
    yield "Procedure", f"{result.procedure}, revision {result.revision}"
    yield "Runs", f"{result.runs}, seed {result.seed}, {result.events} events"
    yield "Outcomes", ", ".join(f"{count} {outcome}" for outcome, count in result.outcomes)
    yield "A job came first that may not begin", str(result.jobs_refused)


def coverage(result: Result) -> Table:
    """What was reached of what there is; a kind with something left is marked."""
    rows = tuple((kind, str(met), str(whole)) for kind, met, whole in result.coverage)
    left = frozenset(at for at, (_, met, whole) in enumerate(result.coverage) if met < whole)
    return Table("What runs came to", ("Kind", "Reached", "Of"), rows, left, frozenset({1, 2}))


def missed(result: Result) -> Iterator[Block]:
    """By name what no run came to."""
    if not result.missed:
        yield Note("Every one of them was reached.")
        return
    rows = tuple((one.words, one.proof) for one in result.missed)
    yield Table("Never reached", ("What", "What the proofs say of it"), rows)


def problems(title: str, found: tuple[Problem, ...]) -> Iterator[Block]:
    """Each with its runs."""
    if not found:
        yield Note(f"{title}: none.")
        return
    rows = tuple((str(one.times), one.where, one.words, one.seeds) for one in found)
    marks = frozenset(range(len(rows)))
    yield Table(title, ("Times", "Where", "In whose words", "Seeds"), rows, marks, frozenset({0}))


def times(result: Result) -> Iterator[Block]:
    """How long the runs that finished lasted."""
    yield Heading("How long runs lasted")
    if not result.bars:
        yield Note("No run finished.")
        return
    rows = tuple(
        (NAMED.get(share, f"{100 * share:g} %"), minutes(total), minutes(stopped))
        for (share, total), (_, stopped) in zip(result.total_s, result.stopped_s, strict=True)
    )
    yield Table(
        "Minutes of the runs that finished", ("Share", "Whole run", "Press stands"), rows, numeric=frozenset({1, 2})
    )
    names = tuple(f"{minutes(low)} to {minutes(high)} min" for low, high, _ in result.bars)
    yield Pictures((bars("How many runs lasted how long", "runs", names, [float(n) for *_, n in result.bars]),))


def saved(result: Result) -> Iterator[Block]:
    """What would shorten the time that the press stands."""
    if not result.savings:
        return
    yield Heading("What would shorten the time that the press stands")
    rows = tuple((row.name, minutes(row.numbers[0]), f"{100 * row.numbers[1]:.0f} %") for row in result.savings)
    yield Table(
        f"Steps moved out of that time: what it saves in the mean of {result.looked_at} runs, and how often the step lies on "
        "the critical path",
        ("Step", "Saves min", "Critical"),
        rows,
        numeric=frozenset({1, 2}),
    )
    names = tuple(row.name for row in result.savings)
    yield Pictures((bars("Minutes saved", "min", names, [round(row.numbers[0] / 60, 1) for row in result.savings]),))
    if result.second_list_s > 0.0:
        yield Note(f"Two lists side by side save {minutes(result.second_list_s)} min now.")
    if result.helped:
        helped = tuple((row.name, minutes(row.numbers[0]), minutes(row.numbers[1])) for row in result.helped)
        yield Table(
            "A second person in a phase with one list, if it were split", ("Phase", "Alone min", "Could save min"), helped,
            numeric=frozenset({1, 2}),
        )  # fmt: skip


def side_by_side(result: Result, arrangement: Arrangement) -> Iterator[Block]:
    """The arrangement of mean times."""
    if not result.looked_at:
        return
    yield Heading("The best order by the mean times of the runs")
    strips = strips_of(arrangement)
    said = (
        f"As written {minutes(arrangement.total('comes'))} min, two people at best {minutes(arrangement.total('two'))} min, "
        f"one person {minutes(arrangement.total('one'))} min."
    )
    caption = "Who does what when, without troubles and interruptions"
    yield Pictures((Picture(caption, svg(strips, "Chart of the arrangement", said), lines(strips)),))
    yield Note(said + " The command schedule tells each order.")


def rates(result: Result) -> Facts:
    """How often things go otherwise, by the number that was set."""
    return Facts(tuple((name.replace("_", " "), f"{rate:g}") for name, rate in result.rates.items()))


def bars(caption: str, unit: str, names: tuple[str, ...], values: list[float]) -> Picture:
    """Bars, one under the other."""
    curve = Curve(
        caption, unit, tuple(float(at) for at in range(len(names))), tuple(values), ("in",) * len(names), ()
    )  # fmt: skip
    drawn = tuple(line.plain for line in bar_lines(curve, names, WIDTH, UNICODE))
    return Picture(caption, bars_svg(curve, names), drawn)
