"""Every text that people read in a procedure, with what it is and where it stands, for the rules about words.

A slot stands in `plain` as a run of `#` of its length, so that offsets stay true and no letter of its name is taken for a word.
"""

from collections.abc import Iterator
from typing import NamedTuple

from runner.lint.words import PUNCTUATION
from runner.procedure.finding import Place
from runner.procedure.model import Procedure, Step, steps_of
from runner.procedure.template import Template

ACT, WAY_OUT, SAFE_ACT = "act", "way out", "safe act"
SIGN, CONFIRMATION, QUESTION, ANSWER = "sign", "confirmation", "question", "answer"
HAZARD, HARM, AVOID, WHY = "hazard", "harm", "avoid", "why"

ORDERS = frozenset((ACT, WAY_OUT, SAFE_ACT))
"""Kinds that tell people what to do: the act of a step, of a trouble, of making safe."""


class Written(NamedTuple):
    """One text of a procedure."""

    kind: str
    text: str
    plain: str
    """In small letters, slots blotted out."""
    words: tuple[str, ...]
    """Of `plain`, without punctuation."""
    step: Step | None
    """The step it belongs to; None for a caution and for making safe."""
    place: Place
    """Of the thing that holds it."""
    keys: tuple[str | int, ...]
    """From there to the text."""


def written_in(procedure: Procedure) -> Iterator[Written]:
    """All texts: cautions, then steps with their parts in order, then making safe."""
    for caution in procedure.cautions:
        for kind, text in ((HAZARD, caution.hazard), (HARM, caution.harm), (AVOID, caution.avoid)):
            if text:
                yield _plain(kind, text, None, caution.place, (kind,))
    for step in steps_of(procedure):
        yield _of_template(ACT, step.do, step, step.place)
        if step.why:
            yield _plain(WHY, step.why, step, step.place, ("why",))
        for number, text in enumerate(step.hold.confirm if step.hold is not None else ()):
            assert step.hold is not None
            yield _plain(CONFIRMATION, text, step, step.hold.place, ("confirm", number))
        for ask in step.asks:
            if ask.kind in ("read", "choose", "scan"):
                yield _plain(QUESTION, ask.ask, step, ask.place, ("ask",))
            if ask.kind == "choose":
                for number, text in enumerate(ask.of):
                    yield _plain(ANSWER, text, step, ask.place, ("of", number))
        for trouble in step.troubles:
            yield _plain(SIGN, trouble.sign, step, trouble.place, ("sign",))
            yield _of_template(WAY_OUT, trouble.do, step, trouble.place)
    seen: set[Place] = set()
    for acts in (procedure.make_safe, *(phase.make_safe for phase in procedure.phases)):
        for act in acts:
            if act.place not in seen:
                seen.add(act.place)
                yield _plain(SAFE_ACT, act.do, None, act.place, ("do",))


def _of_template(kind: str, template: Template, step: Step, place: Place) -> Written:
    plain = small(template.text)
    for slot in template.slots:
        end = template.text.find("}", slot.start) + 1
        plain = plain[: slot.start] + "#" * (end - slot.start) + plain[end:]
    return Written(kind, template.text, plain, tuple(plain.translate(PUNCTUATION).split()), step, place, ("do",))


def _plain(kind: str, text: str, step: Step | None, place: Place, keys: tuple[str | int, ...]) -> Written:
    low = small(text)
    return Written(kind, text, low, tuple(low.translate(PUNCTUATION).split()), step, place, keys)


def small(text: str) -> str:
    """A text in small letters, of the same length."""
    low = text.lower()
    if len(low) != len(text):  # a letter that has no small form of one character: offsets would slip
        low = "".join(char.lower() if len(char.lower()) == 1 else char for char in text)
    return low
