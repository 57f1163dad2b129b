"""Rules about harm: the signal word fits it, cautions stay few enough to be read, and no grave act is one person's alone.

Signal words by harm are those of ANSI Z535.6 and ISO 3864-2: danger and warning for death or serious injury, caution for less,
notice for property.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import GRAVE_HARMS, INJURIES, NOT_FIRST, OTHER_HARMS, SLIGHT_HARMS, THINGS
from runner.lint.words import base_of, begins_act, first_word, order_in, sentences_of, words_of
from runner.lint.written import ACT, AVOID, WHY
from runner.procedure.finding import Severity

MOST_CAUTIONS = 4
"""On one step; common practice, no source."""
SHARE_FROM = 10
"""In a shorter procedure a share of steps says nothing."""


@rule(Severity.WARNING)
def signal_below_harm(analysis: Analysis) -> Iterator[Remark]:
    """A caution's signal word is for slight harm or property, and its words name death or lasting injury.

    Why: the word is read first, often alone. Who reads `caution` weighs a cut finger against a minute saved.
    Source: informed by ANSI Z535.6 and ISO 3864-2 (definitions of the signal words).

    Wrong:
        cautions:
          slam: {signal: caution, hazard: A knife can slam down., harm: Severed fingers., avoid: Keep hands out.}  # here
        phases:
          - {phase: Fit, park: after, steps: [{id: fit, by: unwind, do: Fit the knife., cautions: [slam]}]}
    Right:
        cautions:
          slam: {signal: warning, hazard: A knife can slam down., harm: Severed fingers., avoid: Keep hands out.}
        phases:
          - {phase: Fit, park: after, steps: [{id: fit, by: unwind, do: Fit the knife., cautions: [slam]}]}
    """
    for caution in analysis.procedure.cautions:
        if caution.signal == "caution":
            grave = GRAVE_HARMS.intersection(words_of(caution.harm))
            if grave:
                yield Remark(
                    analysis.within(caution.place, "signal"),
                    f"`{caution.id}` is a caution and names `{min(grave)}`",
                    "Write `warning`, or `danger` where it will happen if it is not avoided.",
                )
        elif caution.signal == "notice" and not caution.harm:
            named = INJURIES.intersection(words_of(caution.hazard))
            if named:
                yield Remark(
                    analysis.within(caution.place, "signal"),
                    f"`{caution.id}` is a notice, which is for property, and names `{min(named)}`",
                    "Write caution, warning or danger, and what it does to people under `harm`.",
                )


@rule(Severity.NOTE)
def signal_above_harm(analysis: Analysis) -> Iterator[Remark]:
    """A caution's signal word is for death or serious injury, and its harm is one that heals by itself.

    Why: a grave word spent on a scratch is not believed where it counts.
    Source: informed by ANSI Z535.6 and ISO 3864-2 (definitions of the signal words).

    Wrong:
        cautions:
          edge: {signal: danger, hazard: The core has a rough edge., harm: Scratched hands., avoid: Wear gloves.}  # here
        phases:
          - {phase: Load, park: after, steps: [{id: take, by: unwind, do: Take the core., cautions: [edge]}]}
    Right:
        cautions:
          edge: {signal: caution, hazard: The core has a rough edge., harm: Scratched hands., avoid: Wear gloves.}
        phases:
          - {phase: Load, park: after, steps: [{id: take, by: unwind, do: Take the core., cautions: [edge]}]}
    """
    for caution in analysis.procedure.cautions:
        words = set(words_of(caution.harm)) if caution.signal in ("danger", "warning") else set()
        if words & SLIGHT_HARMS and not words & (GRAVE_HARMS | OTHER_HARMS):
            yield Remark(
                analysis.within(caution.place, "signal"),
                f"`{caution.id}` is a {caution.signal} and names only slight harm: '{caution.harm}'",
                "Write `caution`, or say the graver harm that it can do.",
            )


@rule(Severity.NOTE)
def caution_on_most_steps(analysis: Analysis) -> Iterator[Remark]:
    """The same caution stands on more than half of the steps.

    Why: what is shown at every step is acknowledged without being read. A general danger is told once, where it first concerns
    somebody; a step has the one of its own.
    Source: general dangers in a section, specific ones at the step: informed by ANSI Z535.6; the share is common practice, no source.

    Wrong:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}  # here
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1., cautions: [nip]}
              - {id: b, by: unwind, do: Wipe roller 2., cautions: [nip]}
              - {id: c, by: unwind, do: Wipe roller 3., cautions: [nip]}
              - {id: d, by: unwind, do: Wipe roller 4., cautions: [nip]}
              - {id: e, by: unwind, do: Wipe roller 5., cautions: [nip]}
              - {id: f, by: unwind, do: Wipe roller 6., cautions: [nip]}
              - {id: g, by: unwind, do: Wipe roller 7.}
              - {id: h, by: unwind, do: Wipe roller 8.}
              - {id: i, by: unwind, do: Wipe roller 9.}
              - {id: j, by: unwind, do: Tell the crew that the rollers are wiped.}
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1., cautions: [nip]}
              - {id: b, by: unwind, do: Wipe roller 2.}
    """
    total = len(analysis.steps)
    if total < SHARE_FROM:
        return
    shown = [caution.id for step in analysis.steps for caution in step.cautions]
    for caution in analysis.procedure.cautions:
        times = shown.count(caution.id)
        if times * 2 > total:
            yield Remark(
                caution.place,
                f"`{caution.id}` stands on {times} of {total} steps: people stop reading it",
                "Show it where it first concerns somebody, and after each break in the work.",
            )


@rule(Severity.NOTE)
def caution_twice(analysis: Analysis) -> Iterator[Remark]:
    """Two cautions have the same hazard in the same words.

    Why: both are shown and acknowledged, and the next engineer mends one of them.
    Source: a low count of messages is informed by ANSI Z535.6 (from memory).

    Wrong:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
          roller: {signal: caution, hazard: The nip draws hands in., harm: Crushing., avoid: Stand back.}  # here
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the idler., cautions: [nip, roller]}]}
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the idler., cautions: [nip]}]}
    """
    seen: dict[tuple[str, ...], str] = {}
    for caution in analysis.procedure.cautions:
        words = tuple(words_of(caution.hazard))
        other = seen.setdefault(words, caution.id)
        if other != caution.id:
            yield Remark(
                caution.place, f"`{caution.id}` has the hazard of `{other}`", "Keep one, with the graver word."
            )


@rule(Severity.NOTE)
def too_many_cautions(analysis: Analysis) -> Iterator[Remark]:
    """A step carries more than four cautions.

    Why: nobody keeps five hazards in mind through one act. Either the step is several acts, or some belong to an earlier one.
    Source: a low count of messages is informed by ANSI Z535.6 (from memory); four is common practice, no source.

    Wrong:
        cautions:
          a: {signal: caution, hazard: The bar is heavy., harm: Bruises., avoid: Lift with two people.}
          b: {signal: caution, hazard: The bar is oily., harm: Bruises., avoid: Wear gloves.}
          c: {signal: caution, hazard: The bar is long., harm: Bruises., avoid: Look behind you.}
          d: {signal: caution, hazard: The floor is wet., harm: A fall., avoid: Dry it.}
          e: {signal: notice, hazard: The bar scratches rollers., avoid: Lay it on felt.}
        phases:
          - phase: Fit
            park: after
            steps:
              - {id: fit, by: unwind, do: Fit the bar., cautions: [a, b, c, d, e]}  # here
    Right:
        cautions:
          a: {signal: caution, hazard: The bar is heavy., harm: Bruises., avoid: Lift with two people.}
          d: {signal: caution, hazard: The floor is wet., harm: A fall., avoid: Dry it.}
        phases:
          - phase: Fit
            park: after
            steps:
              - {id: dry, by: unwind, do: Wipe the floor dry., cautions: [d]}
              - {id: fit, by: unwind, do: Fit the bar., cautions: [a]}
    """
    for step in analysis.steps:
        if len(step.cautions) > MOST_CAUTIONS:
            yield Remark(
                analysis.within(step.place, "cautions"),
                f"`{step.id}` has {len(step.cautions)} cautions",
                "Split the step, or show the general ones where they first concern somebody.",
            )


@rule(Severity.NOTE)
def avoid_not_ordered(analysis: Analysis) -> Iterator[Remark]:
    """What a caution says under `avoid` is no order.

    Why: the last line of a caution tells the body what to do: stay, keep, wear. A description has to be turned into that first.
    Source: a safety sentence begins with a clear order or condition: informed by ASD-STE100, safety instructions.

    Wrong:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: The guards are important.}  # here
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the idler., cautions: [nip]}]}
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Stay outside the closed guards.}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the idler., cautions: [nip]}]}
    """
    for written in analysis.written:
        if written.kind == AVOID:
            at, word = order_in(written.plain)
            if word != "no" and (word in NOT_FIRST or word in THINGS or base_of(word)):
                yield Remark(
                    analysis.in_written(written, max(at, 0)),
                    f"`avoid` does not begin with an order but with `{word}`",
                    "Say what to do: stay, keep, wear, stand.",
                )


@rule(Severity.NOTE)
def act_inside_reason(analysis: Analysis) -> Iterator[Remark]:
    """The `why` of a step tells people to do something.

    Why: a reason is read by those who want to know it, and skipped by those who do. An act in it is done by half of the crew.
    Source: notes inform and do not instruct: informed by ASD-STE100, rule 5.5, and DOE-STD-1029-92 (from memory).

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: Fill the chucks., why: Air leaks out. Close the valve afterwards.}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: Fill the chucks.}
              - {id: shut, by: unwind, do: Close the valve of the chucks., why: Air leaks out.}
    """
    for written in analysis.written:
        if written.kind == WHY:
            for offset, sentence in sentences_of(written.text):
                if begins_act(words_of(sentence)[:2]):
                    yield Remark(
                        analysis.in_written(written, offset),
                        f"the reason tells people to do something: '{sentence}'",
                        "Make the act a step.",
                    )


@rule(Severity.NOTE)
def danger_to_one_alone(analysis: Analysis) -> Iterator[Remark]:
    """A step with a danger has neither a hold nor a second look.

    Why: what kills when it goes wrong is begun by one person, with nobody else asked. Most such acts cannot be taken back.
    Source: a second person who agrees before an act that cannot be undone is informed by DOE-HDBK-1028 (from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        cautions:
          hanging-load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll., cautions: [hanging-load]}  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        cautions:
          hanging-load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                cautions: [hanging-load]
                hold: {release: lead, confirm: [Nobody stands in the drop zone], protects: Hoist brake}
    """
    if len(analysis.procedure.people) < 2:
        return
    for step in analysis.steps:
        if step.hold is None and step.second is None and any(c.signal == "danger" for c in step.cautions):
            yield Remark(
                step.place,
                f"`{step.id}` carries a danger, and nobody but the person doing it is asked",
                "Add a `hold`, or a `second` look together.",
            )


@rule(Severity.NOTE)
def lift_without_caution(analysis: Analysis) -> Iterator[Remark]:
    """A step lifts a roll or a load and shows no caution.

    Why: a load on a hook falls and swings, and most of those it hits stood where they had stood a hundred times.
    Source: nobody under a hanging load: informed by 29 CFR 1910.179(n) (from memory) and WAC 296-24-23527.

    Wrong:
        phases:
          - {phase: Lift, park: after, steps: [{id: lift, by: unwind, do: Lift the roll with the crane.}]}  # here
    Right:
        cautions:
          hanging-load: {signal: danger, hazard: The roll can fall., harm: Crushing., avoid: Stay clear.}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll with the crane., cautions: [hanging-load]}
    """
    for order in analysis.orders:
        step = order.step
        if order.kind != ACT or step is None or step.cautions:
            continue
        if first_word(order.plain) in ("lift", "hoist") and not {"roll", "load", "crane"}.isdisjoint(order.words):
            yield Remark(
                analysis.in_written(order),
                f"`{step.id}` lifts a load and shows no caution",
                "Write what can fall, and where to stand, under `cautions`, and name it in the step.",
            )
