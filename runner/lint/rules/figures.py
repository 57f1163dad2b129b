"""Rules about numbers in texts: with a unit, written as its symbol, and where the engine can hold people to them.

All are notes. A number that only names or counts a thing (Line 3, two cores, position 4) needs no unit.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import MEASURED_BY, NAMED_BY_NUMBER, UNIT_SLIPS, UNIT_SYMBOLS, UNITLESS_AFTER
from runner.lint.words import DIGITS, numbers_in, words_of
from runner.lint.written import ACT, CONFIRMATION, ORDERS, SIGN, Written
from runner.procedure.finding import Severity


@rule(Severity.NOTE)
def number_without_unit(analysis: Analysis) -> Iterator[Remark]:
    """An instruction sets something to a number that has no unit.

    Why: a gauge may read bar or psi, a scale kg or lb, and the wrong one is out by a factor that breaks cores and hooks.
    Source: a value is a number and a unit: SI Brochure, 9th edition, 5.4; NIST SP 811. Quantified settings: HSG48.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: Fill the chucks to 6.}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: Fill the chucks to 6 bar.}
    """
    for order in analysis.orders:
        for at, number, glued, follows in numbers_in(order.plain):
            before = order.plain[:at].split()
            if not before or before[-1] not in MEASURED_BY or not number.strip("0.,"):
                continue
            if not glued.strip(".,;:!)") and (glued or _ends_there(follows)) and not _names(order.words):
                yield Remark(
                    analysis.in_written(order, at),
                    f"{number} has no unit",
                    "Write the unit after a blank: `6 bar`.",
                )


def _ends_there(follows: str) -> bool:
    return not follows or follows in ("and", "or", "with", "before", "by")


def _names(words: tuple[str, ...]) -> bool:
    return any(word in NAMED_BY_NUMBER or word in UNITLESS_AFTER for word in words)


@rule(Severity.NOTE)
def unit_written_otherwise(analysis: Analysis) -> Iterator[Remark]:
    """A number's unit is glued to it, or written otherwise than by its symbol: 5bar, 20 kgs, 30 secs.

    Why: glued, a digit and a letter are taken for one another; and a unit with two spellings is looked for twice on the gauge.
    Source: a blank between number and unit, symbols without plural: SI Brochure, 9th edition, 5.4.3; NIST SP 811, 7.2.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Raise the roll by 100mm.}  # here
              - {id: wait, by: unwind, do: Hold the roll there for 30 secs.}  # here
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Raise the roll by 100 mm.}
              - {id: wait, by: unwind, do: Hold the roll there for 30 s.}
    """
    for written in analysis.written:
        for at, number, glued, follows in numbers_in(written.plain):
            unit = glued.strip(".,;:!)?")
            if unit in UNIT_SYMBOLS or unit in UNIT_SLIPS:
                symbol = UNIT_SLIPS.get(unit, written.text[at + len(number) :][: len(unit)])
                yield Remark(
                    analysis.in_written(written, at), f"`{number}{unit}` has no blank", f"Write `{number} {symbol}`."
                )
            elif not unit and follows.strip(".,;:!)?") in UNIT_SLIPS:
                spelled = follows.strip(".,;:!)?")
                if written.kind in ORDERS or written.kind in (SIGN, CONFIRMATION):
                    yield Remark(
                        analysis.in_written(written, at),
                        f"`{spelled}` is not the unit's symbol",
                        f"Write `{number} {UNIT_SLIPS[spelled]}`.",
                    )


@rule(Severity.NOTE)
def limits_as_plus_minus(analysis: Analysis) -> Iterator[Remark]:
    """A text gives limits as a value with plus and minus.

    Why: the ends are worked out in the head, beside the press, and compared with a gauge that shows neither. A range names both.
    Source: limits as a range, in the unit that the gauge shows, are informed by DOE-STD-1029-92 and HSG48.

    Wrong:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: "Fill the chucks to 6 bar ± 0.5 bar."}  # here
    Right:
        phases:
          - phase: Fill
            park: after
            steps:
              - {id: fill, by: unwind, do: Fill the chucks to between 5.5 and 6.5 bar.}
    """
    for written in analysis.written:
        at = max(written.plain.find("±"), written.plain.find("+/-"))
        if at >= 0:
            yield Remark(
                analysis.in_written(written, at), "the ends are left to be worked out", "Give the least and the most."
            )


@rule(Severity.NOTE)
def wait_only_in_words(analysis: Analysis) -> Iterator[Remark]:
    """An instruction tells to wait for a time, and nothing holds people to it.

    Why: a wait that nobody measures is the first thing to be cut short. `wait` counts from the step's begin and refuses less.
    Source: recording start and end of timed steps is informed by DOE-STD-1029-92.

    Wrong:
        phases:
          - phase: Test
            park: after
            steps:
              - {id: leak, by: unwind, do: Wait 2 min with the valve shut.}  # here
    Right:
        phases:
          - phase: Test
            park: after
            steps:
              - {id: leak, by: unwind, do: Leave the valve shut., wait: {at_least: 2 min, at_most: 10 min}}
    """
    for order in analysis.orders:
        if order.kind != ACT or order.step is None or DIGITS.isdisjoint(order.plain):
            continue
        waits = order.words[0] in ("wait", "leave", "let", "hold", "keep") and _names_time(order)
        if waits and not any(ask.kind == "wait" for ask in order.step.asks):
            yield Remark(
                analysis.in_written(order),
                "nothing holds people to this time",
                "Add `wait` with `at_least`, and `at_most` where too long is wrong too.",
            )


def _names_time(order: Written) -> bool:
    return any(
        not glued and UNIT_SLIPS.get(unit, unit) in ("s", "min", "h")
        for _, _, glued, follows in numbers_in(order.plain)
        for unit in words_of(follows)[:1]
    )


@rule(Severity.NOTE)
def repeat_only_in_words(analysis: Analysis) -> Iterator[Remark]:
    """An instruction tells to repeat something, and the step has no `repeat`.

    Why: how often, until when and what then is left to whoever stands there, and the record holds one pass of many.
    Source: a stated end of repeated steps, and an entry for each pass, are informed by DOE-STD-1029-92.

    Wrong:
        phases:
          - phase: Level
            park: after
            steps:
              - {id: level, by: unwind, do: Turn the screw by one notch and repeat until the bar is level.}  # here
    Right:
        phases:
          - phase: Level
            park: after
            steps:
              - id: level
                by: unwind
                do: Turn the screw by one notch.
                read: {tilt: {ask: Tilt on the gauge, unit: mm, at_most: 50, likely: [0, 20], else: stuck}}
                repeat: {until: "tilt < 0.5 [mm]", at_most: 5, else: stuck}
                trouble: [{id: stuck, sign: The screw is stuck, do: Tell the fitter., then: stop}]
    """
    for order in analysis.orders:
        if order.kind != ACT or "repeat" not in order.words or order.step is None or order.step.repeat is not None:
            continue
        if not any(ask.kind == "choose" for ask in order.step.asks):
            yield Remark(
                analysis.in_written(order, order.plain.find("repeat")),
                "how often, until when and what then is left open",
                "Add `repeat` with `until`, `at_most` and `else`.",
            )
