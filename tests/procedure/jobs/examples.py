"""Procedures of a few inputs and calculations, and random jobs for them."""

from random import Random

from runner.formula.evaluate import Value
from runner.formula.interval import Interval
from runner.procedure.compile import compile_procedure
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.typed import all_worked_out, shown
from runner.procedure.model import Calculation, Procedure
from runner.procedure.working import work_out
from tests.lint.examples import whole


def procedure(text: str) -> Procedure:
    """A compiled procedure around some inputs and calculations."""
    compiled = compile_procedure(whole(text), "example.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


def calculation(of: Procedure, name: str) -> Calculation:
    """One calculation by its name."""
    found = next(worked for worked in of.calculations if worked.name == name)
    assert isinstance(found, Calculation)
    return found


def plain(inputs: dict[str, tuple[float, float]], calculations: dict[str, tuple[str, str]]) -> str:
    """The text of a procedure over plain numbers: bands of the inputs, formula and limit ("" for none) of each calculation."""
    lines = ["inputs:"]
    for name, (low, high) in inputs.items():
        lines.append(f'  {name}: {{ask: A number, unit: "1", within: [{low!r}, {high!r}]}}')
    lines.append("calculations:")
    for name, (formula, limit) in calculations.items():
        lines.append(f'  {name}: {{formula: "{formula}", unit: "1"' + (f', limit: "{limit}"}}' if limit else "}"))
    return "\n".join(lines) + "\n"


def jobs(space: Space, number: int, seed: int) -> list[dict[str, Value]]:
    """Random jobs: ends of the bands as often as points between."""
    random = Random(seed)
    bands = {name: part for name, part in space.start().items() if isinstance(part, Interval)}
    return [
        {
            name: random.choice((band.low, band.high, random.uniform(band.low, band.high)))
            for name, band in bands.items()
        }
        for _ in range(number)
    ]


def verdict(space: Space, job: dict[str, Value], name: str) -> str:
    """What a run says of a calculation for a job: in, out or failed; `not allowed` where what it rests on is not in."""
    texts = {given: repr(value) for given, value in job.items()}
    values = all_worked_out(space, texts, name)
    if values is None:
        return "not allowed"
    return work_out(space.procedure, space.worked[name], values, shown(space, values)).verdict
