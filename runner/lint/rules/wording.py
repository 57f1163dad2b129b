"""Rules about the words of instructions. All are notes: they are opinions, informed by what writers' guides agree on.

They know English only, and only what can be told from words; none of them says that an instruction is right.
"""

from collections.abc import Iterator
from itertools import pairwise

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import (
    ACTS,
    ASKS_WHAT,
    NOT_FIRST,
    SAYS_HOW_IT_IS,
    THINGS,
    VAGUE,
)
from runner.lint.words import (
    base_of,
    begins_act,
    find_words,
    first_word,
    holds,
    is_one_sentence,
    order_in,
    sentences_of,
    words_of,
)
from runner.lint.written import ACT, CONFIRMATION, ORDERS, SIGN
from runner.procedure.finding import Severity

MOST_WORDS = 20

CONDITIONS = ("if", "unless", "when", "in case", "provided that")
"""Words that begin a condition."""


@rule(Severity.NOTE)
def sentence_too_long(analysis: Analysis) -> Iterator[Remark]:
    """A sentence of an instruction has more than 20 words.

    Why: it is read at arm's length, in noise, by somebody in a hurry who has just put a tool down.
    Source: informed by ASD-STE100, rule 5.1: at most 20 words in a procedural sentence.

    Wrong:
        phases:
          - phase: Set
            park: after
            steps:
              - id: set
                by: unwind
                do: Set the edge guide of the unwind side to the mark that stands on the frame beside the second idler after the tension bar.  # here
    Right:
        phases:
          - phase: Set
            park: after
            steps:
              - {id: set, by: unwind, do: Set the edge guide to the mark on the frame.}
    """
    for order in analysis.orders:
        if len(order.text.split()) <= MOST_WORDS:
            continue
        for offset, sentence in sentences_of(order.plain):
            count = sum(any(char.isalnum() or char == "#" for char in word) for word in sentence.split())
            if count > MOST_WORDS:
                yield Remark(
                    analysis.in_written(order, offset),
                    f"this sentence has {count} words",
                    f"Say it in {MOST_WORDS} words or fewer.",
                )


@rule(Severity.NOTE)
def vague_words(analysis: Analysis) -> Iterator[Remark]:
    """An instruction, a confirmation or a sign of trouble leaves open how much, how fast or when.

    Why: two people do two things. A number with its unit, a mark or a thing that is seen is the same for everybody.
    Source: informed by HSG48 and DOE-STD-1029-92: settings are quantified.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll slowly.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll at creep speed.}
    """
    for written in analysis.written:
        if written.kind in ORDERS or written.kind in (CONFIRMATION, SIGN):
            at, words = holds(written.plain, VAGUE)
            if at >= 0:
                yield Remark(
                    analysis.in_written(written, at),
                    f"`{words}` is understood in many ways",
                    "Give a number, a mark or what is seen.",
                )


@rule(Severity.NOTE)
def more_than_one_act(analysis: Analysis) -> Iterator[Remark]:
    """A step holds more than one act.

    Why: whoever is interrupted between the two does not know which is done, and the tick stands for both.
    Source: one act a step: informed by HSG48 and ASD-STE100, rule 5.2.

    Wrong:
        phases:
          - phase: Load
            park: after
            steps:
              - {id: load, by: unwind, do: Open the guard and then pull the old core off.}  # here
    Right:
        phases:
          - phase: Load
            park: after
            steps:
              - {id: open, by: unwind, do: Open the guard.}
              - {id: pull, by: unwind, do: Pull the old core off.}
    """
    for order in analysis.orders:
        at = _second_act(order.plain) if order.kind == ACT and len(order.words) > 3 else -1
        if at >= 0:
            yield Remark(analysis.in_written(order, at), "a second act begins here", "Make it a step of its own.")


@rule(Severity.NOTE)
def condition_after_act(analysis: Analysis) -> Iterator[Remark]:
    """A condition stands after the act that depends on it.

    Why: the hand moves when the act has been read. The condition comes first, or better, it is the step's `when` or a trouble.
    Source: informed by DOE-STD-1029-92 and NUREG-0899 (both from memory): the condition comes before the act.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lower, by: unwind, do: Lower the roll if it swings.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lower, by: unwind, do: "If the roll swings, lower it."}
    """
    for order in analysis.orders:
        if not any(word in order.plain for word in CONDITIONS):
            continue
        for offset, sentence in sentences_of(order.plain):
            found = [find_words(sentence, word) for word in CONDITIONS]
            later = [at for at in found if at > 0]
            if later and 0 not in found:
                yield Remark(
                    analysis.in_written(order, offset + min(later)),
                    "the condition stands after the act",
                    "Put the condition first, or write it as `when` or as a trouble.",
                )


@rule(Severity.NOTE)
def act_not_ordered(analysis: Analysis) -> Iterator[Remark]:
    """An instruction describes instead of telling what to do.

    Why: an act begins with its verb, so that the first word says what the hand does. `The guard is closed` leaves open whether to
    look or to close it.
    Source: informed by ASD-STE100, rule 5.3: instructions are orders, the verb comes first.

    Wrong:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: The unwind guard should be closed.}  # here
    Right:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: Close the unwind guard.}
    """
    for order in analysis.orders:
        at, word = order_in(order.plain)
        act = base_of(word)
        if act:
            yield Remark(
                analysis.in_written(order, at), f"`{word}` is not the form of an order", f"Begin with `{act}`."
            )
        elif word and (word in NOT_FIRST or word in THINGS or (at == 0 and _describes(order.words))):
            yield Remark(
                analysis.in_written(order, at), f"an instruction does not begin with `{word}`", "Begin with the verb."
            )


@rule(Severity.NOTE)
def double_negative(analysis: Analysis) -> Iterator[Remark]:
    """An instruction forbids something except where something is not so.

    Why: two negations are turned round in the head, and in a hurry one of them is lost.
    Source: informed by HSG48: positive wording.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Do not lift the roll unless both chucks are open.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll with both chucks open.}
    """
    for order in analysis.orders:
        if not any(word in order.plain for word in ("unless", "except", "without")):
            continue
        for offset, sentence in sentences_of(order.plain):
            words = words_of(sentence)
            first = next((word for word in ("not", "never", "no") if word in words), "")
            second = next((word for word in ("unless", "except", "without") if word in words), "")
            if first and second:
                yield Remark(
                    analysis.in_written(order, offset),
                    f"`{first}` and `{second}` in one sentence",
                    "Say what to do, not what not to do.",
                )


def _describes(words: tuple[str, ...]) -> bool:
    """Whether one of the first words says how something is: `press is stopped`, but not `say who is there`."""
    for before, word in pairwise(words[:4]):
        if before in ASKS_WHAT:
            return False
        if word in SAYS_HOW_IT_IS:
            return True
    return False


def _second_act(text: str) -> int:
    """Where a second act begins, -1 where none does."""
    if not (" and " in text or "," in text or ";" in text or "then" in text) and is_one_sentence(text):
        return -1
    first = first_word(text)
    for words in ("and then", "then"):
        at = find_words(text, words)
        if at > 0 and first not in ("if", "when"):
            return at
    for joint in (" and ", ", ", "; "):
        at = text.find(joint) if first in ACTS or joint == " and " else -1
        while at >= 0:
            next_words = words_of(text[at + len(joint) : at + 40])[:2]
            if next_words and begins_act(next_words):
                return at if joint == "; " else at + (joint == " and ")
            at = text.find(joint, at + 1)
    for offset, sentence in sentences_of(text)[1:]:
        if begins_act(words_of(sentence)[:2]):
            return offset
    return -1
