"""Rules about cautions: the signal word tells how grave it is, the caution stands before the act and holds none."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.words import begins_act, words_of
from runner.procedure.finding import Severity

FEW_STEPS = 4
"""In a shorter procedure a share of steps says nothing."""


@rule(Severity.WARNING)
def danger_on_most_steps(analysis: Analysis) -> Iterator[Remark]:
    """More than half of the steps carry a caution with the signal word danger.

    Why: a word that stands everywhere is not read any more. Danger is for what will kill or maim if it is not avoided; general
    dangers belong to the first step they concern.
    Source: the rank of signal words is informed by ANSI Z535.6 and ISO 3864-2; the share is common practice, no source.

    Wrong:
        cautions:
          nip: {signal: danger, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}  # here
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe-one, by: unwind, do: Wipe the first roller., cautions: [nip]}
              - {id: wipe-two, by: unwind, do: Wipe the second roller., cautions: [nip]}
              - {id: wipe-three, by: unwind, do: Wipe the third roller., cautions: [nip]}
              - {id: wipe-four, by: unwind, do: Wipe the fourth roller.}
    Right:
        cautions:
          nip: {signal: danger, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe-one, by: unwind, do: Wipe the first roller., cautions: [nip]}
              - {id: wipe-two, by: unwind, do: Wipe the second roller.}
              - {id: wipe-three, by: unwind, do: Wipe the third roller.}
              - {id: wipe-four, by: unwind, do: Wipe the fourth roller.}
    """
    grave = [step for step in analysis.steps if any(caution.signal == "danger" for caution in step.cautions)]
    total = len(analysis.steps)
    if total < FEW_STEPS or len(grave) * 2 <= total:
        return
    shown = [caution.id for step in grave for caution in step.cautions if caution.signal == "danger"]
    often = max(dict.fromkeys(shown), key=shown.count)
    place = next(caution.place for caution in analysis.procedure.cautions if caution.id == often)
    yield Remark(
        place,
        f"{len(grave)} of {total} steps carry a danger, `{often}` most often: people stop reading it",
        "Keep danger for what will kill or maim, and show it where it first concerns somebody.",
    )


@rule(Severity.WARNING)
def notice_with_harm(analysis: Analysis) -> Iterator[Remark]:
    """A caution has the signal word notice and says that people are harmed.

    Why: notice is for property alone. Where people can be hurt the word is caution, warning or danger.
    Source: informed by ANSI Z535.6 and ISO 3864-2 (definitions of the signal words).

    Wrong:
        cautions:
          edge: {signal: notice, hazard: The web has a sharp edge., harm: Cuts., avoid: Wear gloves.}  # here
        phases:
          - {phase: Load, park: after, steps: [{id: pull, by: unwind, do: Pull the web., cautions: [edge]}]}
    Right:
        cautions:
          edge: {signal: caution, hazard: The web has a sharp edge., harm: Cuts., avoid: Wear gloves.}
        phases:
          - {phase: Load, park: after, steps: [{id: pull, by: unwind, do: Pull the web., cautions: [edge]}]}
    """
    for caution in analysis.procedure.cautions:
        if caution.signal == "notice" and caution.harm:
            yield Remark(
                analysis.within(caution.place, "harm"),
                f"`{caution.id}` is a notice, which is for property, and names a harm to people",
                "Write caution, warning or danger, or take the harm out.",
            )


@rule(Severity.WARNING)
def caution_unused(analysis: Analysis) -> Iterator[Remark]:
    """A caution is written and no step shows it.

    Why: somebody has thought of the hazard, and the person at the press never reads of it.
    Source: common practice, no source.

    Wrong:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}  # here
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the roller., cautions: [nip]}]}
    """
    shown = {caution.id for step in analysis.steps for caution in step.cautions}
    for caution in analysis.procedure.cautions:
        if caution.id not in shown:
            yield Remark(
                caution.place,
                f"no step shows the caution `{caution.id}`",
                "Add it to `cautions` of the steps it concerns.",
            )


@rule(Severity.WARNING)
def caution_inside_act(analysis: Analysis) -> Iterator[Remark]:
    """The text of an act holds a caution.

    Why: a caution is read before the act, apart from it, and acknowledged. Inside the act it is read when the hand is already
    moving, or not at all.
    Source: informed by DOE-STD-1029-92 and ANSI Z535.6 (both from memory).

    Wrong:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: "Wipe the roller. Warning: the nip draws hands in."}  # here
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the roller., cautions: [nip]}]}
    """
    for order in analysis.orders:
        if ":" not in order.plain and "!" not in order.plain:
            continue
        for word in ("danger", "warning", "caution", "notice", "beware", "attention"):
            at = order.plain.find(f"{word}:")
            at = order.plain.find(f"{word}!") if at < 0 else at
            if at >= 0 and (at == 0 or not order.plain[at - 1].isalpha()):
                yield Remark(
                    analysis.in_written(order, at),
                    f"`{word}` stands inside the act",
                    "Write it under `cautions` and name it in the step's `cautions`; it is shown before the act.",
                )
                break


@rule(Severity.NOTE)
def act_inside_caution(analysis: Analysis) -> Iterator[Remark]:
    """The hazard or the harm of a caution tells people to do something.

    Why: an act in a caution is no step: nobody ticks it, nothing depends on it, and it is lost. How to avoid the hazard
    stands in `avoid`; what must be done is a step.
    Source: informed by DOE-STD-1029-92 (from memory) and ASD-STE100 rule 5.5.

    Wrong:
        cautions:
          nip: {signal: warning, hazard: Close the nip guard., harm: Crushing., avoid: Keep hands off.}  # here
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the roller., cautions: [nip]}]}
    Right:
        cautions:
          nip: {signal: warning, hazard: The nip draws hands in., harm: Crushing., avoid: Keep hands off.}
        phases:
          - {phase: Clean, park: after, steps: [{id: wipe, by: unwind, do: Wipe the roller., cautions: [nip]}]}
    """
    for caution in analysis.procedure.cautions:
        for key, text in (("hazard", caution.hazard), ("harm", caution.harm)):
            if begins_act(words_of(text)[:2]) and " " in text:
                yield Remark(
                    analysis.within(caution.place, key),
                    f"the {key} of `{caution.id}` tells people to do something: '{text}'",
                    "Say what the hazard is; make the act a step.",
                )
