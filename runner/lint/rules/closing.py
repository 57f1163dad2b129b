"""Rules about what a whole procedure leaves behind: loads on hooks, tools in the press, loads never compared, an end nobody hears."""

from collections.abc import Iterator

from runner.formula.dimension import MASS
from runner.lint.analysis import Analysis
from runner.lint.equipment import among
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import PEOPLE, TELLS
from runner.lint.words import first_word, number_of, numbers_in, words_of
from runner.procedure.finding import Severity

LONG = 10
"""A shorter procedure has no end to announce."""


@rule(Severity.WARNING, lasting=True)
def parked_with_load(analysis: Analysis) -> Iterator[Remark]:
    """A phase may be interrupted where the crane carries a load.

    Why: whoever takes a break there leaves a roll over the floor, held by a brake that creeps.
    Source: no leaving the controls while a load hangs: 29 CFR 1910.179(n)(3) (from memory).

    Wrong:
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            park: after  # here
            steps:
              - {id: hook, by: unwind, do: Hook the roll on., makes: {crane: carrying}}
          - phase: Load
            park: after
            steps:
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    Right:
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            steps:
              - {id: hook, by: unwind, do: Hook the roll on., makes: {crane: carrying}}
          - phase: Load
            park: after
            steps:
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    """
    for load in analysis.equipment.loads:
        hangs = False
        for phase in analysis.procedure.phases:
            hung = hangs
            for steps in phase.lists:
                for step in steps.steps:
                    if among(step.makes, load, load.unsafe):
                        hangs = hung = True
                    elif among(step.makes, load, load.safe):
                        hangs = False
            if (phase.park == "after" and hangs) or (phase.park == "throughout" and hung):
                yield Remark(
                    analysis.within(phase.place, "park"),
                    f"`{phase.name}` may be interrupted with {load.label} carrying a load",
                    "Move `park` to a phase whose end has the load set down.",
                )


@rule(Severity.NOTE)
def tools_not_counted(analysis: Analysis) -> Iterator[Remark]:
    """Tools are listed, a guard is opened and closed, and no step counts them back or needs them to be out.

    Why: a knife left on a roller is found by the plate, or by somebody's face.
    Source: tools and loose parts are out before a machine has power again: 29 CFR 1910.147(e)(1).

    Wrong:
        tools: [Core knife]
        states:
          print_guard: {of: [open, closed], at_start: open, at_end: closed}
        phases:
          - phase: Close
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the tape with the core knife., needs: {print_guard: open}}
              - {id: close, by: unwind, do: Close the print guard., makes: {print_guard: closed}}  # here
    Right:
        tools: [Core knife]
        states:
          print_guard: {of: [open, closed], at_start: open, at_end: closed}
        phases:
          - phase: Close
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the tape with the core knife., needs: {print_guard: open}}
              - {id: count, by: unwind, do: Count the tools back onto the cart.}
              - {id: close, by: unwind, do: Close the print guard., makes: {print_guard: closed}}
    """
    guards = analysis.equipment.guards
    if not analysis.procedure.tools or not guards:
        return
    tools = {n for n, state in enumerate(analysis.procedure.states) if {"tool", "tools"} & set(words_of(state.label))}
    counted = False
    for step in analysis.steps:
        counted = counted or (first_word(step.do.text) == "count" and "tools" in words_of(step.do.text))
        if any(among(step.makes, guard, guard.safe) for guard in guards):
            if not counted and not any(index in tools for index, _ in step.needs):
                yield Remark(
                    analysis.within(step.place, "makes"),
                    f"`{step.id}` closes a guard, and nothing says that the tools are out",
                    "Count the tools before it, or track where they are and need it.",
                )
            return


