"""Rules about questions and answers: a reading has limits and its unit, and an answer that says trouble stops the work."""

from collections.abc import Iterator

from runner.formula.expr import Comparison, names_in, nodes
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.rules.limits import says_not_known
from runner.lint.word_lists import OTHER_UNITS, QUANTITIES
from runner.lint.words import words_of
from runner.procedure.asks.ask import Ask
from runner.procedure.finding import Severity
from runner.procedure.model import Step

MOST_TERMS = 3


@rule(Severity.NOTE)
def reading_without_limits(analysis: Analysis) -> Iterator[Remark]:
    """A reading has neither limits nor a likely range.

    Why: a slip of the comma or of the gauge is taken as it is typed, and every value worked out from it is wrong.
    Source: the acceptance criterion stands beside the blank: informed by DOE-STD-1029-92 and HSG48.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure on the gauge, unit: bar}}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure on the gauge, unit: bar, likely: [0, 10]}}
    """
    for step in analysis.steps:
        for ask in step.asks:
            if ask.kind == "read" and ask.low is None and ask.high is None and ask.likely is None:
                yield Remark(
                    ask.place,
                    f"any number is taken for `{ask.name}`",
                    "Add `within`, what is acceptable, or `likely`, what can have been read rightly.",
                )


@rule(Severity.WARNING)
def quantity_read_as_count(analysis: Analysis) -> Iterator[Remark]:
    """A reading asks for a pressure, a length or the like, and its unit is 1.

    Why: the person reads 80 from the scale that hangs there, psi or bar, and nothing in the record says which.
    Source: a value is a number and a unit: SI Brochure, 9th edition, 5.4; NIST SP 811.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure on the gauge, unit: "1", likely: [0, 10]}}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure on the gauge, unit: bar, likely: [0, 10]}}
    """
    for step in analysis.steps:
        for ask in step.asks:
            if ask.kind == "read" and ask.unit is not None and ask.unit.text == "1":
                words = words_of(ask.ask)
                if words and words[0] in QUANTITIES and not {"number", "share", "ratio"} & set(words):
                    yield Remark(
                        analysis.within(ask.place, "unit"),
                        f"`{ask.name}` asks for a {words[0]} as a bare number",
                        "Give the unit that the instrument shows.",
                    )


@rule(Severity.WARNING)
def question_in_other_unit(analysis: Analysis) -> Iterator[Remark]:
    """The question of a reading or an input names a unit that is not the value's own.

    Why: the person answers the question and types psi; the number is taken for bar, fourteen times as much.
    Source: unit in the prompt and in the entry, the same as on the gauge: informed by DOE-STD-1029-92 and HSG48.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure in psi, unit: bar, likely: [0, 10]}}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: read-gauge
                by: unwind
                do: Read the gauge of the chuck.
                read: {core_pressure: {ask: Pressure on the gauge, unit: bar, likely: [0, 10]}}
    """
    asked = [(ask.ask, ask.unit, ask.place) for step in analysis.steps for ask in step.asks if ask.kind == "read"]
    asked += [(given.ask, given.unit, given.place) for given in analysis.procedure.inputs]
    for question, unit, place in asked:
        if unit is None:
            continue
        own = unit.text.lower()
        other = next((word for word in words_of(question) if word in OTHER_UNITS and word not in own), "")
        if other:
            yield Remark(
                analysis.within(place, "ask"),
                f"the question says {other}, and the answer is taken in {unit.text}",
                "Ask in the unit of the instrument; the runner converts.",
            )


