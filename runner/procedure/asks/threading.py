"""Threading: the rollers of a web path, ticked one after the other, each with the side on which the web passes.

The answer is how many were ticked, in order; only all of them are an answer.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value
from runner.formula.scope import Scope
from runner.procedure.asks.ask import Ask, AskKind, Judged, Misread, Prompt
from runner.procedure.desk import Desk
from runner.procedure.language.shape import NAME, Key
from runner.procedure.nodes import Map, key_place
from runner.say.text import say

SHAPE = Key(
    "thread", NAME, False, "The web path to thread, roller by roller, over or under, ticked in order.", "thread: unwind"
)


def build(step: Map, desk: Desk) -> tuple[Ask, ...]:
    """The threading of a step; its rollers come from the path, or a finding where there is no such path."""
    path = step["thread"].strip()
    rollers = desk.rollers.get(path)
    if rollers is None:
        desk.missing("unknown-path", "web path", path, desk.rollers, step, "thread")
        return ()
    name = f"{step['id'].strip().replace('-', '_')}_threaded"
    return (
        Ask(
            "thread",
            name,
            say("Thread the {path} path", path=path.replace("_", " ").removesuffix(" path")),
            key_place(step, "thread"),
            of=rollers,
            path=path,
        ),
    )


def prompt(ask: Ask, _values: Mapping[str, Value], _scope: Scope) -> Prompt:
    """The rollers to tick."""
    return Prompt("ticks", ask.ask, choices=ask.of)


def accept(ask: Ask, typed: str, _values: Mapping[str, Value], _scope: Scope) -> Judged | Misread:
    """`all`, or the number of rollers ticked."""
    text, count = typed.strip().lower(), len(ask.of)
    if text != "all" and not (text.isascii() and text.isdigit() and len(text) <= 4 and int(text) <= count):
        return Misread(say("type how many of the {count} rollers are ticked, or all", count=count))
    ticked = count if text == "all" else int(text)
    if ticked < count:
        return Misread(
            say(
                "{ticked} of {count} rollers are ticked; next is {roller}",
                ticked=ticked,
                count=count,
                roller=ask.of[ticked],
            )
        )
    return Judged(
        float(count), "", float(count), say("{count} of {count} rollers", count=count), "in", say("all in order")
    )


def printed(ask: Ask, _values: Mapping[str, Value], _scope: Scope) -> tuple[str, ...]:
    """A box for each roller, numbered as in the drawing of the path."""
    return (f"{ask.ask}, in this order", *(f"[ ] {number} {roller}" for number, roller in enumerate(ask.of, start=1)))


THREADING = AskKind("thread", SHAPE, build, prompt, accept, printed, "threading")
