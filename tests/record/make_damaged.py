"""Writes the cases of `tests/record/damaged/`: a journal each, and beside it what verifying and opening must say.

    python -m tests.record.make_damaged

The files stay as they are once they are there: they are also the samples of formats 1 and 2, to be read for good. A case is
written only where its file is not there. `NAME.expected` holds the first flaw as `line N: kind` (or `whole`), and
what opening to go on must do: `opens`, `sets aside N` (bytes, without zeros at the end), `refused` with a word of the
reason and the file as it was, or `cut` with such a word where only the zeros at the end go.
"""

import hashlib
from pathlib import Path

from runner.engine import events as ev
from runner.record.line import GENESIS, ROOM, Mark, encode
from runner.record.seal import seal
from tests.record.sample import LIVE, RUN, actions, begun, content, lines, moment

FOLDER = Path(__file__).parent / "damaged"


def reframed(line: bytes, old: bytes, new: bytes) -> bytes:
    """A line with other content and a frame that fits it, as a forger writes it."""
    text = line.split(b" ", 2)[2][:-1].replace(old, new)
    return b"%d %s %s\n" % (len(text), hashlib.sha256(text).hexdigest().encode(), text)


def cases() -> dict[str, tuple[bytes, str, str]]:
    """By name: bytes, first flaw, what opening does."""
    whole = lines(actions(2, end=False))  # 2 lines of beginning, then 2 + 1 + 1 + 3 lines for each of two steps
    ended = lines(actions(2))
    other = lines(actions(2, end=False, mark=Mark("20261125-0900-abcd", "live")))
    dry = lines(actions(2, end=False, mark=Mark(RUN, "dry")))
    text = b"".join(whole)
    half = len(whole[-1]) // 2
    action = sum(len(line) for line in whole[-3:])  # the last action
    last = len(text) - action  # where the last action begins
    hole = -last % 512 + last  # the first sector that lies whole in it
    late, _ = encode(ev.Paused("Ada", moment(900), "x"), len(ended) + 1, lines_hash(ended[-1]), LIVE)
    fork, _ = encode(ev.Paused("Eve", moment(60), "x"), 4, "e" * 64, LIVE)
    return {
        "whole": (text, "whole", "opens"),
        "ended": (b"".join(ended), "whole", "refused closed"),
        "empty": (b"", "line 1: incomplete", "refused never began"),
        "only-zeros": (b"\0" * 4096, "line 1: zeros", "refused never began"),
        "torn-first-line": (whole[0][:90], "line 1: incomplete", "refused never began"),
        "torn": (text[:-half], "line 16: incomplete", f"sets aside {action - half}"),
        "torn-line-end": (text[:-1], "line 16: incomplete", f"sets aside {action - 1}"),
        "torn-action": (b"".join(whole[:-1]), "line 15: incomplete", f"sets aside {action - len(whole[-1])}"),
        "zero-filled": (text + b"\0" * 512, "whole", "opens"),
        "torn-and-zero-filled": (text[:-half] + b"\0" * 99, "line 16: incomplete", f"sets aside {action - half}"),
        "given-room": (text.ljust(ROOM, b"\0"), "whole", "opens"),
        "torn-action-in-given-room": (
            b"".join(whole[:-1]).ljust(ROOM, b"\0"),
            "line 15: incomplete",
            f"sets aside {action - len(whole[-1])}",
        ),
        "byte-in-given-room": (text + b"\0" * 600 + b"\x01" + b"\0" * 600, "line 17: zeros", "sets aside 601"),
        "sector-not-written": (
            (text[:hole] + b"\0" * 512 + text[hole + 512 :])[: -len(whole[-1])].ljust(ROOM, b"\0"),
            "line 14: changed",
            f"sets aside {action - len(whole[-1])}",
        ),
        "sector-lost-before-whole-lines": (
            text[: hole - 2048] + b"\0" * 512 + text[hole - 1536 :],
            "line 9: changed",
            "refused line 9",
        ),
        "ended-not-cut": (b"".join(ended).ljust(ROOM, b"\0"), "whole", "cut closed"),
        "ended-and-more-zeros": (
            b"".join(ended).ljust(ROOM + 1, b"\0"),
            f"line {len(ended) + 1}: zeros",
            "refused closed",
        ),
        "garbage": (text + b"\x93q\nR\x07\0\0\xff\n!", "line 17: changed", "sets aside 10"),
        "zeros-inside": (text[:3000] + b"\0" * 9 + text[3009:], "line 7: changed", "refused line 7"),
        "changed-byte": (text.replace(b"412 kg", b"472 kg", 1), "line 6: changed", "refused line 6"),
        "changed-last-line": (text[:-9] + b"?" + text[-8:], "line 16: changed", "refused line 16"),
        "changed-length": (text.replace(whole[4], b"1" + whole[4]), "line 5: changed", "refused line 5"),
        "changed-line-end": (text[:-1] + b"\x0b", "line 16: incomplete", "refused line 16"),
        "line-ends-of-windows": (text.replace(b"\n", b"\r\n"), "line 1: changed", "refused line 1"),
        "forged-line": (
            text.replace(whole[5], reframed(whole[5], b"412 kg", b"472 kg")),
            "line 7: changed",
            "refused one of the two was replaced",
        ),
        "another-history": (b"".join([*whole[:3], fork, *whole[4:]]), "line 4: changed", "refused line 4"),
        "malformed": (
            b"".join([*whole[:9], reframed(whole[9], b'"step"', b'"stop"')]),
            "line 10: malformed",
            "refused",
        ),
        "reordered": (b"".join([*whole[:4], whole[5], whole[4], *whole[6:]]), "line 5: out of order", "refused line 5"),
        "missing": (b"".join(whole[:4] + whole[6:]), "line 5: missing", "refused line 5"),
        "missing-first": (b"".join(whole[1:]), "line 1: missing", "refused line 1"),
        "doubled": (b"".join(whole[:6] + whole[5:]), "line 7: doubled", "refused line 7"),
        "from-another-run": (b"".join([*whole[:6], other[6], *whole[6:]]), "line 7: from another run", "refused 0900"),
        "from-a-dry-run": (b"".join([*whole[:6], dry[6], *whole[7:]]), "line 7: from another run", "refused dry"),
        "begun-twice": (
            content([*actions(1, end=False), (begun(),)]),
            "line 10: malformed",
            "refused a run begins with",
        ),
        "not-begun": (
            encode(ev.Paused("Ada", moment(0), "x"), 1, GENESIS, LIVE)[0],
            "line 1: malformed",
            "refused a run begins with",
        ),
        "broken-action": (
            b"".join(lines([*actions(1, end=False)])[:-1]) + encode_left(9),
            "line 9: malformed",
            "refused were to follow",
        ),
        "unknown-event": (
            b"".join([*whole[:5], reframed(whole[5], b"step-begun", b"step-danced")]),
            "line 6: unknown event",
            "refused step-danced",
        ),
        "newer-format": (
            reframed(whole[0], b'"format":2', b'"format":99') + whole[1],
            "line 1: newer format",
            "refused format 99",
        ),
        "after-the-end": (
            b"".join(ended) + late,
            f"line {len(ended) + 1}: after the end",
            f"refused line {len(ended) + 1}",
        ),
        **sealed_cases(ended),
    }


