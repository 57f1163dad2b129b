"""What a barcode reader sent, judged with the same rules that keep its keys from commanding anything. Pure.

Keys come as the screen has them: a name, a character where it has one, a time in seconds.
"""

from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from runner.procedure.clean import clean
from runner.say.text import say
from runner.screen import guard as guards
from runner.screen.keys import MOVES, action_of, key_for

APART_S = 0.4
"""A pause of this length ends a scan."""

CONTROL = {
    "\x00": "NUL", "\x01": "SOH", "\x02": "STX", "\x03": "ETX", "\x04": "EOT", "\x05": "ENQ", "\x06": "ACK", "\x07": "BEL",
    "\x08": "BS", "\x09": "TAB", "\x0a": "LF", "\x0b": "VT", "\x0c": "FF", "\x0d": "CR", "\x1b": "ESC", "\x1c": "FS",
    "\x1d": "GS", "\x1e": "RS", "\x1f": "US", "\x7f": "DEL",
}  # fmt: skip
"""Control characters by their names (ISO/IEC 646); GS stands between the elements of a GS1 code."""


class Pressed(NamedTuple):
    """A key."""

    key: str
    """As Textual names it."""
    character: str | None
    at: float


class Judgement(NamedTuple):
    """One scan."""

    names: tuple[str, ...]
    """Each key by its name."""
    text: str
    """What an entry would hold."""
    gaps_ms: tuple[float, ...]
    end: str
    """Enter, Tab, another key, or empty."""
    burst: bool
    """The program takes it for a reader, not for a person."""
    advice: tuple[str, ...]


def scans(pressed: Sequence[Pressed]) -> tuple[tuple[Pressed, ...], ...]:
    """The keys parted where there was a pause."""
    found: list[list[Pressed]] = []
    for one in pressed:
        if not found or one.at - found[-1][-1].at >= APART_S:
            found.append([])
        found[-1].append(one)
    return tuple(map(tuple, found))


def judge(scan: Sequence[Pressed]) -> Judgement:
    """One scan of at least one key."""
    guard, burst = guards.Guard(), False
    for one in scan:
        if _prints(one):
            guard, _ = guards.letter(guard, one.at)
            burst = burst or guards.scanned(guard)
    text = "".join(one.character or "" for one in scan if _prints(one))
    gaps = tuple(round((after.at - before.at) * 1000, 1) for before, after in pairwise(scan))
    last = scan[-1]
    end = "" if _prints(last) else name_of(last)
    return Judgement(tuple(map(name_of, scan)), clean(text), gaps, end, burst, _advice(scan, text, gaps, burst))


def name_of(one: Pressed) -> str:
    """A key as a person can read it."""
    action = action_of(one.key)
    if action is not None:
        return key_for(action).cap
    if one.character == " ":
        return "space"
    if one.character is not None and one.character in CONTROL:
        return CONTROL[one.character]
    return clean(one.character) if _prints(one) and one.character else clean(one.key)


def lines_of(found: Judgement) -> tuple[str, ...]:
    """The judgement in lines."""
    gaps = found.gaps_ms
    times = (
        say(
            "{least:g} to {most:g} ms, in the middle {middle:g} ms",
            least=min(gaps),
            most=max(gaps),
            middle=median(gaps),
        )
        if gaps
        else say("one key alone")
    )
    taken = (
        say("a barcode reader: one entry, and no key of it commands anything")
        if found.burst
        else say("a person at the keys")
    )
    return (
        say("keys     {names}", names=" ".join(found.names)),
        say("entry    {text}", text=found.text or say("(nothing that an entry would hold)")),
        say("gaps     {times}", times=times),
        say("end      {end}", end=found.end or say("none")),
        say("taken as {taken}", taken=taken),
        *(
            say("advice   {words}", words=words)
            for words in found.advice or (say("None: this reader can be used as it is."),)
        ),
    )


def _prints(one: Pressed) -> bool:
    return one.character is not None and one.character.isprintable() and action_of(one.key) is None


def _advice(scan: Sequence[Pressed], text: str, gaps: tuple[float, ...], burst: bool) -> tuple[str, ...]:
    found: list[str] = []
    last = scan[-1]
    enters = sum(one.key == "enter" for one in scan)
    if len(text) < guards.TRAIN:
        found.append(
            say(
                "A code of fewer than {count} characters is not known from a person's keys: use longer ones.",
                count=guards.TRAIN,
            )
        )
    elif not burst:
        most = round(guards.GAP_S * 1000)
        found.append(
            say(
                "Too slow to be told from a person ({gaps:g} ms; up to {most} ms is): set the reader's time between characters to 10 ms or less.",
                gaps=max(gaps, default=0),
                most=most,
            )
        )
    if enters == 0 and _prints(last):
        found.append(
            say("It ends with no key: set the reader to send Enter (CR) after each code, or press Enter by hand.")
        )
    elif last.key != "enter" and not _prints(last):
        found.append(
            say(
                "It ends with {last}, which gives no entry: set the reader to send Enter (CR) instead.",
                last=name_of(last),
            )
        )
    if enters > 1:
        found.append(say("It sends Enter more than once: set it to send Enter once, after the code."))
    if any(one.key == "enter" for one in scan[:-1]) and enters == 1:
        found.append(say("Something comes after Enter: set the reader to send nothing behind it."))
    commands = sorted({name_of(one) for one in scan[:-1] if _commands(one)})
    if commands:
        found.append(
            say(
                "It sends {commands}, which command this program: set the reader to leave control characters out.",
                commands=", ".join(commands),
            )
        )
    controls = sorted({name_of(one) for one in scan if one.character in CONTROL and action_of(one.key) is None})
    if controls:
        found.append(
            say(
                "{controls} in the code is not kept in an entry: set the reader to leave it out.",
                controls=", ".join(controls),
            )
        )
    if len(text) > 3 and text[0] == "]" and text[1].isalpha() and text[2].isdigit():
        found.append(
            say(
                "It begins with {text}, which names the kind of code (ISO/IEC 15424): turn that prefix off.",
                text=text[:3],
            )
        )
    if not text.isascii():
        found.append(say("Letters are not plain ones: the reader's keyboard layout is perhaps not this computer's."))
    return tuple(found)


def _commands(one: Pressed) -> bool:
    action = action_of(one.key)
    return action is not None and action not in MOVES and one.key != "enter"
