"""A choice: one of a few texts, typed as it stands or by its number in the list.

Some choices let the work go on and others do not; one may also have to equal what the job ticket says.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value
from runner.formula.scope import Scope
from runner.procedure.asks.ask import Ask, AskKind, Judged, Misread, Prompt
from runner.procedure.desk import Desk, one_line
from runner.procedure.language.shape import ID, NAME, TEXT, Key, ListOf, MapOf, Record
from runner.procedure.nodes import Map, Seq, key_place
from runner.say.text import say

CHOOSE = Record(
    "a choice",
    (
        Key("ask", TEXT, True, "The question.", "ask: Winding direction of the new roll"),
        Key("of", ListOf(TEXT, 2), True, "The answers.", "of: [print side out, print side in]"),
        Key(
            "accept",
            ListOf(TEXT),
            False,
            "The answers that let the work go on. All of them if left out.",
            "accept: [print side out]",
        ),
        Key("match", NAME, False, "The input or earlier choice that the answer must equal.", "match: substrate"),
        Key(
            "else",
            ID,
            False,
            "The trouble of this step that any other answer leads to, after one re-entry.",
            "else: wrong-roll",
        ),
    ),
    "A question with a few answers.",
)

SHAPE = Key(
    "choose",
    MapOf(NAME, CHOOSE, 1, "name of the choice"),
    False,
    "Questions with a few answers. Each is a value for formulas from then on.",
    "choose:\n  winding: {ask: Winding direction of the new roll, of: [print side out, print side in], accept: [print side out]}",
)


def build(step: Map, desk: Desk) -> tuple[Ask, ...]:
    """The choices of a step."""
    choices: Map = step["choose"]
    return tuple(choice(choices, name, desk) for name in choices)


def choice(choices: Map, name: str, desk: Desk) -> Ask:
    """One choice."""
    node: Map = choices[name]
    of = desk.different(node["of"], "choice")
    accept = desk.different(node["accept"], "choice") if "accept" in node else ()
    accept_node: Seq = node.get("accept", node["of"])
    for index, text in enumerate(accept):
        if text not in of:
            desk.missing("accept-not-offered", "answer", text, of, accept_node, index)
    return Ask(
        "choose",
        name,
        one_line(node["ask"]),
        key_place(choices, name),
        of=of,
        accept=accept,
        match=node.get("match", "").strip(),
        otherwise=node.get("else", "").strip(),
    )


def prompt(ask: Ask, values: Mapping[str, Value], _scope: Scope) -> Prompt:
    """The answers, numbered by the screen."""
    return Prompt("choice", ask.ask, choices=ask.of, limits=limits_text(ask, values))


def limits_text(ask: Ask, values: Mapping[str, Value]) -> str:
    """What lets the work go on: 'print side out', 'as substrate: kraft paper'."""
    parts = [say(" or ").join(ask.accept)] if ask.accept else []
    if ask.match:
        parts.append(match_text(ask, values))
    return ", ".join(parts)


def match_text(ask: Ask, values: Mapping[str, Value]) -> str:
    """What the answer must equal: 'as roll number: KP-2047-03'."""
    known, name = values.get(ask.match), ask.match.replace("_", " ")
    return say("as {name}", name=name) if known is None else say("as {name}: {value}", name=name, value=known)


def pick(typed: str, of: tuple[str, ...]) -> str | None:
    """The answer that was typed: exactly, in other case, or by its number from 1."""
    wanted = " ".join(typed.split())
    for text in of:
        if text == wanted:
            return text
    alike = [text for text in of if text.casefold() == wanted.casefold()]
    if len(alike) == 1:
        return alike[0]
    if wanted.isascii() and wanted.isdigit() and len(wanted) <= 3 and 1 <= int(wanted) <= len(of):
        return of[int(wanted) - 1]
    return None


def accept(ask: Ask, typed: str, values: Mapping[str, Value], _scope: Scope) -> Judged | Misread:
    """The answer with its verdict."""
    answer = pick(typed, ask.of)
    if answer is None:
        return Misread(
            say("type one of {answers}", answers=", ".join(f"{number} {text}" for number, text in enumerate(ask.of, 1)))
        )
    if ask.match and ask.match not in values:
        return Misread(say("{name} is not known yet, and the answer must equal it", name=ask.match))
    fitting = (not ask.accept or answer in ask.accept) and (not ask.match or values[ask.match] == answer)
    return Judged(answer, "", None, answer, "in" if fitting else "out", limits_text(ask, values))


def printed(ask: Ask, values: Mapping[str, Value], _scope: Scope) -> tuple[str, ...]:
    """The question with a box for each answer."""
    limits = limits_text(ask, values)
    return (ask.ask + (f" (accepted: {limits})" if limits else ""), *(f"[ ] {text}" for text in ask.of))


CHOICE = AskKind("choose", SHAPE, build, prompt, accept, printed, "choice")