def sealed_cases(ended: list[bytes]) -> dict[str, tuple[bytes, str, str]]:
    """What may and may not stand at the end and behind it, in format 2. Line 17 ends the run, line 18 is the seal."""
    text, last = b"".join(ended), lines_hash(ended[-1])
    note = ev.ExceptionClosed("Ben", moment(900), 1, "seen to")
    noted, head = encode(note, 19, last, LIVE, 1, 2)
    again, _ = encode(seal(LIVE, moment(900), head, 19, "finished", None), 20, head, LIVE, 0, 2)
    alone, _ = encode(note, 19, last, LIVE)
    paused, _ = encode(ev.Paused("Ada", moment(900), "x"), 19, last, LIVE)
    by_ben, other = signed_by_ben(last, 18), signed_by_ben("e" * 64, 18)
    end = ev.Finished("Ada", moment(180), 0)
    before = lines_hash(ended[-3])
    unsealed, _ = encode(end, 17, before, LIVE)
    open_seal, _ = encode(seal(LIVE, moment(180), before, 16, "finished", None), 17, before, LIVE)
    seal_alone, _ = encode(seal(LIVE, moment(900), last, 18, "finished", None), 19, last, LIVE)
    return {
        "sealed": (text, "whole", "refused closed"),
        "sealed-anew": (text + noted + again, "whole", "refused closed"),
        "signed-by-a-person": (text + by_ben, "whole", "refused closed"),
        "signed-for-other-lines": (text + other, "line 19: not sealed", "refused line 19"),
        "torn-seal": (text[:-40], "line 18: incomplete", f"sets aside {len(ended[-2]) + len(ended[-1]) - 40}"),
        "torn-behind-the-seal": (text + noted, "line 19: incomplete", "refused closed"),
        "added-without-a-seal": (text + alone, "line 19: not sealed", "refused line 19"),
        "ended-without-a-seal": (b"".join(ended[:-2]) + unsealed, "line 17: not sealed", "refused line 17"),
        "seal-of-other-lines": (
            b"".join(ended[:-1]) + reframed(ended[-1], b'"count":17', b'"count":16'),
            "line 18: not sealed",
            "refused line 18",
        ),
        "sealed-twice": (text + seal_alone, "line 19: not sealed", "refused line 19"),
        "action-of-another-length": (
            b"".join(ended[:-2]) + reframed(ended[-2], b'"of":2', b'"of":3') + ended[-1],
            "line 17: malformed",
            "refused line 17",
        ),
        "sealed-too-early": (b"".join(ended[:-2]) + open_seal, "line 17: not sealed", "refused line 17"),
        "paused-behind-the-seal": (text + paused, "line 19: after the end", "refused line 19"),
    }


def signed_by_ben(head: str, count: int) -> bytes:
    """A person's signature under so many lines, and the seal behind it, after an ended run of two steps."""
    name = ev.RunSigned("Ben", moment(900), "reviewed by", "lead", "", "identity not verified", head, count)
    last = lines_hash(lines(actions(2))[-1])
    line, own = encode(name, 19, last, LIVE, 1, 2)
    return line + encode(seal(LIVE, moment(900), own, 19, "finished", None), 20, own, LIVE, 0, 2)[0]


def lines_hash(line: bytes) -> str:
    """The hash in a line's frame."""
    return line.split(b" ", 2)[1].decode()


def encode_left(left: int) -> bytes:
    """The ninth line of a one-step run, saying that so many more lines of its action follow."""
    before = lines(actions(1, end=False))[7]
    return encode(ev.Paused("Ada", moment(60), "x"), 9, lines_hash(before), LIVE, left)[0]


def main() -> None:
    """Write what is not there."""
    FOLDER.mkdir(exist_ok=True)
    for name, (damaged, flaw, opening) in cases().items():
        path = FOLDER / f"{name}.journal"
        if not path.exists():
            path.write_bytes(damaged)
            path.with_suffix(".expected").write_text(f"{flaw}\n{opening}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
