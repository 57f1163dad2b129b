"""Loads of a job held against the ratings of the site's lifting gear, for whoever works a job out at the desk."""

from collections.abc import Mapping

from runner.formula.evaluate import Value
from runner.formula.quantity import show
from runner.procedure.model import Procedure, steps_of
from runner.procedure.site_facts import GearRow
from runner.procedure.working import units_of


def too_heavy(procedure: Procedure, gear: tuple[GearRow, ...] | None, values: Mapping[str, Value]) -> tuple[str, ...]:
    """Each piece of gear that would carry more than its rating at some step, a line each; loads that are not known are left out."""
    rows, units = {row[0]: row for row in gear or ()}, units_of(procedure)
    lines = []
    for step in steps_of(procedure):
        for load, names in step.lifts:
            mass = values.get(load)
            for _, label, rating, written, _day in (rows[name] for name in names if name in rows):
                if isinstance(mass, float) and mass > rating * (1 + 1e-12):
                    lines.append(f"{label} carries {written} (site file); {load} is {show(mass, units[load])}")
    return tuple(dict.fromkeys(lines))
