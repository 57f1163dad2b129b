"""Rules about second looks, confirmations and what they rest on: somebody else looks, at something that is still there to be seen."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import CLAIMS_SAFE, GONE_AFTERWARDS, NO_PHYSICAL_PROTECTION, PHYSICAL_PROTECTION
from runner.lint.words import begins_act, first_word, holds, words_of
from runner.lint.written import ACT, ANSWER, CONFIRMATION, ORDERS, QUESTION, SIGN
from runner.procedure.finding import Severity

MOST_CONFIRMATIONS = 9
SHARE_FROM = 10
"""In a shorter procedure a share of steps says nothing."""


@rule(Severity.WARNING)
def second_look_too_late(analysis: Analysis) -> Iterator[Remark]:
    """An independent second look is asked for something that is over: a sound, an answer, what moved.

    Why: independent means later and alone. What was heard is gone by then, so the second person writes what the first one tells.
    Source: apart in time and place: informed by DOE-STD-1036-93; watching during the act is the other kind (DOE-HDBK-1028, from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Run
            park: after
            steps:
              - id: listen
                by: unwind
                do: Listen to the bearing of the idler.
                second: {by: lead, how: independent}  # here
                choose:
                  sound:
                    ask: What did you hear?
                    of: [an even hum, scraping, cannot tell]
                    accept: [an even hum]
                    else: scraping
                trouble: [{id: scraping, sign: The bearing scrapes, do: Tell the fitter., then: stop}]
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Run
            park: after
            steps:
              - id: listen
                by: unwind
                do: Listen to the bearing of the idler.
                second: {by: lead, how: together}
                choose:
                  sound:
                    ask: What did you hear?
                    of: [an even hum, scraping, cannot tell]
                    accept: [an even hum]
                    else: scraping
                trouble: [{id: scraping, sign: The bearing scrapes, do: Tell the fitter., then: stop}]
    """
    for step in analysis.steps:
        if step.second is None or step.second.how != "independent":
            continue
        looked = [ask for ask in step.asks if ask.kind in ("read", "choose", "scan")]
        gone = [ask for ask in looked if ask.kind == "choose" and GONE_AFTERWARDS.intersection(words_of(ask.ask))]
        if gone and len(gone) == len(looked):
            yield Remark(
                analysis.within(step.second.place, "how"),
                f"'{gone[0].ask}' asks for what is over when the second person comes",
                "Write `how: together`, or ask for something that stays to be seen.",
            )


@rule(Severity.NOTE)
def looked_at_twice_by_one(analysis: Analysis) -> Iterator[Remark]:
    """The role that releases a step's hold also gives its second look.

    Why: whoever released it has said that it is right, and looks for what they have said. Two looks of one person are one.
    Source: deciding without leaning on the first: informed by DOE-STD-1036-93.

    Wrong:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold: {release: lead, confirm: [Both chucks are open], protects: Chuck latch}
                second: {by: lead, how: together}  # here
    Right:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold: {release: lead, confirm: [Both chucks are open], protects: Chuck latch}
                second: {by: rewind, how: together}
    """
    if len(analysis.procedure.people) < 3:
        return
    for step in analysis.steps:
        if step.second is not None and step.hold is not None and step.second.by == step.hold.release:
            yield Remark(
                analysis.within(step.second.place, "by"),
                f"`{step.second.by}` releases `{step.id}` and looks at it as well",
                "Let another role look.",
            )


@rule(Severity.NOTE)
def second_look_on_most_steps(analysis: Analysis) -> Iterator[Remark]:
    """More than half of the steps ask for a second look.

    Why: the second person stands beside the first all day and nods. Few looks, where a slip cannot be taken back, are real ones.
    Source: not everything is verified, it dilutes: informed by DOE-HDBK-1028 (from memory); the share is common practice, no source.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean  # here
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1., second: {by: lead, how: together}}
              - {id: b, by: unwind, do: Wipe roller 2., second: {by: lead, how: together}}
              - {id: c, by: unwind, do: Wipe roller 3., second: {by: lead, how: together}}
              - {id: d, by: unwind, do: Wipe roller 4., second: {by: lead, how: together}}
              - {id: e, by: unwind, do: Wipe roller 5., second: {by: lead, how: together}}
              - {id: f, by: unwind, do: Wipe roller 6., second: {by: lead, how: together}}
              - {id: g, by: unwind, do: Wipe roller 7.}
              - {id: h, by: unwind, do: Wipe roller 8.}
              - {id: i, by: unwind, do: Wipe roller 9.}
              - {id: j, by: unwind, do: Tell the crew that the rollers are wiped.}
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1.}
              - {id: b, by: unwind, do: Wipe roller 2., second: {by: lead, how: together}}
    """
    looked = sum(step.second is not None for step in analysis.steps)
    if len(analysis.steps) >= SHARE_FROM and looked * 2 > len(analysis.steps):
        yield Remark(
            analysis.procedure.phases[0].place,
            f"{looked} of {len(analysis.steps)} steps ask for a second look",
            "Keep it where a slip hurts somebody or cannot be taken back.",
        )


@rule(Severity.NOTE)
def cut_without_second_look(analysis: Analysis) -> Iterator[Remark]:
    """A step cuts a web with neither a second look nor a hold.

    Why: a cut on the wrong side of a nip or a bar cannot be taken back, and what was held by the web drops or turns.
    Source: a second person who agrees before and during an act that cannot be undone: informed by DOE-HDBK-1028 (from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        phases:
          - phase: Cut
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the web before the infeed nip.}  # here
              - {id: wipe, by: rewind, do: Wipe the idler.}
    Right:
        people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
        phases:
          - phase: Cut
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the web before the infeed nip., second: {by: rewind, how: together}}
              - {id: wipe, by: rewind, do: Wipe the idler.}
    """
    if len(analysis.procedure.people) < 2:
        return
    for order in analysis.orders:
        step = order.step
        if order.kind != ACT or step is None or step.second is not None or step.hold is not None:
            continue
        if first_word(order.plain) == "cut" and "web" in order.words:
            yield Remark(
                analysis.in_written(order),
                f"`{step.id}` cuts the web, and nobody else looks where",
                "Add `second` with `how: together`.",
            )


@rule(Severity.NOTE)
def confirmation_tells_to_act(analysis: Analysis) -> Iterator[Remark]:
    """A confirmation of a hold is an order, not something that is seen.

    Why: the releaser ticks what they see. `Close the guard` is an act with nobody to do it, and the tick stands for nothing.
    Source: answering with what is seen is informed by Degani and Wiener, NASA CR 177549 (1990).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold:
                  release: lead
                  confirm:
                    - Close the unwind guard  # here
                  protects: Chuck latch
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold:
                  release: lead
                  confirm:
                    - The unwind guard is closed
                  protects: Chuck latch
    """
    for written in analysis.written:
        if written.kind == CONFIRMATION and begins_act(written.words[:2]) and not {"is", "are"} & set(written.words):
            yield Remark(
                analysis.in_written(written),
                f"'{written.text}' tells to act",
                "Say what the releaser sees: 'The unwind guard is closed'; make the act a step.",
            )


@rule(Severity.NOTE)
def too_many_confirmations(analysis: Analysis) -> Iterator[Remark]:
    """A hold asks for more than nine confirmations.

    Why: past nine the list is ticked from top to bottom, and the one that matters is in the middle.
    Source: five to nine entries at a pause point: Gawande, The Checklist Manifesto (2009), from memory.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold:
                  release: lead
                  confirm: [A is up, B is up, C is up, D is up, E is up, F is up, G is up, H is up, I is up, J is up]  # here
                  protects: Chuck latch
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold: {release: lead, confirm: [Both chucks are open, Nobody is below], protects: Chuck latch}
    """
    for step in analysis.steps:
        if step.hold is not None and len(step.hold.confirm) > MOST_CONFIRMATIONS:
            yield Remark(
                analysis.within(step.hold.place, "confirm"),
                f"the hold of `{step.id}` asks for {len(step.hold.confirm)} confirmations",
                "Keep what protects this step; the rest belongs to steps before it.",
            )


@rule(Severity.WARNING, lasting=True)
def protection_not_physical(analysis: Analysis) -> Iterator[Remark]:
    """A hold relies on a sign, a call, training or care.

    Why: these work as long as everybody reads, hears and thinks. `protects` is what holds when somebody does not.
    Source: instructions are the last layer after design and guards: HSG48; order of protective measures in ISO 12100.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - id: clean
                by: unwind
                do: Wipe the nip rollers.
                hold:
                  release: lead
                  confirm: [Web is cut]
                  protects: Warning sign on the panel  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - id: clean
                by: unwind
                do: Wipe the nip rollers.
                hold:
                  release: lead
                  confirm: [Web is cut]
                  protects: Lock of the person who cleans, on the main switch
    """
    for step in analysis.steps:
        if step.hold is not None:
            words = set(words_of(step.hold.protects))
            if words & NO_PHYSICAL_PROTECTION and not words & PHYSICAL_PROTECTION:
                yield Remark(
                    analysis.within(step.hold.place, "protects"),
                    f"'{step.hold.protects}' holds nothing when somebody does not heed it",
                    "Name the guard, the latch, the lock or the brake that holds.",
                )


@rule(Severity.WARNING, lasting=True)
def says_safe(analysis: Analysis) -> Iterator[Remark]:
    """A text says that a machine or a place is safe.

    Why: a procedure knows what people have said, never what is so. Who ticks `The press is safe` has looked at nothing in particular.
    Source: answers say what is seen: Degani and Wiener, NASA CR 177549 (1990); isolation is verified, not declared: 29 CFR 1910.147(d)(6).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - id: clean
                by: unwind
                do: Wipe the nip rollers.
                hold:
                  release: lead
                  confirm:
                    - The press is safe  # here
                  protects: Main switch with a lock
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - id: clean
                by: unwind
                do: Wipe the nip rollers.
                hold:
                  release: lead
                  confirm:
                    - The main switch is off and a lock hangs on it
                  protects: Main switch with a lock
    """
    for written in analysis.written:
        if "safe" not in written.plain:
            continue
        if written.kind in ORDERS or written.kind in (CONFIRMATION, QUESTION, ANSWER, SIGN):
            at, words = holds(written.plain, CLAIMS_SAFE)
            if at >= 0:
                yield Remark(
                    analysis.in_written(written, at),
                    f"`{words}` is no thing that is seen",
                    "Say what is seen: which switch is off, which lock hangs on it, what stands still.",
                )
