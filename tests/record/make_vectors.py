"""Writes `schemas/vectors/`: journals and folders of records with what a verifier must find in each.

    python -m tests.record.make_vectors

`expected.json` has by journal the first line that is wrong (0 where none is) and the kind of flaw, and by folder what
the register of heads shows. Everything is made from fixed values, so it comes out the same each time.
"""

import json
import shutil
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

from runner.record.keys import TerminalKey
from runner.record.line import Mark, encode
from runner.record.register import GENESIS as FIRST
from runner.record.register import NAME, Known, lines_of
from runner.record.seal import seal
from tests.record.make_damaged import FOLDER as DAMAGED
from tests.record.make_damaged import lines_hash
from tests.record.sample import LIVE, actions, lines, moment

FOLDER = Path(__file__).parents[2] / "schemas" / "vectors"

# RFC 8032, 7.1, TEST 1: the private key of the first test vector
SECRET = bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60")

ANOTHER = Mark("20261125-0900-abcd", "live")


def test_key() -> TerminalKey:
    """A key that everybody has."""
    private = Ed25519PrivateKey.from_private_bytes(SECRET)
    return TerminalKey(private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))


def signed_lines() -> list[bytes]:
    """An ended run with a signed seal."""
    each = lines(actions(2))
    sealed = seal(LIVE, moment(180), lines_hash(each[-2]), len(each) - 1, "finished", test_key())
    each[-1] = encode(sealed, len(each), lines_hash(each[-2]), LIVE, 0, 2)[0]
    return each


def journals() -> dict[str, tuple[bytes, int, str]]:
    """By name: content, first wrong line or 0, kind of flaw."""
    found = {}
    for case in sorted(DAMAGED.glob("*.journal")):  # of format 1 and of format 2
        flaw = case.with_suffix(".expected").read_text(encoding="utf-8").split("\n")[0]
        line, _, kind = flaw.removeprefix("line ").partition(": ")
        found[case.stem] = (case.read_bytes(), int(line) if kind else 0, kind)
    found["signed"] = (b"".join(signed_lines()), 0, "")
    return found


def known(kind: str, mark: Mark, each: list[bytes], count: int) -> Known:
    """What a register says of the first lines of a journal."""
    return Known(kind, mark.run, mark.mode, lines_hash(each[count - 1]), count, moment(count).utc)


def folders() -> dict[str, tuple[dict[str, bytes], dict[str, str]]]:
    """By name: files by path, and by run what the register shows (the empty run: about the register itself)."""
    one, two = lines(actions(1)), lines(actions(1, mark=ANOTHER))
    path, other = f"live/2026/11/{LIVE.run}.journal", f"live/2026/11/{ANOTHER.run}.journal"
    entries = (
        Known("begun", "", "", "", 0, moment(0).utc),
        known("opened", LIVE, one, 2),
        known("opened", ANOTHER, two, 2),
        known("reached", LIVE, one, 5),
        known("closed", LIVE, one, len(one)),
        known("closed", ANOTHER, two, len(two)),
    )
    register, _ = lines_of(entries, 0, FIRST)
    each = register.splitlines(keepends=True)
    both = {path: b"".join(one), other: b"".join(two), NAME: register}
    anew = lines(actions(1, mark=ANOTHER))
    anew[2:] = lines([actions(1, mark=ANOTHER)[0], *actions(2, mark=ANOTHER)[5:]])[2:]
    rebuilt, _ = lines_of(
        (Known("rebuilt", "", "", "", 1, moment(900).utc), known("found", LIVE, one, len(one))), 0, FIRST
    )
    later, _ = lines_of(
        [Known("begun", "", "", "", 0, moment(900).utc), *(one for one in entries[1:] if one.run == LIVE.run)], 0, FIRST
    )
    away = Known(
        "removed",
        ANOTHER.run,
        "live",
        entries[-1].head,
        entries[-1].count,
        moment(900).utc,
        by="Lena",
        why="its time is over",
    )
    removed = lines_of((*entries, away), 0, FIRST)[0]
    back = lines_of((*entries, away, known("closed", ANOTHER, two, len(two))), 0, FIRST)[0]
    return {
        "agrees": (both, {}),
        "removed": ({path: both[path], NAME: removed}, {}),
        "removed-and-put-back": ({**both, NAME: removed}, {}),
        "removed-and-put-back-anew": ({**both, other: b"".join(anew), NAME: removed}, {ANOTHER.run: "written anew"}),
        "removed-and-put-back-and-gone": ({path: both[path], NAME: back}, {ANOTHER.run: "gone"}),
        "no-register": ({path: both[path]}, {}),
        "cut": ({**both, path: b"".join(one[:5])}, {LIVE.run: "cut"}),
        "written-anew": ({**both, other: b"".join(anew)}, {ANOTHER.run: "written anew"}),
        "gone": ({path: both[path], NAME: register}, {ANOTHER.run: "gone"}),
        "doubled": (
            {**both, f"live/2026/12/{LIVE.run}.journal": both[path]},
            {LIVE.run: "doubled"},
        ),
        "put-in": ({**both, NAME: lines_of([one for one in entries if one.run != ANOTHER.run], 0, FIRST)[0]}, {ANOTHER.run: "not registered"}),
        "put-in-from-before": ({**both, NAME: later}, {ANOTHER.run: "not registered"}),
        "under-another-name": (
            {**both, path: both[other], other: both[path]},
            {LIVE.run: "misplaced", ANOTHER.run: "misplaced"},
        ),
        "torn-register": ({**both, NAME: register + each[-1][:70]}, {}),
        "changed-register": ({**both, NAME: register.replace(b'"count":5', b'"count":4')}, {"": "register"}),
        "line-out-of-the-register": ({**both, NAME: b"".join([*each[:3], *each[4:]])}, {"": "register"}),
        "rebuilt": ({path: both[path], NAME: rebuilt}, {}),
    }  # fmt: skip


def main() -> None:
    """Write them all anew."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    (FOLDER / "journals").mkdir(parents=True)
    expected: dict[str, dict] = {"journals": {}, "folders": {}}
    for name, (content, line, kind) in sorted(journals().items()):
        (FOLDER / "journals" / f"{name}.journal").write_bytes(content)
        expected["journals"][name] = {"line": line, "kind": kind}
    for name, (files, shows) in sorted(folders().items()):
        for place, content in files.items():
            target = FOLDER / "folders" / name / place
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        expected["folders"][name] = shows
    (FOLDER / "expected.json").write_text(json.dumps(expected, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
