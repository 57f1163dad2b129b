"""Rules about answers and their limits: what is out of limits has a way on, and answers say what is seen."""

from collections.abc import Iterator

from runner.formula.evaluate import evaluate
from runner.formula.expr import Logic, nodes
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import EMPTY_ANSWERS
from runner.lint.words import words_of
from runner.procedure.asks.ask import Ask
from runner.procedure.finding import Severity


@rule(Severity.WARNING)
def limits_without_way_on(analysis: Analysis) -> Iterator[Remark]:
    """An answer has limits, and nothing says what to do when it is outside.

    Why: the engine takes one more entry and then stops. A person who has a number and no way on makes one up, or types another
    number.
    Source: a stated way on for every outcome is informed by DOE-STD-1029-92 and HSG48.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: inflate
                by: unwind
                do: Inflate the core chuck.
                read:
                  core_pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7]}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - id: inflate
                by: unwind
                do: Inflate the core chuck.
                read:
                  core_pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7], else: leak}
                trouble:
                  - {id: leak, sign: The pressure does not hold, do: Bleed the chuck., then: stop}
    """
    for step in analysis.steps:
        for ask in step.asks:
            if has_limits(ask) and not ask.otherwise:
                yield Remark(
                    ask.place,
                    f"`{ask.name}` may be out of limits, and nothing says what to do then",
                    "Add `else` with the id of a trouble of this step.",
                )


def has_limits(ask: Ask) -> bool:
    """Whether an answer that was read rightly may still not be taken."""
    match ask.kind:
        case "read":
            return ask.low is not None or ask.high is not None
        case "choose":
            return bool(ask.match) or (bool(ask.accept) and set(ask.accept) != set(ask.of))
        case "scan":
            return bool(ask.match)
        case _:
            return False  # a wait, a threading and a feed are gone on with until they are enough


@rule(Severity.NOTE)
def question_answered_ok(analysis: Analysis) -> Iterator[Remark]:
    """A choice offers yes, no or ok, and not what is seen.

    Why: a question that is answered `ok` is answered `ok`. One that offers the things that may be seen has to be looked at.
    Source: informed by Degani and Wiener, NASA CR 177549 (1990).

    Wrong:
        phases:
          - phase: Look
            park: after
            steps:
              - id: look
                by: unwind
                do: Look at the winding direction.
                choose:
                  direction: {ask: "Is the winding direction right?", of: ["yes", "no"]}  # here
    Right:
        phases:
          - phase: Look
            park: after
            steps:
              - id: look
                by: unwind
                do: Look at the winding direction.
                choose:
                  direction: {ask: "From where does the web come off?", of: [top, underside, cannot tell]}
    """
    for step in analysis.steps:
        for ask in step.asks:
            if ask.kind == "choose" and ask.of and all(set(words_of(answer)) <= PLAIN_ANSWERS for answer in ask.of):
                yield Remark(
                    analysis.within(ask.place, "of"),
                    f"the answers of `{ask.name}` do not say what is seen",
                    "Offer the things that may be seen, and `cannot tell`.",
                )


PLAIN_ANSWERS = EMPTY_ANSWERS | {"not", "bad", "wrong", "failed", "nok", "incorrect", "false", "true"}


@rule(Severity.NOTE)
def cannot_tell_missing(analysis: Analysis) -> Iterator[Remark]:
    """A choice at a step with a danger or a hold has no answer for who cannot tell.

    Why: who cannot see it picks the answer that lets the work go on. An own answer makes not knowing a thing one may say.
    Source: informed by HSG48; the answer itself is common practice, no source.

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
                  balance: {ask: "How does the roll hang?", of: [level, tilted]}  # here
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
                trouble: [{id: tilted, sign: The roll tilts, do: Lower it to the floor., then: stop}]
    """
    for step in analysis.steps:
        grave = step.hold is not None or any(caution.signal == "danger" for caution in step.cautions)
        for ask in step.asks if grave else ():
            if ask.kind == "choose" and not any(says_not_known(answer) for answer in ask.of):
                yield Remark(
                    analysis.within(ask.place, "of"),
                    f"`{ask.name}` has no answer for who cannot tell",
                    "Add `cannot tell` to `of`, and leave it out of `accept`.",
                )


