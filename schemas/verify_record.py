"""Is a record whole and unchanged? With the standard library alone, Python 3.8 or later.

    python verify_record.py JOURNAL|FOLDER ... [--register FILE] [--head CODE]

Reads journals as README.md beside this file describes them, and the register of heads of a folder of records. Prints a
line for each thing that is wrong, `PATH:LINE: what`, and exits 1 then, 0 where nothing is. The fields of the events and
Ed25519 signatures are left to `changeover verify`.
"""

import argparse
import hashlib
import json
import os
import pathlib
import sys

ROOM = 65536
FORMATS = (1, 2)
ENDS = ("finished", "abandoned")
AFTER_SEAL = (
    "identity-given", "pin-refused", "act-refused", "answer-corrected", "old-value-used", "exception-noted",
    "exception-closed", "exception-disposed", "run-signed", "sealed", "tail-set-aside", "clock-stepped",
)  # fmt: skip
SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U"


def digest(content):
    """SHA-256 as 64 hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def framed(line):
    """(content, hash) of a line without its line end: LENGTH, a space, HASH, a space, JSON. None where they do not fit."""
    length, own, text = [*line.split(b" ", 2), b"", b""][:3]
    if length != str(len(text)).encode() or own != digest(text).encode():
        return None
    try:
        content = json.loads(text.decode())
    except (ValueError, RecursionError):
        return None
    return (content, own.decode()) if isinstance(content, dict) else None


def first_flaw(journal):
    """(line, words, hashes, first line): the first line of a journal that is wrong, 0 where none is; the hashes of the lines
    of all whole actions before it."""
    prev, left, ended, ending, version, mark = digest(b"changeover-journal"), 0, "", "", 0, None
    hashes, kept, begun = [], 0, {}
    written = journal.rstrip(b"\0")
    lines = written.split(b"\n")
    rest = lines.pop()

    def wrong(line, words):
        return line, words, hashes[:kept], begun

    for number, line in enumerate(lines, start=1):
        found = framed(line)
        if found is None:
            return wrong(number, "length or hash do not fit the content")
        entry, own = found
        event = entry.get("event")
        if [type(entry.get(key)) for key in ("n", "left", "event")] != [int, int, str]:
            return wrong(number, "is no event")
        if event == "run-begun":
            version = entry.get("format")
            if version not in FORMATS:
                return wrong(number, "is of a format that this verifier does not know")
        if mark not in (None, (entry.get("run"), entry.get("mode"))):
            return wrong(number, "is of another run")
        if ending and event not in AFTER_SEAL:
            return wrong(number, "comes after the end")
        if entry["n"] != number or entry.get("prev") != prev:
            return wrong(number, "does not follow the line before it")
        if (event == "run-begun") != (number == 1):
            return wrong(number, "a run begins with run-begun, and no other")
        if left and entry["left"] != left - 1:
            return wrong(number, "is not of the action before, of which lines were to follow")
        left = entry["left"]
        if event == "sealed":
            if (
                not ending
                or left
                or [entry.get(key) for key in ("head", "count", "outcome")] != [prev, number - 1, ending]
            ):
                return wrong(number, "seals other lines than those before it")
        elif event == "run-signed" and [entry.get("head"), entry.get("count")] != [hashes[kept - 1], kept]:
            return wrong(number, "signs other lines than those before it")
        elif not left and (ending or (version > 1 and event in ENDS)):
            return wrong(number, "has no seal behind it")
        if event in ENDS:
            ending = event
        if not left:
            ended, kept = ending, number
        begun, mark = begun or entry, (entry.get("run"), entry.get("mode"))
        prev = own
        hashes.append(own)
    if rest or not lines:
        return wrong(len(lines) + 1, "is cut, or nothing is there")
    if left:
        return wrong(len(lines), "is of an action of which the rest is not there")
    if ended and len(journal) > (len(written) // ROOM + 1) * ROOM:
        return wrong(len(lines) + 1, "has more zeros behind it than a writer leaves")
    return wrong(0, ended or "open")


def read_register(content):
    """(entries, line, words): all entries of a register up to the first line that is wrong, 0 where none is."""
    prev, entries = digest(b"changeover-register"), []
    lines = content.split(b"\n")
    rest = lines.pop()
    for number, line in enumerate(lines, start=1):
        last = number == len(lines) and not rest
        found = framed(line)
        if found is None and b"\0" in line and last:
            break  # a line that was never acknowledged: sectors of it were not written
        if found is None or found[0].get("n") != number or found[0].get("prev") != prev:
            return entries, number, "the register is wrong here: what it says from here on does not count"
        if (found[0].get("kind") in ("begun", "rebuilt")) != (number == 1):
            return entries, number, "a register begins once"
        entries.append(found[0])
        prev = found[1]
    return entries, 0, ""


def against(entries, hashes):
    """What the entries of one run show about its journal, whose lines have these hashes; None where nothing."""
    for entry in entries:
        count = entry.get("count")
        if type(count) is not int or count < 1 or count > len(hashes):
            return f"the register knows {count} lines of this run, and {len(hashes)} are here"
        if hashes[count - 1] != entry.get("head"):
            return f"the register knows another line {count} of this run"
    return None


def start_of_code(code):
    """The first 20 hexadecimal digits of the head that a code stands for; None where its check symbol does not fit."""
    text = code.upper().replace("-", "").replace(" ", "").replace("O", "0").replace("I", "1").replace("L", "1")
    if len(text) != 17 or any(symbol not in SYMBOLS[:32] for symbol in text[:16]):
        return None
    number = 0
    for symbol in text[:16]:
        number = number * 32 + SYMBOLS.index(symbol)
    return f"{number:020x}" if SYMBOLS[number % 37] == text[16] else None


def check(path, entries, code):
    """(lines to print, run) for one journal."""
    line, words, hashes, begun = first_flaw(pathlib.Path(path).read_bytes())
    said = [f"{path}:{line}: {words}"] if line else []
    run = begun.get("run")
    known = [entry for entry in entries or () if entry.get("run") == run]
    contradicted = against(known, hashes) if known else None
    began = (begun.get("at") or {}).get("utc", "")
    if entries and hashes and not known and began >= entries[0].get("at", ""):
        contradicted = "the register does not have this run"
    if contradicted:
        said.append(f"{path}:{len(hashes)}: {contradicted}")
    if code is not None and not any(own.startswith(code) for own in hashes):
        said.append(f"{path}:{len(hashes)}: the code is of no line of this record")
    return said, run


def check_folder(folder, entries, found):
    """Lines to print of runs that are gone or doubled in a folder whose register has these entries."""
    runs = [run for _, run in found]
    known = sorted({entry["run"] for entry in entries or () if entry.get("run")})
    said = [f"{folder}:0: the record of {run} is gone" for run in known if run not in runs]
    return said + [f"{folder}:0: {run} has {runs.count(run)} records" for run in known if runs.count(run) > 1]


def main(arguments):
    """Look at all that is named; 0 where nothing is wrong, 1 where something is, 2 where a code was typed wrong."""
    parser = argparse.ArgumentParser(description="Is a record whole and unchanged?")
    parser.add_argument("paths", nargs="+", metavar="JOURNAL|FOLDER")
    parser.add_argument("--register", metavar="FILE", help="the register of heads; for a folder the one in it")
    parser.add_argument("--head", metavar="CODE", help="the code that was written down")
    options = parser.parse_args(arguments)
    code, said = start_of_code(options.head) if options.head else None, []
    if options.head and code is None:
        print("the code was written or typed wrong", file=sys.stderr)
        return 2
    for path in options.paths:
        folder, entries = os.path.isdir(path), None
        register = options.register or (os.path.join(path, "heads.register") if folder else "")
        if os.path.exists(register):
            entries, line, words = read_register(pathlib.Path(register).read_bytes())
            said += [f"{register}:{line}: {words}"] if line else []
        found = [
            check(one, entries, code) for one in (sorted(pathlib.Path(path).rglob("*.journal")) if folder else [path])
        ]
        said += [line for lines, _ in found for line in lines]
        said += check_folder(path, entries, found) if folder else []
    print("\n".join(said or [f"nothing is wrong: {', '.join(options.paths)}"]))
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
