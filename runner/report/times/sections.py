"""The tables of times: rows of plain data with times in s, and the columns that show them to people."""

from runner.report.contents.section import Column, Row, Section
from runner.report.contents.words import counted, duration_words, moment_words
from runner.report.document import Cell
from runner.report.times.figures import Figures
from runner.report.times.gathered import Gathered
from runner.report.times.individuals import Individuals
from runner.report.times.shorter import ADVICE
from runner.report.times.spread import Spread, shares, whole_percent


def took(head: str, key: str) -> Column:
    """A column of a duration."""
    return Column(head, lambda row: duration_words(row[key]), numeric=True)


def spread_row(spread: Spread) -> Row:
    """A spread as plain data."""
    return {
        "lower_quartile_s": spread.lower, "median_s": spread.median, "upper_quartile_s": spread.upper,
        "least_s": spread.least, "most_s": spread.most,
    }  # fmt: skip


QUARTILES = (took("Lower quartile", "lower_quartile_s"), took("Median", "median_s"),
             took("Upper quartile", "upper_quartile_s"))  # fmt: skip


def runs_section(found: Gathered) -> Section:
    """One row a run, in order; runs without times say why."""
    out = outside(found.chart)
    unusual = {run.run: out[at] for at, run in enumerate(found.charted) if at in out}
    rows = tuple(run_row(at, run, unusual.get(run.run, "")) for at, run in enumerate(found.runs, start=1))
    columns = (
        Column("No.", "number", numeric=True),
        Column("Run", lambda row: (row["run"], moment_words(row["began"]))),
        Column("Ended as", outcome_cell),
        took("Last good to first good", "stood_s"),
        took("Work, press running", "work_running_s"),
        took("Work, press stopped", "work_stopped_s"),
        took("In all", "whole_s"),
    )
    return Section("runs", "Runs, the oldest first", columns, rows, "There are no runs.",
                   mark=lambda row: bool(row["unusual"]), marked="unusual")  # fmt: skip


def run_row(number: int, run: Figures, unusual: str) -> Row:
    """One run."""
    known = run.whole is not None
    running, stopped = run.work if known else (None, None)
    return {
        "number": number, "run": run.run, "revision": run.revision, "began": run.began, "outcome": run.outcome,
        "counted": run.counts, "stood_s": run.stood, "work_running_s": running, "work_stopped_s": stopped,
        "waited_s": sum(map(sum, run.waits.values())) if known else None, "whole_s": run.whole,
        "exceptions": len(run.exceptions), "unusual": unusual,
    }  # fmt: skip


def outcome_cell(row: Row) -> Cell:
    """How a run ended, and what is to be said of its times."""
    lines = [row["outcome"]]
    if row["whole_s"] is None:
        lines.append("machine restarted, times not known")
    if row["unusual"]:
        lines.append(row["unusual"])
    return tuple(lines)


def outside(chart: Individuals | None) -> dict[int, str]:
    """What is unusual about which place of the chart."""
    if chart is None:
        return {}
    words = dict.fromkeys(chart.jumps, "moved more than is usual")
    for at in chart.outside:
        words[at] = "above the limits" if chart.values[at] > chart.upper else "below the limits"
    return words


def steps_section(found: Gathered) -> Section:
    """Steps with their quartiles."""
    rows = tuple(
        {
            "step": one.step, "step_number": one.number, "by": one.by, "press": one.press, "done": one.spread.count,
            **spread_row(one.spread), "on_chain_runs": one.on_chain, "runs": len(found.timed),
        }
        for one in found.steps
    )  # fmt: skip
    columns = (
        Column("Step", lambda row: f"{row['step_number']} {row['step']}"),
        Column("Press", "press"),
        Column("Done", "done", numeric=True),
        *QUARTILES,
        Column("On the chain", lambda row: f"{row['on_chain_runs']} of {row['runs']}", numeric=True),
    )
    return Section("steps", "Steps", columns, rows, "No step was done in a finished run.")


def waits_section(found: Gathered) -> Section:
    """Waits by reason."""
    rows = tuple(
        {
            "reason": one.reason, "times": one.spread.count, "runs": one.runs, "total_s": one.total,
            **spread_row(one.spread),
        }
        for one in found.waits
    )  # fmt: skip
    columns = (
        Column("Waited for", "reason"),
        Column("Times", "times", numeric=True),
        Column("In runs", "runs", numeric=True),
        took("In all", "total_s"),
        took("Median", "median_s"),
        took("Longest", "most_s"),
    )
    return Section("waits", "Waits by reason, the largest first", columns, rows, "Nobody waited.")


def exceptions_section(found: Gathered) -> Section:
    """Pareto of exceptions."""
    parts = shares([one.count for one in found.exceptions])
    rows = tuple(
        {
            "step": one.step, "step_number": found.plan[one.step].number if one.step in found.plan else "",
            "what": one.what, "count": one.count, "runs": one.runs, "share_up_to_here": part,
        }
        for one, part in zip(found.exceptions, parts, strict=True)
    )  # fmt: skip
    columns = (
        Column("Step", lambda row: f"{row['step_number']} {row['step']}".strip()),
        Column("What", "what"),
        Column("Count", "count", numeric=True),
        Column("In runs", "runs", numeric=True),
        Column("Share up to here", lambda row: f"{whole_percent(row['share_up_to_here'])} %", numeric=True),
    )
    return Section("exceptions", "Exceptions, the most frequent first", columns, rows, "No exception was noted.")


def chain_section(found: Gathered) -> Section:
    """The chain of the newest run whose times count."""
    run = found.timed[-1] if found.timed else None
    rows: list[Row] = []
    for link in found.chain:
        step = found.plan[link.step]
        rows.append({
            "step": step.id, "step_number": step.number, "by": step.by, "press": step.press, "ended": link.how,
            "from_s": link.since, "took_s": link.took, "gap_before_s": link.gap,
            "waited_for_other_list_s": link.waited,
        })  # fmt: skip
    columns = (
        Column("Step", lambda row: f"{row['step_number']} {row['step']}"),
        Column("Press", "press"),
        took("Gap before", "gap_before_s"),
        took("Took", "took_s"),
        Column("Beside it", beside_cell),
    )
    name = f" of run {run.run}" if run is not None else ""
    return Section("chain", f"Chain{name}, the newest that is finished", columns, tuple(rows), "No run is finished.")


def beside_cell(row: Row) -> Cell:
    """What else is to be said of a link."""
    lines = [] if row["ended"] == "done" else [row["ended"]]
    if row["waited_for_other_list_s"]:
        lines.append(f"waited {duration_words(row['waited_for_other_list_s'])} for the other list")
    return tuple(lines)


def causes_section(found: Gathered) -> Section:
    """What would shorten it."""
    count = len(found.charted)
    rows = tuple(
        {
            "kind": one.kind, "what": one.what, "runs": one.runs, "of_runs": count, "total_s": one.seconds,
            "a_run_s": one.seconds / count, "look_at": ADVICE[one.kind],
        }
        for one in found.causes
    )  # fmt: skip
    columns = (
        Column("On the chain", "what"),
        Column("In runs", lambda row: f"{row['runs']} of {row['of_runs']}", numeric=True),
        took("At most, a run on average", "a_run_s"),
        Column("Look at", "look_at"),
    )
    return Section("causes", f"What stands on the chain in {counted(count, 'run')}", columns, rows,
                   "Nothing on the chain stands out.")  # fmt: skip
