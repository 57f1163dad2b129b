"""Every calculation that given values allow, in order, and what the others lack."""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.formula.evaluate import Value
from runner.procedure.model import Procedure
from runner.procedure.working import Worked, uses, work_out
from runner.report.working.given import Given


@dataclass(frozen=True, slots=True)
class Results:
    """What came out for one job."""

    worked: Mapping[str, Worked]
    """By name, in the order of the procedure; those that lack a value are absent."""
    lacking: Mapping[str, tuple[str, ...]]
    """By name of what could not be begun: the given values that it still needs."""
    values: Mapping[str, Value]
    """All values of the job: given and worked out, the last without those that failed."""

    @property
    def clean(self) -> bool:
        """True where no value is out of limits or without a result."""
        return all(found.verdict == "in" for found in self.worked.values())


def work_all(procedure: Procedure, given: Mapping[str, Given], *, brief: bool = False) -> Results:
    """Work out all that the given values allow. `brief`: only numbers and verdicts, for what is drawn and not read."""
    values = {name: one.value for name, one in given.items()}
    shown = {} if brief else {name: one.shown for name, one in given.items()}
    origins = {} if brief else {name: one.origin for name, one in given.items()}
    worked: dict[str, Worked] = {}
    lacking: dict[str, tuple[str, ...]] = {}
    for calculation in procedure.calculations:
        name = calculation.name
        missing = sorted(uses(calculation) - values.keys())
        if missing:
            # what a missing calculation lacks is what this one lacks
            lacking[name] = tuple(dict.fromkeys(below for one in missing for below in lacking.get(one, (one,))))
            continue
        found = work_out(procedure, calculation, values, shown, origins)
        worked[name] = found
        if found.verdict == "failed":
            lacking[name] = (name,)
        else:
            values[name] = found.value
            if not brief:
                shown[name] = found.shown
    return Results(worked, {name: names for name, names in lacking.items() if name not in worked}, values)


def depending(procedure: Procedure, name: str) -> tuple[str, ...]:
    """The calculations that a value has a part in, directly or through others, in order."""
    reached = {name}
    for calculation in procedure.calculations:
        if uses(calculation) & reached:
            reached.add(calculation.name)
    return tuple(calculation.name for calculation in procedure.calculations if calculation.name in reached)