@rule(Severity.WARNING)
def bad_answer_goes_on(analysis: Analysis) -> Iterator[Remark]:
    """A step that makes a state asks what is seen, and every answer lets the work go on.

    Why: `ajar` is answered, the guard counts as closed, and the steps that need it closed begin.
    Source: a stated way on for every outcome: informed by DOE-STD-1029-92 (from memory) and ANSI/ISA-106 (command, perform, verify).

    Wrong:
        states:
          unwind_guard: {of: [open, closed], at_start: open, at_end: closed}
        phases:
          - phase: Close
            park: after
            steps:
              - id: close
                by: unwind
                do: Close the unwind guard.
                makes: {unwind_guard: closed}
                choose:
                  guard_seen: {ask: "How does the guard stand?", of: [closed and latched, ajar, cannot tell]}  # here
    Right:
        states:
          unwind_guard: {of: [open, closed], at_start: open, at_end: closed}
        phases:
          - phase: Close
            park: after
            steps:
              - id: close
                by: unwind
                do: Close the unwind guard.
                makes: {unwind_guard: closed}
                choose:
                  guard_seen:
                    ask: How does the guard stand?
                    of: [closed and latched, ajar, cannot tell]
                    accept: [closed and latched]
                    else: ajar
                trouble: [{id: ajar, sign: The guard does not latch, do: Look for what keeps it open., back_to: close}]
    """
    found = [(step, ask) for step in analysis.steps if step.makes for ask in step.asks if _takes_all(ask)]
    if not found:
        return
    used = frozenset[str]().union(*(names_in(expr) for expr in analysis.expressions))
    for step, ask in found:
        if ask.name not in used:
            yield Remark(
                analysis.within(ask.place, "of"),
                f"whatever is answered, `{step.id}` makes what it makes",
                "Add `accept`, the answers with which it is so, and `else` with a trouble for the rest.",
            )


def _takes_all(ask: Ask) -> bool:
    return ask.kind == "choose" and not ask.match and (not ask.accept or set(ask.accept) == set(ask.of))


@rule(Severity.WARNING, lasting=True)
def cannot_tell_goes_on(analysis: Analysis) -> Iterator[Remark]:
    """At a step with a danger or a hold the answer of who cannot tell lets the work go on.

    Why: nobody knows how the load hangs, it is on record that nobody knows, and the lift goes on.
    Source: stopping when unsure is informed by DOE-HDBK-1028 (from memory) and HSG48.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll by a hand's breadth.
                hold: {release: lead, confirm: [Both chucks are open], protects: Chuck latch}
                choose:
                  balance: {ask: "How does the roll hang?", of: [level, tilted, cannot tell]}  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll by a hand's breadth.
                hold: {release: lead, confirm: [Both chucks are open], protects: Chuck latch}
                choose:
                  balance:
                    ask: How does the roll hang?
                    of: [level, tilted, cannot tell]
                    accept: [level]
                    else: tilted
                trouble: [{id: tilted, sign: The roll tilts, do: Lower it to the floor., back_to: lift, blocking: true}]
    """
    for step in analysis.steps:
        for ask in step.asks if _grave(step) else ():
            if ask.kind != "choose" or ask.match:
                continue
            unsure = next((answer for answer in ask.accept or ask.of if says_not_known(answer)), "")
            if unsure and not (step.repeat is not None and ask.name in names_in(step.repeat.until)):
                yield Remark(
                    analysis.within(ask.place, "accept" if ask.accept else "of"),
                    f"'{unsure}' lets the work go on at `{step.id}`",
                    "Leave it out of `accept`, and name the trouble that follows with `else`.",
                )


def _grave(step: Step) -> bool:
    return step.hold is not None or any(caution.signal == "danger" for caution in step.cautions)


@rule(Severity.NOTE)
def condition_too_long(analysis: Analysis) -> Iterator[Remark]:
    """The condition of a step compares more than three times.

    Why: nobody at the press can say whether it holds, and whoever changes it tries one case of many. A table shows them all.
    Source: more than three terms belong in a table: informed by DOE-STD-1029-92 and NUREG-0899 (both from memory).

    Wrong:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
          caliper: {ask: Thickness, unit: um, within: [12, 400]}
        phases:
          - phase: Help
            park: after
            steps:
              - id: help
                by: unwind
                when: web_width > 400 [mm] and web_width < 900 [mm] and caliper > 20 [um] and caliper < 90 [um]  # here
                do: Call a second person.
    Right:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
        phases:
          - phase: Help
            park: after
            steps:
              - {id: help, by: unwind, when: "web_width > 400 [mm]", do: Call a second person.}
    """
    for step in analysis.steps:
        if step.when is not None:
            terms = sum(isinstance(node, Comparison) for node in nodes(step.when.expr))
            if terms > MOST_TERMS:
                yield Remark(
                    analysis.within(step.place, "when"),
                    f"the condition of `{step.id}` has {terms} terms",
                    "Make it a table, or a calculation with a name for each part.",
                )
