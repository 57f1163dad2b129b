"""Is a record whole and unchanged? With the standard library alone, Python 3.8 or later.

    python verify_record.py JOURNAL|FOLDER ... [--register FILE] [--head CODE]

Reads journals as README.md beside this file describes them, and the register of heads of a folder of records. Prints a
line for each thing that is wrong, `PATH:LINE: what`, and exits 1 then, 0 where nothing is. The fields of the events and Ed25519 signatures are left to `changeover verify`.
"""

import argparse
import hashlib
import json
import pathlib
import sys

ROOM, FORMATS, ENDS, STARTS = 65536, (1, 2), ("finished", "abandoned"), ("begun", "rebuilt")
AFTER_SEAL = (
    "identity-given", "pin-refused", "act-refused", "answer-corrected", "old-value-used", "exception-noted",
    "exception-closed", "exception-disposed", "run-signed", "sealed", "tail-set-aside", "clock-stepped")  # fmt: skip
SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U"


def digest(content):
    """SHA-256 as 64 hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def content_of(path):
    """What a file holds; None where it is no ordinary file (nothing is followed through links) or cannot be read."""
    try:
        return path.read_bytes() if path.is_file() and not path.is_symlink() else None
    except OSError:
        return None


def framed(line):
    """(content, hash) of a line without its line end: LENGTH, a space, HASH, a space, JSON. None where they do not fit."""
    length, own, text = [*line.split(b" ", 2), b"", b""][:3]
    try:
        content = json.loads(text.decode())
    except (ValueError, RecursionError):
        return None
    fits = length == str(len(text)).encode() and own == digest(text).encode() and isinstance(content, dict)
    return (content, own.decode()) if fits else None


def first_flaw(journal):
    """(line, words, hashes, first line): the first line that is wrong, 0 for none; hashes of the whole actions before it."""
    prev, left, of, before, ended, ending, version, mark = digest(b"changeover-journal"), 0, 0, "", "", "", 0, None
    hashes, loose, begun = [], [], {}
    written = journal.rstrip(b"\0")
    *lines, rest = written.split(b"\n")
    for number, line in enumerate(lines, start=1):
        found = framed(line)
        if found is None:
            return number, "length or hash do not fit the content", hashes, begun
        entry, own = found
        event, more, here = entry.get("event"), entry.get("left"), (entry.get("run"), entry.get("mode"))
        if [type(entry.get("n")), type(more), type(event)] != [int, int, str]:
            return number, "is no event", hashes, begun
        version = entry.get("format") if event == "run-begun" else version
        seal = [entry.get(key) for key in ("head", "count", "outcome")]
        sealed = ending and not more and before != "sealed" and seal == [prev, number - 1, ending]
        faults = (
            ((event == "run-begun") != (number == 1), "a run begins with run-begun, and no other"),
            (type(version) is not int or version not in FORMATS, "is of a format that this verifier does not know"),
            (mark not in (None, here), "is of another run"),
            (ending and event not in AFTER_SEAL, "comes after the end"),
            (entry["n"] != number or entry.get("prev") != prev, "does not follow the line before it"),
            (left and more != left - 1, "is not of the action before, of which lines were to follow"),
            (entry.get("of", 0) not in (0, of if left else more + 1), "does not say how many lines its action has"),
            (
                event == "run-signed" and seal[:2] != [*hashes[-1:], len(hashes)],
                "signs other lines than those before it",
            ),
            (event == "sealed" and not sealed, "seals other lines than those before it, or none"),
            (event != "sealed" and not more and (ending or (version == 2 and event in ENDS)), "has no seal behind it"),
        )
        words = next((words for found, words in faults if found), "")
        if words:
            return number, words, hashes, begun
        begun, mark, prev, before, left, of = begun or entry, here, own, event, more, entry.get("of", 0)
        ending = event if event in ENDS else ending
        loose.append(own)
        if not more:
            ended, hashes, loose = ending, hashes + loose, []
    if rest or not lines:
        return len(lines) + 1, "is cut, or nothing is there", hashes, begun
    if left:
        return len(lines), "is of an action of which the rest is not there", hashes, begun
    if ended and len(journal) > (len(written) // ROOM + 1) * ROOM:
        return len(lines) + 1, "has more zeros behind it than a writer leaves", hashes, begun
    return 0, ended or "open", hashes, begun


def read_register(content):
    """(entries, line, words): all entries of a register up to the first line that is wrong, 0 where none is."""
    prev, entries = digest(b"changeover-register"), []
    *lines, rest = content.split(b"\n")
    for number, line in enumerate(lines, start=1):
        entry, own = framed(line) or ({}, "")
        if not entry and b"\0" in line and number == len(lines) and not rest:
            break  # a line that was never acknowledged: sectors of it were not written
        if (entry.get("n"), entry.get("prev"), entry.get("kind") in STARTS) != (number, prev, number == 1):
            return entries, number, "the register is wrong here: what it says from here on does not count"
        entries.append(entry)
        prev = own
    return entries, 0, ""


def against(entries, hashes, whole):
    """What the entries of one run show about its journal of these hashes; lines behind damage cannot be compared."""
    for entry in entries:
        count = entry.get("count")
        if type(count) is not int or count < 1 or (count > len(hashes) and whole):
            return f"the register knows {count} lines of this run, and {len(hashes)} are here"
        if hashes[count - 1 : count] not in ([], [entry.get("head")]):
            return f"the register knows another line {count} of this run"
    return None


def start_of_code(code):
    """The first digits of the hash that a code stands for, or that are given as such; None where it is no code."""
    text = code.upper().replace("-", "").replace(" ", "").replace("O", "0").replace("I", "1").replace("L", "1")
    if 20 <= len(text) <= 64 and set(text) <= set("0123456789ABCDEF"):
        return text.lower()
    if len(text) != 17 or any(symbol not in SYMBOLS[:32] for symbol in text[:16]):
        return None
    number = sum(SYMBOLS.index(symbol) << 5 * (15 - at) for at, symbol in enumerate(text[:16]))
    return f"{number:020x}" if SYMBOLS[number % 37] == text[16] else None


def check(path, entries, code, place):
    """(lines to print, run) for one journal; `place` is where it lies in a folder of records, None outside of one."""
    content, named = content_of(path), path.stem
    if content is None:
        return [f"{path}:0: is no ordinary file, or cannot be read"], named
    line, words, hashes, begun = first_flaw(content)
    said = [f"{path}:{line}: {words}"] if line else []
    run, mode, at = begun.get("run") or named, begun.get("mode"), begun.get("at")
    if place and begun and (len(place) != 4 or place[::3] != (mode, f"{run}.journal")):
        said.append(f"{path}:1: the {mode} run {run} does not belong here")
    known = [entry for entry in entries or () if entry.get("run") == run]
    contradicted = against(known, hashes, not line)
    began, first = str(at.get("utc")) if isinstance(at, dict) else "", entries[0] if entries else {}
    late = began >= str(first.get("at")) or first.get("kind") == "rebuilt" or not first.get("count")
    if first and hashes and not known and late:
        contradicted = "the register does not have this run"
    closed = [entry.get("count") for entry in known if entry.get("kind") in ("closed", "found")]
    if known and words in ENDS and len(hashes) not in closed:
        tell(f"{path}: its end, or what was added after it, is not in the register")
    said += [f"{path}:{len(hashes)}: {contradicted}"] if contradicted else []
    if code is not None and not any(own.startswith(code) for own in hashes):
        said.append(f"{path}:{len(hashes)}: the code is of no line of this record")
    return said, run


def tell(words, to=sys.stderr):
    """Print without what acts on a terminal."""
    print("".join(sign if sign.isprintable() or sign == "\n" else "?" for sign in words), file=to)


def check_folder(folder, entries, found):
    """Lines to print of runs that are gone or doubled in a folder whose register has these entries."""
    runs = [run for _, run in found]
    known = {str(entry["run"]): entry.get("kind") for entry in entries or () if entry.get("run")}  # the newest of each
    said = [f"{folder}:0: the record of {run} is gone" for run in known if run not in runs and known[run] != "removed"]
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
        parser.error("the code was written or typed wrong")
    for path in options.paths:
        base, entries = pathlib.Path(path), None
        folder, register = base.is_dir(), pathlib.Path(options.register or base / "heads.register")
        if options.register or (folder and (register.is_symlink() or register.exists())):
            content = content_of(register)
            entries, line, words = read_register(content or b"")
            words = "the register is no ordinary file, or cannot be read" if content is None else words
            said += [f"{register}:{line}: {words}"] if words else []
        there = sorted({*base.rglob("*.journal"), *base.glob("*/*/*/*.journal")}) if folder else [base]
        found = [check(one, entries, code, one.relative_to(base).parts if folder else None) for one in there]
        said += [line for lines, _ in found for line in lines]
        if folder:
            said += check_folder(path, entries, found)
            tell(f"{path}: looked at records: {len(found)}, lines of the register of heads: {len(entries or [])}")
    tell("\n".join(said or [f"nothing is wrong: {', '.join(options.paths)}"]), sys.stdout)
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
