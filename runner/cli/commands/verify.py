"""`changeover verify RUN`, or FOLDER: is this record whole and unchanged, and does all that vouches for it agree.

Names the line where a record is damaged, and exits 5 then; the same where the register of heads, a signature or a code
that was written down contradicts it. A record that is not signed is said to be so, and is in order.
"""

import argparse
import json
import os
import sys

from runner.cli.exits import DAMAGED, DONE, USAGE
from runner.cli.files import Unreadable, records_folder
from runner.cli.records import add_records, journal_path
from runner.cli.site import add_site
from runner.cli.vouching import Looked, Trust, data_of, lines_of, look, register_beside, register_words, trust_of
from runner.procedure.clean import clean
from runner.record.head_code import read_code
from runner.record.refused import Refused
from runner.record.register import Register, gone, removed_words
from runner.record.registering import folder_of


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    words = "a run's id, the beginning of it, the path of its journal, or a folder of records; all records if left out"
    parser.add_argument("run", metavar="RUN", nargs="?", help=words)
    add_records(parser)
    add_site(parser)
    parser.add_argument(
        "--head", metavar="CODE", help="the head code that was written down, in quotes: is it of this record"
    )
    parser.add_argument(
        "--key", metavar="FILE", help="public keys, one a line: the record is to be signed by one of them"
    )
    parser.add_argument("--rebuild", action="store_true", help="begin the register of a folder anew from its records")
    parser.add_argument(
        "--removed", metavar="RUN", nargs="+", help="say that the records of these runs were taken away on purpose"
    )
    parser.add_argument("--by", metavar="NAME", default="", help="with --removed: who took them away")
    parser.add_argument("--why", metavar="WORDS", default="", help="with --removed: why")
    parser.add_argument("--json", action="store_true", help="the result as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """Read every line and say what is wrong with it."""
    given = read_code(options.head) if options.head else None
    if options.head and given is None:
        return refuse("The code was not written or typed as a head code is: look at it again, symbol by symbol.")
    folder = options.run if options.run and os.path.isdir(options.run) else ""
    if not options.run:
        folder = records_folder(options.records)
    path = "" if folder else journal_path(options)
    if isinstance(path, Refused):
        return refuse(path.words)
    options.records = folder or folder_of(path) or options.records  # the site file lies beside it
    trust = trust_of(options)
    if isinstance(trust, Unreadable):
        return refuse(trust.words)
    if folder and given is not None:
        return refuse("A code is of one record: name its run.")
    if folder and options.removed:
        return say_removed(os.path.abspath(folder), options)
    if folder:
        return all_of(os.path.abspath(folder), trust, options)
    if options.rebuild or options.removed:
        return refuse("The register is of a folder of records: name the folder, not a run.")
    looked = look(path, trust, given, register_beside(path))
    if isinstance(looked, Refused):
        return refuse(looked.words)
    if options.json:
        print(json.dumps(data_of(looked), ensure_ascii=False))
    else:
        print("\n".join(map(clean, lines_of(looked))))
        tell(looked)
    return DONE if looked.good else DAMAGED


def tell(looked: Looked) -> None:
    """What it comes to, where something is wrong."""
    if not looked.found.whole:
        print(f"changeover: the record is damaged; {looked.found.events} lines are in order", file=sys.stderr)
    elif not looked.good:
        words = next(finding.words for finding in looked.vouched.findings if finding.grave)
        print(f"changeover: the record is whole in itself, and contradicted: {words}", file=sys.stderr)


def all_of(folder: str, trust: Trust, options: argparse.Namespace) -> int:
    """Every record of a folder, and what its register says of records that are not there."""
    from runner.record.registering import rebuild, register_at, runs_there, strays

    if options.rebuild:
        from runner.record.clock import SystemClock

        count = rebuild(folder, SystemClock().now().utc)
        if isinstance(count, Refused):
            return refuse(count.words)
        print(f"changeover: the register of {folder} begins anew with {count} records", file=sys.stderr)
    register = register_at(folder)
    there = runs_there(folder)
    looks: list[Looked] = []
    wrong: list[str] = []
    for path in (path for paths in there.values() for path in paths):
        looked = look(path, trust, None, register, alone=False)
        if isinstance(looked, Refused):
            wrong.append(f"{path}: {looked.words}")
        else:
            looks.append(looked)
    known = register if isinstance(register, Register) else None
    missing = list(gone(known, there)) if known is not None else []
    wrong += [f"{run}: {one.kind}: {one.words}" for run, one in missing if one.grave]
    removed = [f"{run}: {one.kind}: {one.words}" for run, one in missing if not one.grave]
    wrong += [f"{path}: no record lies here: it was not looked at" for path in strays(folder)]
    flawed = isinstance(register, Refused) or (known is not None and bool(known.flaw))
    bad = [looked for looked in looks if not looked.good]
    code = DAMAGED if bad or wrong or flawed else DONE
    if options.json:
        data = {"folder": folder, "records": [data_of(looked) for looked in looks], "wrong": wrong, "removed": removed}
        print(json.dumps({**data, "register": register_words(folder, register)}, ensure_ascii=False))
        return code
    said = [line for looked in looks if told_of(looked) for line in lines_of(looked)]
    said = [*register_words(folder, register), *said, *removed, *wrong, summary(looks, bad, wrong)]
    print("\n".join(map(clean, said)))
    return code


def say_removed(folder: str, options: argparse.Namespace) -> int:
    """Enter it in the register, for good."""
    from runner.record.clock import SystemClock
    from runner.record.removing import remove

    if options.rebuild:
        return refuse("Rebuild the register first, then say what was taken away.")
    entered = remove(folder, options.removed, options.by, options.why, SystemClock().now().utc)
    if isinstance(entered, Refused):
        return refuse(clean(entered.words))
    for one in entered:
        print(clean(f"{one.run}: {one.kind}: {removed_words(one)}"))
    return DONE


def told_of(looked: Looked) -> bool:
    """Whether a record is spoken of in a list of many."""
    return not looked.good or bool(looked.vouched.findings)


def summary(looks: list[Looked], bad: list[Looked], wrong: list[str]) -> str:
    """The last line."""
    ended = sum(bool(looked.found.outcome) for looked in looks)
    signed = sum(bool(looked.vouched.seals and looked.vouched.seals[-1].fits) for looked in looks)
    count = "1 record" if len(looks) == 1 else f"{len(looks)} records"
    said = f"{count}: {len(looks) - len(bad)} in order, {len(bad)} not; {ended} ended, {signed} signed"
    return f"{said}; {len(wrong)} further findings" if wrong else said


def refuse(words: str) -> int:
    """Nothing was looked at."""
    print(f"changeover: {words}", file=sys.stderr)
    return USAGE
