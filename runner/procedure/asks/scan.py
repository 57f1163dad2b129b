"""A scan: free text from a barcode reader, or typed, that may have to equal what the job ticket says.

A text that equals it but for capitals is taken as the ticket writes it; what was read stands in the record.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value
from runner.formula.scope import Scope
from runner.procedure.asks.ask import Ask, AskKind, Judged, Misread, Prompt
from runner.procedure.asks.choice import match_text
from runner.procedure.clean import is_clean
from runner.procedure.desk import Desk, one_line
from runner.procedure.language.shape import ID, NAME, TEXT, Key, MapOf, Record
from runner.procedure.nodes import Map, key_place
from runner.say.text import say

LONGEST = 256
"""Characters; a longer one is two labels read as one, or a document pasted by mistake."""

SCAN_RECORD = Record(
    "a scan",
    (
        Key("ask", TEXT, True, "What to scan.", "ask: Label on the core"),
        Key(
            "match",
            NAME,
            False,
            "The input or earlier scan or choice that it must equal, letter by letter; capitals do not matter.",
            "match: substrate",
        ),
        Key(
            "else",
            ID,
            False,
            "The trouble of this step that any other text leads to, after one re-entry.",
            "else: wrong-roll",
        ),
    ),
    "A text from a barcode reader, or typed.",
)

SHAPE = Key(
    "scan",
    MapOf(NAME, SCAN_RECORD, 1, "name of the scan"),
    False,
    "Texts to scan or type. Each is a value from then on.",
    "scan:\n  roll_label: {ask: Label on the core}",
)


def build(step: Map, _desk: Desk) -> tuple[Ask, ...]:
    """The scans of a step."""
    scans: Map = step["scan"]
    return tuple(
        Ask(
            "scan",
            name,
            one_line(node["ask"]),
            key_place(scans, name),
            match=node.get("match", "").strip(),
            otherwise=node.get("else", "").strip(),
        )
        for name, node in scans.items()
    )


def prompt(ask: Ask, values: Mapping[str, Value], _scope: Scope) -> Prompt:
    """A text."""
    return Prompt("text", ask.ask, limits=match_text(ask, values) if ask.match else "")


def accept(ask: Ask, typed: str, values: Mapping[str, Value], _scope: Scope) -> Judged | Misread:
    """The text without blanks at its ends, with its verdict."""
    text = typed.strip()
    if not text:
        return Misread(say("scan or type the text"))
    if len(text) > LONGEST:
        return Misread(say("this has {count} characters; more than {most} is no label", count=len(text), most=LONGEST))
    if not is_clean(text):
        return Misread(say("this holds characters that do not show; scan again"))
    if ask.match and ask.match not in values:
        return Misread(say("{name} is not known yet, and the text must equal it", name=ask.match))
    wanted = values[ask.match] if ask.match else text
    fitting = isinstance(wanted, str) and same_letters(wanted, text)
    limits = match_text(ask, values) if ask.match else ""
    return Judged(wanted if fitting else text, "", None, text, "in" if fitting else "out", limits)


def same_letters(one: str, other: str) -> bool:
    """Equal letter by letter, where a reader may send capitals for small letters or the other way round.

    Only pairs that are each other's only other case count: no letter passes for another, as the long s would for s.
    """
    return len(one) == len(other) and all(
        a == b or (a.swapcase() == b and b.swapcase() == a) for a, b in zip(one, other, strict=True)
    )


def printed(ask: Ask, values: Mapping[str, Value], _scope: Scope) -> tuple[str, ...]:
    """The question with a long blank."""
    return (f"{ask.ask}: ________________" + (f" ({match_text(ask, values)})" if ask.match else ""),)


SCAN = AskKind("scan", SHAPE, build, prompt, accept, printed, "scan")
