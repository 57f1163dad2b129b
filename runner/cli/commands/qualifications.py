"""`changeover qualifications`: the register of qualifications, and for a procedure who may do it today.

`enter` adds what was shown elsewhere (at the press, or that a change was read), `withdraw` takes back what a person had;
nothing is ever changed or removed.
"""

import argparse
import json
import sys
from dataclasses import asdict
from datetime import date

from runner.cli.exits import DAMAGED, DONE, FINDINGS, USAGE
from runner.cli.load import Stopped, load_procedure
from runner.cli.qualifying import register_of, register_path
from runner.cli.records import add_records
from runner.cli.site import add_site
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.procedure.qualified import LEVELS, READ, may_do
from runner.record.clock import SystemClock, wall_of
from runner.record.qualifications import WITHDRAWN, Entered, Qualifications, enter_qualification, in_force

ACTS = ("list", "enter", "withdraw")


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("act", nargs="?", choices=ACTS, default="list", help="list if left out")
    parser.add_argument("--person", metavar="NAME", default="", help="of this person alone; whose it is")
    parser.add_argument("--procedure", metavar="PROC", help="who may do this procedure today; what it is for")
    parser.add_argument("--level", choices=(*LEVELS, READ), help="the level that was shown; read: a change was read")
    parser.add_argument("--assessor", metavar="NAME", default="", help="who saw it, and enters it")
    parser.add_argument(
        "--until", metavar="DATE", default="", help="the last day on which it counts; no end if left out"
    )
    parser.add_argument("--words", default="", help="why, or what was seen")
    add_records(parser)
    add_site(parser)
    parser.add_argument("--json", action="store_true", help="the register as JSON")


def run(options: argparse.Namespace) -> int:
    """List, or enter."""
    procedure = load_procedure(options.procedure) if options.procedure else None
    if isinstance(procedure, Stopped):
        return procedure.code
    if options.act == "list":
        return listed(options, procedure)
    return entered(options, procedure)


def listed(options: argparse.Namespace, procedure: Procedure | None) -> int:
    """What stands in the register."""
    register = register_of(options)
    if isinstance(register, Stopped):
        return register.code
    entries = tuple(entry for entry in register.entries if fits(entry, options.person, procedure))
    today = SystemClock().now().utc[:10]
    people = tuple(dict.fromkeys(entry.person for entry in entries))
    against = {one: may_do(one, procedure, in_force(register.entries), today) for one in people} if procedure else {}
    if options.json:
        shown = {"register": register_path(options), "flaw": register.flaw, "entries": [asdict(one) for one in entries]}
        print(
            json.dumps(
                {**shown, "today": {one: why or "qualified" for one, why in against.items()}}, ensure_ascii=False
            )
        )
    else:
        print(table(register, entries, today))
        for one, why in against.items():
            print(clean(f"{one}: {why or 'qualified today'}"))
    return DAMAGED if register.flaw else FINDINGS if any(against.values()) else DONE


def fits(entry: Entered, person: str, procedure: Procedure | None) -> bool:
    """Whether a line is asked for."""
    mine = not person or " ".join(person.split()).casefold() == " ".join(entry.person.split()).casefold()
    return mine and (procedure is None or entry.procedure == procedure.id)


COLUMNS = ("person", "procedure", "rev.", "class", "level", "date", "until", "assessor", "shown by")


def table(register: Qualifications, entries: tuple[Entered, ...], today: str) -> str:
    """The lines in columns; what no longer counts says so."""
    if not register.entries:
        return "The register of qualifications is empty."
    rows = [COLUMNS, *(cells(entry, today) for entry in entries)]
    widths = [max(len(row[at]) for row in rows) for at in range(len(COLUMNS))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    )


def cells(entry: Entered, today: str) -> tuple[str, ...]:
    """One line."""
    until = entry.until or "no end"
    until = f"{until} (past)" if entry.until and entry.until < today else until
    shown = f"run {entry.run}" if entry.run else entry.words or "-"
    texts = (
        entry.person, entry.procedure, str(entry.revision), entry.revision_class, entry.level, entry.day, until,
        f"{entry.assessor} ({entry.identity})", shown,
    )  # fmt: skip
    return tuple(clean(text) for text in texts)


def entered(options: argparse.Namespace, procedure: Procedure | None) -> int:
    """Add a line."""
    from runner.cli.signing import identified

    level = WITHDRAWN if options.act == "withdraw" else options.level
    lacks = [
        name
        for name, given in (
            ("--person", options.person), ("--procedure", procedure), ("--level", level), ("--assessor", options.assessor),
            ("--words", options.words or options.act == "enter"),
        )
        if not given
    ]  # fmt: skip
    if lacks or procedure is None:
        print(f"changeover: {options.act} needs {', '.join(lacks)}", file=sys.stderr)
        return USAGE
    if options.until and not is_day(options.until):
        print(f"changeover: --until takes a date like 2027-06-30, not {options.until!r}", file=sys.stderr)
        return USAGE
    if " ".join(options.person.split()).casefold() == " ".join(options.assessor.split()).casefold() and level != READ:
        print("changeover: nobody enters themselves", file=sys.stderr)
        return USAGE
    identity = identified(options, options.assessor)
    if isinstance(identity, Stopped):
        return identity.code
    now = wall_of(SystemClock().now())
    asked = next((change.retrain for change in procedure.changes if change.revision == procedure.revision), "none")
    entry = Entered(
        " ".join(options.person.split()), procedure.id, procedure.revision, asked, level, now.date().isoformat(),
        options.until, options.assessor, identity, "", "", "", 0, options.words, now.isoformat(timespec="seconds"),
    )  # fmt: skip
    refused = enter_qualification(register_path(options), entry)
    if refused is not None:
        print(f"changeover: {refused.words}", file=sys.stderr)
        return USAGE
    print(f"entered in {register_path(options)}", file=sys.stderr)
    return DONE


def is_day(text: str) -> bool:
    """Whether a text is a date."""
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
