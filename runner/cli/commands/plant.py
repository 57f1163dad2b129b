"""`changeover plant send|status`: finished records to the database of the plant, and what is there.

Send as often as you like, from as many terminals: what is there already is not sent again, and what could not be sent goes
with the next time. The records here stay the truth.
"""

import argparse
import json
import sys

from runner.cli.exits import DAMAGED, DONE, UNFINISHED, USAGE
from runner.cli.plant import add_plant_at, plant_of
from runner.cli.records import add_records, index_of, store_of
from runner.procedure.clean import clean
from runner.record.index.look import look
from runner.record.plant.send import Told, count_waiting, send
from runner.record.refused import Refused


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "what", metavar="send|status", choices=("send", "status"), help="send records, or say what is where"
    )
    add_records(parser)
    parser.add_argument("--dry", action="store_true", help="dry runs instead of live ones")
    parser.add_argument("--json", action="store_true", help="the result as JSON on stdout")
    add_plant_at(parser)


def run(options: argparse.Namespace) -> int:
    """Send, or say what is where."""
    from runner.cli.reading import read_records

    plant = plant_of(options)
    if isinstance(plant, Refused):
        print(f"changeover: {clean(plant.words)}", file=sys.stderr)
        return USAGE
    store = store_of(options)
    index = index_of(store)
    rows = look(store, index, "dry" if options.dry else "live", read_records)
    if options.what == "send":
        told = send(rows, index, plant)
        plant.close()
        return said(told, options.json)
    heads, counts, forked = plant.heads(), plant.counts(), plant.forked()
    plant.close()
    for answer in (heads, counts, forked):
        if isinstance(answer, Refused):
            print(f"changeover: {clean(answer.words)}", file=sys.stderr)
            return USAGE
    assert not isinstance(heads, Refused)
    assert not isinstance(counts, Refused)
    assert not isinstance(forked, Refused)
    told = count_waiting(rows, heads)
    told.forked = forked
    return said(told, options.json, counts)


def said(told: Told, as_json: bool, counts: list[tuple[str, str, int, int]] | None = None) -> int:
    """Print what came of it, and how the process ends."""
    for path, words in told.faulty:
        print(f"changeover: not sent: {clean(path)}: {clean(words)}", file=sys.stderr)
    for name in told.forked:
        print(f"changeover: run {clean(name)}: the plant has another record of it; verify both", file=sys.stderr)
    if told.stopped:
        print(f"changeover: {clean(told.stopped)}", file=sys.stderr)
    there = [dict(zip(("mode", "procedure", "runs", "terminals"), row, strict=True)) for row in counts or ()]
    if as_json:
        shown = {
            "sent": told.sent, "there": told.there, "waiting": told.waiting, "open": told.open,
            "not_sent": len(told.faulty), "two_records": told.forked, "stopped": told.stopped,
        }  # fmt: skip
        print(json.dumps(shown | ({"plant": there} if counts is not None else {}), ensure_ascii=False))
    else:
        if counts is None:
            print(f"sent            {told.sent}")
        print(f"in the plant    {told.there}")
        print(f"not yet sent    {told.waiting}")
        print(f"still open      {told.open}")
        if told.faulty:
            print(f"damaged         {len(told.faulty)}")
        for row in there:
            runs, terminals = row["runs"], row["terminals"]
            print(f"the plant has   {runs} {row['mode']} of {clean(str(row['procedure']))}, from {terminals} terminals")
    if told.faulty or told.forked:
        return DAMAGED
    return UNFINISHED if told.stopped else DONE
