"""Rules about how an instruction orders: nothing is left open, to choice or to where a step stands on the page.

All are notes, informed by what writers' guides agree on, and see only what words can tell.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import BY_EXCEPTION, BY_POSITION, EVERY, LEFT_OPEN, LEFT_TO_CHOICE, NOT_FIRST, PASSIVE
from runner.lint.words import find_words, holds
from runner.procedure.finding import Severity


@rule(Severity.NOTE)
def act_left_open(analysis: Analysis) -> Iterator[Remark]:
    """An instruction says `make sure` or `ensure`, and leaves open whether to look or to act.

    Why: to look whether a guard is closed and to close it are two acts with two answers. Who only looks finds it open and goes on.
    Source: verifying, which may act, and checking, which only compares, are told apart in DOE-STD-1029-92.

    Wrong:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: Make sure that the unwind guard is closed.}  # here
    Right:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: Close the unwind guard.}
    """
    for order in analysis.orders:
        at, words = holds(order.plain, LEFT_OPEN)
        if at >= 0:
            yield Remark(
                analysis.in_written(order, at),
                f"`{words}` leaves open whether to look or to act",
                "Order the act, or ask for what is seen with `choose`.",
            )


@rule(Severity.NOTE)
def act_left_to_choice(analysis: Analysis) -> Iterator[Remark]:
    """An instruction says `should`, `may` or `try to`, and leaves open whether the act is to be done.

    Why: in a hurry it is left out, and the record says that it was done. What may be left out is an `optional` step, with a reason.
    Source: informed by DOE-STD-1029-92 (from memory) and HSG48: an instruction is an order.

    Wrong:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: "If there is time, you may wipe the idler."}  # here
    Right:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the idler., optional: reason}
    """
    for order in analysis.orders:
        at, words = holds(order.plain, LEFT_TO_CHOICE)
        if at >= 0:
            yield Remark(
                analysis.in_written(order, at),
                f"`{words}` leaves open whether it is to be done",
                "Order the act; add `optional` where it may be left out.",
            )


@rule(Severity.NOTE)
def passive_act(analysis: Analysis) -> Iterator[Remark]:
    """A sentence of an instruction says that something must be done, and not who does it.

    Why: two people read it, and each takes it for the other's. An order speaks to the person whose step it is.
    Source: informed by ASD-STE100, rule 5.3, and DOE-STD-1029-92 (from memory): active voice.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll. The chucks must be open.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: open, by: unwind, do: Open the chucks.}
              - {id: lift, by: unwind, do: Lift the roll.}
    """
    for order in analysis.orders:
        at, words = holds(order.plain, PASSIVE)
        if at >= 0 and order.words[0] not in NOT_FIRST:
            yield Remark(
                analysis.in_written(order, at),
                f"`{words}` does not say who does it",
                "Make it a step that begins with its verb, a need, or a confirmation of a hold.",
            )


@rule(Severity.NOTE)
def listed_by_exception(analysis: Analysis) -> Iterator[Remark]:
    """An instruction names things by those that are left out: all except one.

    Why: what is left out is acted on when the last words are not read. A list of what is meant is read the same by everybody.
    Source: positive wording is informed by HSG48.

    Wrong:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: Close all valves except the drain.}  # here
    Right:
        phases:
          - phase: Close
            park: after
            steps:
              - {id: close, by: unwind, do: Close the air valve of the chucks.}
    """
    for order in analysis.orders:
        at, words = holds(order.plain, BY_EXCEPTION)
        if at < 0 and "except" in order.words and not EVERY.isdisjoint(order.words):
            at, words = order.plain.find("except"), "except"
        if at >= 0:
            yield Remark(
                analysis.in_written(order, at),
                f"`{words}` names what is not meant",
                "Name the things that are meant, a step each if they are few.",
            )


@rule(Severity.NOTE)
def and_or(analysis: Analysis) -> Iterator[Remark]:
    """A text says `and/or`.

    Why: it means one, the other or both, and each reader picks.
    Source: informed by DOE-STD-1029-92 and NUREG-0899 (both from memory): words of logic have one meaning.

    Wrong:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the idler and/or the tension bar.}  # here
    Right:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the idler and the tension bar.}
    """
    for written in analysis.written:
        if "/" in written.plain:
            at = max(written.plain.find("and/or"), written.plain.find("and / or"))
            if at >= 0:
                yield Remark(analysis.in_written(written, at), "`and/or` has three meanings", "Write the one meant.")


@rule(Severity.NOTE)
def step_named_by_place(analysis: Analysis) -> Iterator[Remark]:
    """An instruction names another step by its number or by where it stands: the previous one, step 4, as above.

    Why: on the screen there is no above, and the next revision moves or numbers the step otherwise. A way back is `back_to`.
    Source: going to a step and coming back have words of their own in NUREG-0899 and DOE-STD-1029-92 (both from memory).

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll.}
              - {id: again, by: unwind, do: Repeat the previous step on the other side.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll.}
              - {id: again, by: unwind, do: Lift the roll on the rewind side.}
    """
    for order in analysis.orders:
        at, words = holds(order.plain, BY_POSITION)
        if at < 0 and "step" in order.plain:
            at, words = _numbered_step(order.plain)
        if at >= 0:
            yield Remark(
                analysis.in_written(order, at),
                f"`{words}` hangs on where a step stands",
                "Say what is to be done; a way back is `back_to` with the step's id.",
            )


def _numbered_step(plain: str) -> tuple[int, str]:
    """Where `step 4` or `steps 2 to 5` begins, and its words."""
    for word in ("step", "steps"):
        at = find_words(plain, word)
        follows = next(iter(plain[at + len(word) :].split()), "") if at >= 0 else ""
        if follows[:1].isdigit() and not follows.endswith("%"):
            return at, f"{word} {follows.strip('.,;:')}"
    return -1, ""
