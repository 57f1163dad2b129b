"""The answer as plain data for other programs: numbers in their unit and in SI, verdicts, and texts as they stand."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from runner.formula.units import Unit
from runner.procedure.working import Worked
from runner.report.formats.json import plain
from runner.report.working.asked import Asked
from runner.report.working.given import Given

if TYPE_CHECKING:  # as in `asked`
    from runner.report.working.nearest import Nearest
    from runner.report.working.swept import Swept

Data = dict[str, object]


def data_of(asked: Asked) -> object:
    """`values`, `sweep`, `worst` and `paths`, as far as they were asked for; with the procedure and what was given."""
    procedure = asked.procedure
    data: Data = {
        "procedure": {"id": procedure.id, "revision": procedure.revision, "digest": procedure.digest},
        "given": {name: {"shown": one.shown, "from": one.origin} for name, one in asked.given.items()},
    }
    if asked.results is not None:
        data["values"] = {name: value_data(found) for name, found in asked.results.worked.items()}
        data["lacking"] = {name: list(needs) for name, needs in asked.results.lacking.items()}
    if asked.swept is not None:
        data["sweep"] = sweep_data(asked.swept)
    if asked.nearest is not None:
        data["worst"] = [nearest_data(near) for near in asked.nearest]
    if asked.paths is not None:
        from runner.report.working.paths import data_of_paths

        data["paths"] = data_of_paths(asked.paths)
    return plain(data)


def value_data(found: Worked) -> Data:
    """One result."""
    failed = found.verdict == "failed"
    data: Data = {
        "magnitude": found.magnitude,
        "unit": found.unit,
        "si": None if failed else found.value,
        "verdict": found.verdict,
        "shown": found.shown,
        "limits": found.limits,
        "formula": found.formula,
        "working": found.working,
        "inputs": dict(found.inputs),
        "origins": dict(found.origins),
    }
    if found.ends:
        data["ends"] = [dict(end) for end in found.ends]
    if found.gives:
        data["gives"] = found.gives
    if found.rough:
        data["rough"] = found.rough
    if failed:
        data["why"] = found.shown
    return data


def sweep_data(swept: "Swept") -> Data:
    """The sweep: a point a place, in each the values that were picked."""
    sweep = swept.sweep
    return {
        "name": sweep.source.name,
        "unit": None if sweep.unit is None else sweep.unit.text,
        "values": list(swept.names),
        "points": [
            {
                **given_data(given, sweep.unit),
                "values": {name: brief_data(swept.along(name)[at]) for name in swept.names},
            }
            for at, given in enumerate(sweep.given)
        ],
        "steady": list(swept.steady),
        "lacking": {name: list(needs) for name, needs in swept.lacking.items()},
    }


def given_data(given: Given, unit: Unit | None) -> Data:
    """What the swept name was."""
    if unit is None or isinstance(given.value, str):
        return {"text": given.value}
    return {"magnitude": unit.magnitude(float(given.value)), "si": given.value, "shown": given.shown}


def brief_data(found: Worked) -> Mapping[str, object]:
    """A result at one place; its formula and working are those of the plain values."""
    data = value_data(found)
    return {key: data[key] for key in data if key not in ("formula", "working", "inputs", "origins")}


def nearest_data(near: "Nearest") -> Data:
    """One limit with its nearest job."""
    return {
        "name": near.name,
        "limit": near.limit,
        "value": near.unit.magnitude(near.value),
        "value_si": near.value,
        "unit": near.unit.text,
        "reserve": near.between.magnitude(near.margin),
        "reserve_si": near.margin,
        "reserve_percent": near.percent,
        "broken": near.broken,
        "proven": near.proven,
        "job": dict(near.job),
    }
