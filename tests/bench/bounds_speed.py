"""Prints how long bounds of formulas take: python -m tests.bench.bounds_speed

Goals: under 5 ms a formula on the mean, and under 50 ms for all formulas of change-roll. Each is also given as a ratio to
compiling the procedure in the same run.
"""

import statistics
import time
from collections.abc import Callable
from pathlib import Path

from runner.formula.enclose import bounds
from runner.lint.jobs import judged, looked_at, subjects
from runner.procedure.compile import compile_procedure
from runner.procedure.jobs.over import worked_over
from runner.procedure.jobs.space import Space
from runner.procedure.model import Procedure

FOLDER = Path(__file__).parent.parent.parent / "procedures"
RUNS = 9


def seconds(function: Callable[[], object]) -> float:
    """Median of a few runs."""
    taken = []
    for _ in range(RUNS):
        began = time.perf_counter()
        function()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken)


def compiled(path: Path) -> Procedure:
    """A shipped procedure."""
    found = compile_procedure(
        path.read_text("utf-8"), path.name, lambda name: (FOLDER / Path(name).name).read_text("utf-8")
    )
    assert found.procedure is not None, found.findings
    return found.procedure


def main() -> None:
    """Print all."""
    path = FOLDER / "change-roll.procedure.yaml"
    procedure = compiled(path)
    space = Space(procedure, [worked.name for worked in procedure.calculations])
    box = worked_over(space, space.start()) or {}
    formulas = [subject.expr for subject in subjects(procedure)]
    load = seconds(lambda: compiled(path))
    for words, task, parts in (
        ("bounds of every formula", lambda: [bounds(expr, box, procedure.scope) for expr in formulas], len(formulas)),
        ("a result for every allowed job, all formulas", lambda: looked_at(procedure), len(formulas)),
        ("verdicts on all limits", lambda: judged(procedure), len(judged(procedure))),
    ):
        taken = seconds(task)
        print(
            f"{words}: {taken * 1e3:.1f} ms, {taken / parts * 1e3:.2f} ms each ({parts}), {taken / load:.2f} x compiling"
        )


if __name__ == "__main__":
    main()
