"""`changeover work PROC`: the arithmetic of a procedure alone, for a job given by a file or by `--set`.

Values that rest on readings of a run are left out unless their readings are given too.
"""

import argparse
import json
import sys

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.load import Stopped, load_job, load_procedure, settings, typed_of
from runner.formula.evaluate import Value
from runner.formula.quantity import Misread, read_quantity, show
from runner.procedure.asks.ask import Misread as Unread
from runner.procedure.model import Procedure
from runner.procedure.ticket import judge_input
from runner.procedure.working import Worked, units_of, uses, work_out


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("procedure", metavar="PROC", help="a *.procedure.yaml file")
    parser.add_argument("--job", metavar="FILE", help="values of the job ticket")
    parser.add_argument(
        "--set", action="append", default=[], metavar="NAME=VALUE", help="one value, as one would type it"
    )
    parser.add_argument("--json", action="store_true", help="values as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """Work out all that the given values allow."""
    procedure = load_procedure(options.procedure)
    if isinstance(procedure, Stopped):
        return procedure.code
    typed: dict[str, str] = {}
    if options.job:
        job = load_job(options.job, procedure)
        if isinstance(job, Stopped):
            return job.code
        typed.update(typed_of(job.inputs))
    given = settings(options.set)
    if isinstance(given, Stopped):
        return given.code
    typed.update(given)
    taken = take(procedure, typed)
    if isinstance(taken, str):
        print(f"changeover: {taken}", file=sys.stderr)
        return USAGE
    values, shown = taken
    worked = work_all(procedure, values, shown)
    if options.json:
        print(json.dumps({"values": {name: as_data(found) for name, found in worked.items()}}, ensure_ascii=False))
    else:
        print("\n".join(lines(procedure, worked, shown)))
    return FINDINGS if any(found.verdict != "in" for found in worked.values()) else DONE


def take(procedure: Procedure, typed: dict[str, str]) -> tuple[dict[str, Value], dict[str, str]] | str:
    """Typed values of inputs and readings as values and as shown; or what is wrong with one."""
    inputs = {given.name: given for given in procedure.inputs}
    units = units_of(procedure)
    worked = {calculation.name for calculation in procedure.calculations}
    values: dict[str, Value] = {}
    shown: dict[str, str] = {}
    for name, text in typed.items():
        if name in inputs:
            judged = judge_input(inputs[name], text)
            if isinstance(judged, Unread):
                return judged.message
            unit = inputs[name].unit
            values[name], shown[name] = judged.value, judged.shown
            if unit is not None and isinstance(judged.value, float):
                shown[name] = show(judged.value, unit)
        elif name in units and name not in worked:
            read = read_quantity(text, units[name])
            if isinstance(read, Misread):
                return f"{name}: {read.message}"
            values[name], shown[name] = read.si, show(read.si, units[name])
        else:
            return f"{name} is neither an input nor a reading of this procedure"
    return values, shown


def work_all(procedure: Procedure, values: dict[str, Value], shown: dict[str, str]) -> dict[str, Worked]:
    """Every calculation whose values are known, in order."""
    worked: dict[str, Worked] = {}
    for calculation in procedure.calculations:
        if uses(calculation) <= values.keys():
            found = work_out(procedure, calculation, values, shown)
            worked[calculation.name] = found
            if found.verdict != "failed":
                values[calculation.name], shown[calculation.name] = found.value, found.shown
    return worked


def as_data(found: Worked) -> dict[str, object]:
    """One value as JSON: a number with its unit, or pieces at each end."""
    if found.ends:
        return {
            "ends": [dict(end) for end in found.ends],
            "magnitude": found.magnitude,
            "unit": found.unit,
            "si": found.value,
            "verdict": found.verdict,
        }
    failed = found.verdict == "failed"
    return {
        "magnitude": found.magnitude,
        "unit": found.unit,
        "si": None if failed else found.value,
        "verdict": found.verdict,
        **({"why": found.shown} if failed else {}),
    }


def lines(procedure: Procedure, worked: dict[str, Worked], shown: dict[str, str]) -> list[str]:
    """The values for people: result, working, limits."""
    text = [f"{procedure.title}, revision {procedure.revision} ({procedure.status})", ""]
    text += [f"  {name} = {shown[name]}" for name in shown if name not in worked]
    for name, found in worked.items():
        text += ["", f"{name} = {found.shown}", f"    {found.formula}", f"    {found.working}"]
        if found.limits:
            mark = "within" if found.verdict == "in" else "OUT OF LIMITS"
            text.append(f"    {mark}: {found.limits}")
    missing = [c.name for c in procedure.calculations if c.name not in worked]
    if missing:
        text += ["", f"not worked out, for want of values: {', '.join(missing)}"]
    return text
