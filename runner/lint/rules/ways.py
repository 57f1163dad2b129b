"""Rules about ways through a procedure that are no fault of order: what no way comes to, what gets round a hold, what is not proved.

Those that read the proof read every way; the others look at what the language lets a person do beside the order.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.words import words_of
from runner.procedure.finding import Severity
from runner.procedure.model import Step

LOCKS = frozenset({"lock", "locks", "locked", "padlock", "lockout", "tagout"})
"""Words by which a state is one of isolation."""


@rule(Severity.WARNING)
def step_never_reached(analysis: Analysis) -> Iterator[Remark]:
    """A step begins on no way through the procedure.

    Why: somebody wrote it for a job or a trouble that never comes to it. What it was to protect is not protected.
    Source: unreachable steps are found by validation as informed by DOE-STD-1029-92 (from memory).

    Wrong:
        inputs:
          width: {ask: Web width, unit: mm, within: [400, 1300]}
        phases:
          - phase: Cut
            park: after
            steps:
              - {id: cut, by: unwind, do: "Cut the web of {width}."}
              - {id: trim, by: unwind, do: Trim both edges., when: "width > 1500 [mm]"}  # here
    Right:
        inputs:
          width: {ask: Web width, unit: mm, within: [400, 1300]}
        phases:
          - phase: Cut
            park: after
            steps:
              - {id: cut, by: unwind, do: "Cut the web of {width}."}
              - {id: trim, by: unwind, do: Trim both edges., when: "width > 1200 [mm]"}
    """
    for step in analysis.proof.never_begun:
        if step.when is not None:
            words, place = (
                f"no allowed job fulfils the condition of `{step.id}`: {step.when.text}",
                analysis.within(step.place, "when"),
            )
        else:
            words, place = f"no way leads to `{step.id}`", step.place
        yield Remark(place, words, "Mend the condition or the limits of what it rests on, or take the step out.")


@rule(Severity.WARNING)
def fault_for_doubtful_job(analysis: Analysis) -> Iterator[Remark]:
    """Order is wrong for a job that was not found, and that could not be excluded either.

    Why: the conditions on the way may exclude each other, in a way that the bounds over all jobs do not show. If they do not, a run
    stands still at the press.
    Source: common practice, no source.

    Wrong:
        inputs:
          depth: {ask: Depth, unit: mm, within: [0, 10]}
          gap: {ask: Gap, unit: mm, within: [0, 10]}
          width: {ask: Width, unit: mm, within: [0, 10]}
        states:
          bar: {of: [pinned, free], at_start: pinned}
        phases:
          - phase: Set
            park: after
            steps:
              - {id: shim, by: unwind, do: Shim the bar., when: depth > gap, makes: {bar: free}}
              - {id: wedge, by: unwind, do: Wedge the bar., when: width >= depth, makes: {bar: free}}
              - {id: turn, by: unwind, do: Turn the bar., when: width > gap, needs: {bar: free}}  # here
    Right:
        inputs:
          depth: {ask: Depth, unit: mm, within: [0, 10]}
        states:
          bar: {of: [pinned, free], at_start: pinned}
        phases:
          - phase: Set
            park: after
            steps:
              - {id: shim, by: unwind, do: Shim the bar., when: "depth > 5 [mm]", makes: {bar: free}}
              - {id: turn, by: unwind, do: Turn the bar., when: "depth > 5 [mm]", needs: {bar: free}}
    """
    from runner.lint.rules.departures import what_is_wrong

    for fault in analysis.doubtful_faults:
        place = fault.step.place if fault.step is not None else analysis.procedure.states[fault.state].place
        yield Remark(
            place,
            f"{what_is_wrong(analysis, fault)} for a job that was not found and could not be excluded",
            "Write the conditions so that one value decides them, or let a step make the state for every job.",
            analysis.way_to(fault),
        )


@rule(Severity.WARNING)
def proof_not_finished(analysis: Analysis) -> Iterator[Remark]:
    """There are too many ways through the procedure to look at all of them.

    Why: what was looked at, the nearest ways, is proved; a fault further off may be there and is not told.
    Source: common practice, no source.

    Wrong:
        states:
          pin_a: {of: [in, out], at_start: in}
          pin_b: {of: [in, out], at_start: in}
          pin_c: {of: [in, out], at_start: in}
          pin_d: {of: [in, out], at_start: in}
          pin_e: {of: [in, out], at_start: in}
          pin_f: {of: [in, out], at_start: in}
          pin_g: {of: [in, out], at_start: in}
          pin_h: {of: [in, out], at_start: in}
          pin_i: {of: [in, out], at_start: in}
          pin_j: {of: [in, out], at_start: in}
          pin_k: {of: [in, out], at_start: in}
          pin_l: {of: [in, out], at_start: in}
          pin_m: {of: [in, out], at_start: in}
        phases:  # here
          - phase: Pins
            park: after
            steps:
              - {id: pull-a, by: unwind, do: Pull the pin., optional: reason, makes: {pin_a: out}}
              - {id: pull-b, by: unwind, do: Pull the pin., optional: reason, makes: {pin_b: out}}
              - {id: pull-c, by: unwind, do: Pull the pin., optional: reason, makes: {pin_c: out}}
              - {id: pull-d, by: unwind, do: Pull the pin., optional: reason, makes: {pin_d: out}}
              - {id: pull-e, by: unwind, do: Pull the pin., optional: reason, makes: {pin_e: out}}
              - {id: pull-f, by: unwind, do: Pull the pin., optional: reason, makes: {pin_f: out}}
              - {id: pull-g, by: unwind, do: Pull the pin., optional: reason, makes: {pin_g: out}}
              - {id: pull-h, by: unwind, do: Pull the pin., optional: reason, makes: {pin_h: out}}
              - {id: pull-i, by: unwind, do: Pull the pin., optional: reason, makes: {pin_i: out}}
              - {id: pull-j, by: unwind, do: Pull the pin., optional: reason, makes: {pin_j: out}}
              - {id: pull-k, by: unwind, do: Pull the pin., optional: reason, makes: {pin_k: out}}
              - {id: pull-l, by: unwind, do: Pull the pin., optional: reason, makes: {pin_l: out}}
              - {id: pull-m, by: unwind, do: Pull the pin., optional: reason, makes: {pin_m: out}}
              - id: turn
                by: unwind
                do: Turn the frame.
                needs: {pin_a: out, pin_b: out, pin_c: out, pin_d: out, pin_e: out, pin_f: out, pin_g: out,
                        pin_h: out, pin_i: out, pin_j: out, pin_k: out, pin_l: out, pin_m: out}
    Right:
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe-nip, by: unwind, do: Wipe the nip.}
    """
    if not analysis.proof.finished:
        yield Remark(
            analysis.top("phases"),
            f"the proof stopped after {analysis.proof.nodes} positions and has not seen every way",
            "Let lists side by side meet more often, or track fewer states that are left open by optional steps.",
        )


@rule(Severity.WARNING)
def repeat_leads_to_unmet_need(analysis: Analysis) -> Iterator[Remark]:
    """A step that is done once more may not begin again, or leads to a step that may not.

    Why: what a step makes is unknown from its beginning on. A step that needs a state and makes the same state cannot begin a
    second time, so the repeat stands still in the middle.
    Source: the rules of order are this program's own.

    Wrong:
        states:
          bar: {of: [pinned, free], at_start: pinned}
        phases:
          - phase: Trim
            park: after
            steps:
              - id: free-bar
                by: unwind
                needs: {bar: pinned}
                do: Draw the pin and read the bar.
                makes: {bar: free}
                read: {place: {ask: Place of the bar, unit: mm, likely: [0, 300]}}
                repeat: {until: "place > 100 [mm]", at_most: 3}  # here
    Right:
        states:
          bar: {of: [pinned, free], at_start: pinned}
        phases:
          - phase: Trim
            park: after
            steps:
              - {id: free-bar, by: unwind, needs: {bar: pinned}, do: Draw the pin., makes: {bar: free}}
              - id: read-bar
                by: unwind
                needs: {bar: free}
                do: Read the place of the bar.
                read: {place: {ask: Place of the bar, unit: mm, likely: [0, 300]}}
                repeat: {until: "place > 100 [mm]", at_most: 3, else: low}
                trouble: [{id: low, sign: The bar stays low, do: Tell the shift lead., then: stop}]
    """
    from runner.lint.rules.departures import what_is_wrong

    for fault, departure in analysis.departing_faults:
        if departure.kind == "is done once more":
            yield Remark(
                analysis.within(departure.step.place, "repeat"),
                f"when `{departure.step.id}` is done once more, {what_is_wrong(analysis, fault)}",
                "Let an earlier step make the state, and repeat only what reads.",
                analysis.way_to(fault),
            )


@rule(Severity.WARNING, lasting=True)
def hold_left_out(analysis: Analysis) -> Iterator[Remark]:
    """A step with a hold may be left out without the agreement of who releases the hold.

    Why: whoever leaves the step out gets round the hold, and what comes after it relies on what was confirmed there.
    Source: hold points that are not to be passed without release are informed by NQA-1 and DOE-STD-1029-92 (both from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                optional: reason  # here
                hold: {release: lead, confirm: [The drop zone is clear of people], protects: Chuck latch}
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                optional: lead
                hold: {release: lead, confirm: [The drop zone is clear of people], protects: Chuck latch}
    """
    for step in analysis.steps:
        if step.hold is not None and step.optional and step.optional != step.hold.release:
            yield Remark(
                analysis.within(step.place, "optional"),
                f"`{step.id}` may be left out without `{step.hold.release}`, who releases its hold",
                f"Write `optional: {step.hold.release}`, or take the hold to a step that must be done.",
            )


@rule(Severity.WARNING, lasting=True)
def lock_taken_off_by_another(analysis: Analysis) -> Iterator[Remark]:
    """A lock is put on by one role and taken off by another, or never taken off.

    Why: the person under the lock is the only one who knows that they are out of the machine.
    Source: 29 CFR 1910.147(e)(3): each device is removed by the employee who applied it.

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        states:
          own_lock: {of: ["off", "on"], at_start: "off", at_end: "off"}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock-on, by: unwind, do: Put your lock on the hasp., makes: {own_lock: "on"}}
              - {id: clean, by: unwind, needs: {own_lock: "on"}, do: Clean the nip.}
              - {id: lock-off, by: lead, do: Take the lock off the hasp., makes: {own_lock: "off"}}  # here
    Right:
        people: {unwind: "Operator, unwind side"}
        states:
          own_lock: {of: ["off", "on"], at_start: "off", at_end: "off"}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock-on, by: unwind, do: Put your lock on the hasp., makes: {own_lock: "on"}}
              - {id: try, by: unwind, needs: {own_lock: "on"}, do: Press the start button.}
              - {id: clean, by: unwind, needs: {own_lock: "on"}, do: Clean the nip.}
              - {id: lock-off, by: unwind, do: Take your lock off the hasp., makes: {own_lock: "off"}}
    """
    for state, tracked in enumerate(analysis.procedure.states):
        if not LOCKS & {word.lower() for word in words_of(f"{tracked.name.replace('_', ' ')} {tracked.label}")}:
            continue
        rest = max(tracked.at_start, 0)
        on = [step for step in analysis.steps for made, value in step.makes if made == state and value != rest]
        off = [step for step in analysis.steps for made, value in step.makes if made == state and value == rest]
        people = {step.by for step in on}
        for step in off:
            if people and step.by not in people:
                yield Remark(
                    step.place,
                    f"`{step.by}` takes off {tracked.label}, which {_roles(on)} put on",
                    "Let the person who puts a lock on take it off.",
                )
        if on and not off:
            yield Remark(
                on[-1].place,
                f"{tracked.label} is put on by {_roles(on)} and no step takes it off",
                "Add a step by the same person that takes it off.",
            )


def _roles(steps: list[Step]) -> str:
    return " and ".join(dict.fromkeys(f"`{step.by}`" for step in steps))


@rule(Severity.NOTE)
def no_way_on_after_making_safe(analysis: Analysis) -> Iterator[Remark]:
    """After the press was stopped and made safe in a phase, no step of the phase makes again what the rest of it needs.

    Why: the crew has to do by heart what no step tells, look, and say what the state is, each time they were interrupted there.
    Source: a stated way on after an interruption is informed by HSE guidance on shift handover (from memory).

    Wrong:
        states:
          unwind_drive: {of: [stopped, running], at_start: stopped}
        make_safe: [{do: Press the stop button., makes: {unwind_drive: stopped}}]
        phases:
          - {phase: Start, park: after, steps: [{id: start, by: unwind, do: Start the unwind., makes: {unwind_drive: running}}]}
          - {phase: Feed, park: after, steps: [{id: feed, by: unwind, needs: {unwind_drive: running}, do: Feed the web.}]}  # here
    Right:
        states:
          unwind_drive: {of: [stopped, running], at_start: stopped}
        make_safe: [{do: Press the stop button., makes: {unwind_drive: stopped}}]
        phases:
          - phase: Feed
            park: after
            steps:
              - {id: start, by: unwind, do: Start the unwind., makes: {unwind_drive: running}}
              - {id: feed, by: unwind, needs: {unwind_drive: running}, do: Feed the web.}
    """
    for found in analysis.no_ways_on:
        yield Remark(
            found.phase.place,
            f"made safe in `{found.phase.name}`, when step {found.step.number} is up, there is no way on: "
            f"`{found.waits.id}` needs more than any step of the phase makes again: {found.words}",
            "Begin the phase with a step that makes it, or say in `make_safe` how it is brought back.",
        )
