"""Times as a document: what was looked at, then each procedure with its standstill, chain, steps, waits and exceptions.

What was left out is said at the top. No person is named, and none is compared with another.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from runner.report.contents.marks import DRY, PLAYED
from runner.report.contents.section import Row, Section, blocks_of, data_of
from runner.report.contents.words import counted, duration_words
from runner.report.document import Block, Document, Facts, Heading, Note, Pictures
from runner.report.times.gathered import Gathered
from runner.report.times.individuals import ENOUGH, Individuals
from runner.report.times.pictures import DRAWN, Drawn, chart_picture, exceptions_picture
from runner.report.times.sections import (
    causes_section,
    chain_section,
    exceptions_section,
    runs_section,
    spread_row,
    steps_section,
    waits_section,
)
from runner.report.times.spread import KIND, nearest_rank

MOST_ROWS = 50
"""Runs in the table for people."""

TITLE = "Where changeovers spend their time"

STANDSTILL = (
    "Last good to first good lasts from when work comes to the first step of a phase marked `press: stopped` until the "
    "last such step has ended. Whether the press stands in a phase is the author's word; nothing here measures the press."
)
AID = (
    "These figures are about the procedure, not about people. None of them says that a hold, a look, a wait or a caution "
    "may be left out or hurried."
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for, and what was left out."""

    dry: bool = False
    played: bool = False
    """Whether runs played from a file are among them."""
    limits: tuple[tuple[str, str], ...] = ()
    """(name, value) of what narrows the choice."""
    left_out: tuple[tuple[str, int], ...] = ()
    """(why, how many runs)."""
    drawn: Drawn = DRAWN


def times_document(found: Sequence[Gathered], asked: Asked) -> Document:
    """The whole answer."""
    blocks: list[Block] = [Facts(tuple(asked_rows(found, asked)))]
    if not found:
        blocks.append(Note("There is no run to speak of."))
    data: list[Row] = []
    for one in found:
        sections = sections_of(one)
        data.append({**procedure_data(one), **data_of(sections)})
        blocks += procedure_blocks(one, {section.key: section for section in sections}, asked.drawn)
    if found:
        blocks += [Heading("How the figures are made"), Note(STANDSTILL), Note(KIND)]
    marks = [mark.words for mark, on in ((DRY, asked.dry), (PLAYED, asked.played)) if on]
    whole = {
        "title": TITLE, "dry": asked.dry, "played": asked.played, "limits": dict(asked.limits),
        "left_out": dict(asked.left_out), "quartiles": KIND, "procedures": data,
    }  # fmt: skip
    return Document(TITLE, tuple(blocks), whole, " - ".join(marks), AID, TITLE)


def asked_rows(found: Sequence[Gathered], asked: Asked) -> Iterator[tuple[str, str]]:
    """What was looked at."""
    yield "Runs", f"{sum(len(one.runs) for one in found)}, {'dry' if asked.dry else 'live'}"
    yield from asked.limits
    for why, count in asked.left_out:
        yield "Left out", f"{counted(count, 'run')}: {why}"


def sections_of(found: Gathered) -> tuple[Section, ...]:
    """All tables of one procedure."""
    return (
        causes_section(found), runs_section(found), chain_section(found), steps_section(found), waits_section(found),
        exceptions_section(found),
    )  # fmt: skip


def procedure_blocks(found: Gathered, sections: dict[str, Section], drawn: Drawn) -> Iterator[Block]:
    """One procedure."""
    yield Heading(f"{found.title} ({found.procedure})")
    yield Facts(tuple(standstill_rows(found)))
    chart = chart_picture(found, drawn)
    if chart is not None:
        yield Pictures((chart,))
    if found.chart is not None and len(found.chart.values) < ENOUGH:
        yield Note(f"Limits from fewer than {ENOUGH} runs move much with each further run.")
    for key, head in (
        ("causes", "What would shorten it"), ("runs", "Runs"), ("chain", "Critical path, over both people"),
        ("steps", "Steps"), ("waits", "Waits"), ("exceptions", "Exceptions"),
    ):  # fmt: skip
        yield Heading(head, 3)
        if key == "exceptions":
            bars = exceptions_picture(found, drawn)
            if bars is not None:
                yield Pictures((bars,))
        section = sections[key]
        if key == "runs" and len(section.rows) > MOST_ROWS:
            yield Note(f"The newest {MOST_ROWS} of {len(section.rows)} runs; csv and json have them all.")
            section = replace(section, rows=section.rows[-MOST_ROWS:])
        yield from blocks_of(section)


def standstill_rows(found: Gathered) -> Iterator[tuple[str, str]]:
    """The standstill, and the work beside it."""
    yield "Revisions", ", ".join(str(number) for number in sorted({run.revision for run in found.runs}))
    yield "Finished runs with known times", f"{len(found.timed)} of {len(found.runs)}"
    spread = found.stood
    if spread is not None:
        yield "Last good to first good, median", duration_words(spread.median)
        yield "Quartiles", f"{duration_words(spread.lower)} to {duration_words(spread.upper)}"
        yield "Nine in ten runs at most", duration_words(nine_in_ten(found))
    if found.chart is not None:
        yield "Usual", limits_words(found.chart)
    running, stopped = work_sums(found)
    if running + stopped > 0:
        yield "Work with the press running", f"{duration_words(running)} a run on average"
        yield "Work with the press stopped", f"{duration_words(stopped)} a run on average"


def nine_in_ten(found: Gathered) -> float:
    """A standstill that really was, and that nine in ten did not exceed."""
    return nearest_rank(sorted(run.stood for run in found.charted if run.stood is not None), 90)


def limits_words(chart: Individuals) -> str:
    """Mean and limits of the chart."""
    low = duration_words(chart.lower) if chart.lower > 0 else "0 s"
    return (
        f"{low} to {duration_words(chart.upper)}, mean {duration_words(chart.mean)}; from one run to the next at most "
        f"{duration_words(chart.range_upper)}, mean {duration_words(chart.mean_moving)}"
    )


def work_sums(found: Gathered) -> tuple[float, float]:
    """Mean time at steps, press running and stopped, over the runs whose times count."""
    count = max(1, len(found.timed))
    return sum(run.work[0] for run in found.timed) / count, sum(run.work[1] for run in found.timed) / count


def procedure_data(found: Gathered) -> Row:
    """What stands above the tables, as plain data."""
    running, stopped = work_sums(found)
    chart = found.chart
    return {
        "procedure": found.procedure, "title": found.title, "finished": len(found.timed),
        "standstill": None if found.stood is None else {
            "runs": found.stood.count, **spread_row(found.stood), "nine_in_ten_s": nine_in_ten(found),
        },
        "chart": None if chart is None else {
            "mean_s": chart.mean, "lower_s": chart.lower, "upper_s": chart.upper,
            "mean_moving_range_s": chart.mean_moving, "moving_range_upper_s": chart.range_upper, "sigma_s": chart.sigma,
            "values_s": list(chart.values), "outside": list(chart.outside), "jumps": list(chart.jumps),
        },
        "work_running_s": running, "work_stopped_s": stopped,
    }  # fmt: skip