def says_not_known(answer: str) -> bool:
    plain = " ".join(words_of(answer))
    return any(
        words in plain
        for words in ("cannot", "can not", "unsure", "not sure", "unknown", "not known", "unclear", "not seen")
    )


@rule(Severity.NOTE)
def and_mixed_with_or(analysis: Analysis) -> Iterator[Remark]:
    """A condition mixes `and` with `or`.

    Why: people read such a condition in two ways, and the engineer who changes it next may too. Two steps, or a calculation with a
    name, say it plainly.
    Source: informed by DOE-STD-1029-92 and NUREG-0899 (both from memory).

    Wrong:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film, PET film]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: help
                by: unwind
                when: web_width > 900 [mm] and substrate == 'PET film' or substrate == 'BOPP film'  # here
                do: Call a second person.
    Right:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
          substrate: {ask: Substrate, choose: [kraft paper, BOPP film, PET film]}
        phases:
          - phase: Load
            park: after
            steps:
              - id: help
                by: unwind
                when: web_width > 900 [mm] and substrate != 'kraft paper'
                do: Call a second person.
    """
    for step in analysis.steps:
        if step.when is None:
            continue
        words = {node.op for node in nodes(step.when.expr) if isinstance(node, Logic)}
        if len(words) > 1:
            yield Remark(
                analysis.within(step.place, "when"),
                f"the condition of `{step.id}` mixes `and` with `or`",
                "Write two steps, or say it so that one of the words is enough.",
            )


@rule(Severity.NOTE)
def input_without_limits(analysis: Analysis) -> Iterator[Remark]:
    """A number from the job ticket has neither limits nor a likely range.

    Why: a slip of a digit or of a unit passes unseen into every calculation.
    Source: common practice, no source.

    Wrong:
        inputs:
          web_width: {ask: Web width, unit: mm}  # here
        phases:
          - {phase: Set, park: after, steps: [{id: set, by: unwind, do: "Set the guides to {web_width}."}]}
    Right:
        inputs:
          web_width: {ask: Web width, unit: mm, within: [400, 1300]}
        phases:
          - {phase: Set, park: after, steps: [{id: set, by: unwind, do: "Set the guides to {web_width}."}]}
    """
    for given in analysis.procedure.inputs:
        if given.unit is not None and given.within is None and given.likely is None:
            yield Remark(
                given.place,
                f"any number is taken for `{given.name}`",
                "Add `within`, what the press allows, or `likely`.",
            )


@rule(Severity.ERROR)
def limit_ends_reversed(analysis: Analysis) -> Iterator[Remark]:
    """The limit of a calculation leaves nothing: its lower end lies above its upper one.

    Why: every job breaks it, and the step that needs the value can never be begun.
    Source: common practice, no source.

    Wrong:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach:
            formula: roll_od / 2
            unit: mm
            limit: ">= 550 [mm] and <= 45 [cm]"  # here
            example: {given: {roll_od: 1000 mm}, gives: 500 mm, within: 1 mm}
    Right:
        inputs:
          roll_od: {ask: Outer diameter of the roll, unit: mm, within: [200, 1200]}
        calculations:
          reach:
            formula: roll_od / 2
            unit: mm
            limit: ">= 45 [mm] and <= 65 [cm]"
            example: {given: {roll_od: 1000 mm}, gives: 500 mm, within: 1 mm}
    """
    for worked in analysis.calculations:
        ends = {limit.op[0]: limit for limit in worked.limits}
        if len(ends) < 2:
            continue
        low, high = (evaluate(ends[sign].bound, {}, analysis.procedure.scope) for sign in (">", "<"))
        if not isinstance(low, float) or not isinstance(high, float):
            continue  # it hangs on the job
        if low > high or (low == high and (ends[">"].op, ends["<"].op) != (">=", "<=")):
            yield Remark(
                ends[">"].place,
                f"no value of `{worked.name}` is {ends['>'].text} and {ends['<'].text}",
                "The end after >= is the smaller one.",
            )
