"""Rules about hold points: what is confirmed, and on which protection the step relies."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import EMPTY_ANSWERS
from runner.lint.words import words_of
from runner.procedure.finding import Severity


@rule(Severity.WARNING)
def hold_confirms_nothing_seen(analysis: Analysis) -> Iterator[Remark]:
    """A confirmation of a hold says `checked` or `ok` and not what is seen.

    Why: a word that fits every case is ticked in every case. A seen thing, such as `Both chucks are open`, has to be looked at.
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
                    - All OK  # here
                    - Drop zone is clear
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
                    - Both chucks are open
                    - Drop zone is clear
                  protects: Chuck latch
    """
    for step in analysis.steps:
        for number, text in enumerate(step.hold.confirm if step.hold is not None else ()):
            if step.hold is not None and set(words_of(text)) <= EMPTY_ANSWERS:
                yield Remark(
                    analysis.within(step.hold.place, "confirm", number),
                    f"'{text}' names nothing that the releaser sees",
                    "Say what is seen when it is so: 'Both chucks are open'.",
                )


@rule(Severity.NOTE)
def protection_not_named(analysis: Analysis) -> Iterator[Remark]:
    """A hold does not say on which physical protection the step relies.

    Why: an instruction is the last layer after design and guards, never the only one. Naming the guard, latch or lock shows the
    releaser what to look at, and the author that there is one.
    Source: informed by HSG48 and the order of protective measures in ISO 12100.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold:  # here
                  release: lead
                  confirm: [Both chucks are open]
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
                  confirm: [Both chucks are open]
                  protects: Chuck latch
    """
    for step in analysis.steps:
        if step.hold is not None and not step.hold.protects:
            yield Remark(
                analysis.within(step.place, "hold"),
                f"the hold of `{step.id}` names no protection that the step relies on",
                "Add `protects`, the guard, latch or lock that keeps people from harm.",
            )


@rule(Severity.WARNING, lasting=True)
def emergency_stop_as_protection(analysis: Analysis) -> Iterator[Remark]:
    """A hold relies on the emergency stop.

    Why: an emergency stop limits harm that is already under way. It does not keep the press from starting, and it is no
    safeguard to work by.
    Source: informed by WorkSafe Victoria, Guarding printing presses (from memory).

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
                  protects: Emergency stop is pressed  # here
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
        if step.hold is not None and _names_emergency_stop(step.hold.protects):
            yield Remark(
                analysis.within(step.hold.place, "protects"),
                "an emergency stop is no protection to work by",
                "Name the guard, the lock or the isolation that keeps the press from moving.",
            )


def _names_emergency_stop(text: str) -> bool:
    plain = " ".join(words_of(text))
    return any(words in plain for words in ("emergency stop", "e stop", "estop", "emergency off"))