@rule(Severity.NOTE)
def load_not_compared(analysis: Analysis) -> Iterator[Remark]:
    """A crane carries something, and no calculation or reading compares a mass with what it may carry.

    Why: roll, shaft, beam and slings hang on the hook together, and the plate on the crane is read after the trip has gone.
    Source: not above the rated load: WAC 296-24-23527, akin to 29 CFR 1910.179(n)(1).

    Wrong:
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: hook, by: unwind, do: Hook the roll on., makes: {crane: carrying}}  # here
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    Right:
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [10, 800]}
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        calculations:
          hook_load:
            formula: "roll_mass + 57 [kg]"
            unit: kg
            limit: "<= 900 [kg]"
            example: {given: {roll_mass: 600 kg}, gives: 657 kg, within: 1 kg}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: hook, by: unwind, do: Hook the roll on., makes: {crane: carrying}}
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    """
    loads = analysis.equipment.loads
    if not loads:
        return
    if any(worked.limits and worked.unit.dimension == MASS for worked in analysis.calculations):
        return
    asks = (ask for step in analysis.steps for ask in step.asks)
    if any(ask.unit is not None and ask.unit.dimension == MASS and ask.low is not None for ask in asks):
        return
    for step in analysis.steps:
        if any(among(step.makes, load, load.unsafe) for load in loads):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` puts a load on the crane, and no limit says how much it may be",
                "Add up what hangs on the hook in a calculation, with a `limit`.",
            )
            return


@rule(Severity.NOTE)
def no_trial_lift(analysis: Analysis) -> Iterator[Remark]:
    """A crane carries a load, and no step raises it a little first.

    Why: a brake that creeps, a sling that slips and a roll out of balance show themselves at a hand's breadth, where nothing falls.
    Source: the load is secure and balanced after a few inches, and the brake is tried: WAC 296-24-23527; 29 CFR 1910.179(n)(3)
    (from memory).

    Wrong:
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [10, 800]}
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: hook, by: unwind, do: "Hook on the roll of {roll_mass}.", makes: {crane: carrying}}  # here
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    Right:
        inputs:
          roll_mass: {ask: Mass of the roll, unit: kg, within: [10, 800]}
        states:
          crane: {of: [free, carrying], at_start: free, at_end: free, one_owner: true}
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: hook, by: unwind, do: "Hook on the roll of {roll_mass}.", makes: {crane: carrying}}
              - {id: trial, by: unwind, do: Raise the roll by 100 mm., needs: {crane: carrying}}
              - {id: unhook, by: unwind, do: Take the hook off., needs: {crane: carrying}, makes: {crane: free}}
    """
    loads = analysis.equipment.loads
    hooked = next((s for s in analysis.steps if any(among(s.makes, load, load.unsafe) for load in loads)), None)
    if hooked is not None and not any(_raises_a_little(step.do.text) for step in analysis.steps):
        yield Remark(
            analysis.within(hooked.place, "makes"),
            f"after `{hooked.id}` no step raises the load by a little first",
            "Add a step: raise it by 100 mm, and ask how it hangs.",
        )


def _raises_a_little(text: str) -> bool:
    """Whether an act raises something by a length of less than half a metre, or calls itself a trial."""
    if first_word(text) not in ("raise", "lift", "hoist"):
        return False
    lengths = {"mm": 1.0, "cm": 10.0}
    return not {"trial", "hand", "little"}.isdisjoint(words_of(text)) or any(
        (number_of(number) or 1e9) * lengths[unit] <= 500
        for _, number, _, follows in numbers_in(text)
        for unit in words_of(follows)[:1]
        if unit in lengths
    )


@rule(Severity.NOTE)
def hold_forgets_people(analysis: Analysis) -> Iterator[Remark]:
    """A step with a danger has a hold, and none of its confirmations says where people stand.

    Why: the releaser looks at what the list names. What a danger kills is a person, and the list names only things.
    Source: nobody under a load, everybody clear before a start: 29 CFR 1910.179(n)(3) (from memory), 1910.147(e)(2).

    Wrong:
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
                hold:
                  release: lead
                  confirm: [Both chucks are open]  # here
                  protects: Hoist brake
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
                hold:
                  release: lead
                  confirm: [Both chucks are open, Nobody stands in the drop zone]
                  protects: Hoist brake
    """
    for step in analysis.steps:
        if step.hold is None or not any(caution.signal == "danger" for caution in step.cautions):
            continue
        if not any(PEOPLE.intersection(words_of(text)) for text in step.hold.confirm):
            yield Remark(
                analysis.within(step.hold.place, "confirm"),
                f"the hold of `{step.id}` does not ask where people stand",
                "Add what is seen: `Nobody stands in the drop zone`.",
            )


@rule(Severity.NOTE)
def end_not_told(analysis: Analysis) -> Iterator[Remark]:
    """A procedure ends with an act like any other, and nobody is told that it is complete.

    Why: the last entries of a list are the ones that are left out, and the other side of the press goes on as if work were open.
    Source: the completion call is an entry of its own: Degani and Wiener, NASA CR 177549 (1990), from memory.

    Wrong:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1.}
              - {id: b, by: unwind, do: Wipe roller 2.}
              - {id: c, by: unwind, do: Wipe roller 3.}
              - {id: d, by: unwind, do: Wipe roller 4.}
              - {id: e, by: unwind, do: Wipe roller 5.}
              - {id: f, by: unwind, do: Wipe roller 6.}
              - {id: g, by: unwind, do: Wipe roller 7.}
              - {id: h, by: unwind, do: Wipe roller 8.}
              - {id: i, by: unwind, do: Wipe roller 9.}
              - {id: j, by: unwind, do: Wipe roller 10.}  # here
    Right:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: a, by: unwind, do: Wipe roller 1.}
              - {id: b, by: unwind, do: Wipe roller 2.}
              - {id: c, by: unwind, do: Wipe roller 3.}
              - {id: d, by: unwind, do: Wipe roller 4.}
              - {id: e, by: unwind, do: Wipe roller 5.}
              - {id: f, by: unwind, do: Wipe roller 6.}
              - {id: g, by: unwind, do: Wipe roller 7.}
              - {id: h, by: unwind, do: Wipe roller 8.}
              - {id: i, by: unwind, do: Wipe roller 9.}
              - {id: j, by: unwind, do: Say "rollers clean" to the crew.}
    """
    steps = analysis.steps
    if len(steps) >= LONG and first_word(steps[-1].do.text) not in TELLS:
        yield Remark(
            steps[-1].place,
            f"the procedure ends with `{steps[-1].id}`, and nobody hears that it is complete",
            "Add a last step that says so to the crew.",
        )
