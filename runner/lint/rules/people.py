"""Rules about who does, releases, agrees and looks: a person is never the check on their own work."""

from collections.abc import Iterator

from runner.lint.analysis import Analysis, lists_of
from runner.lint.rule import Remark, rule
from runner.procedure.finding import Severity
from runner.procedure.model import Split, Step


@rule(Severity.ERROR, lasting=True)
def hold_nobody_may_release(analysis: Analysis) -> Iterator[Remark]:
    """A hold stands in a procedure whose only role is the one that does the step.

    Why: a hold is released by somebody else than the person doing the step; with one role there is nobody else, and the run
    never gets past it.
    Source: releaser and performer are apart: informed by ASME NQA-1 and DOE-STD-1036-93 (both from memory).

    Wrong:
        people: {unwind: "Operator, unwind side"}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: unwind
                do: Lift the roll.
                hold:
                  release: unwind  # here
                  confirm: [Both chucks are open]
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
                  confirm: [Both chucks are open]
                  protects: Chuck latch
    """
    if len(analysis.procedure.people) > 1:
        return
    for step in analysis.steps:
        if step.hold is not None and step.hold.release == step.by:
            yield Remark(
                analysis.within(step.hold.place, "release"),
                f"nobody may release this hold: `{step.by}` does the step, and `people` has no other role",
                "Add the role that releases, such as a shift lead, to `people`.",
            )
    for split, step in _accepted_by_doer(analysis):
        yield Remark(
            analysis.within(split.place, "release"),
            f"nobody may accept these pieces: `{step.by}` does `{step.id}`, and `people` has no other role",
            "Add the role that accepts, such as a shift lead, to `people`.",
        )


def _accepted_by_doer(analysis: Analysis) -> Iterator[tuple[Split, Step]]:
    """Splits whose nearest choice is accepted by the role that does a step which uses them; each with the first such."""
    for split in analysis.procedure.calculations:
        if not isinstance(split, Split) or not split.release:
            continue
        names = {split.name}
        for worked in analysis.procedure.calculations:
            if worked.uses & names:
                names.add(worked.name)
        found = next((step for step in analysis.steps if step.by == split.release and step.uses & names), None)
        if found is not None:
            yield split, found


@rule(Severity.ERROR, lasting=True)
def hold_released_by_doer(analysis: Analysis) -> Iterator[Remark]:
    """The role that releases a hold, or accepts pieces, is the role that does the step.

    Why: the second pair of eyes is the whole of a hold. The engine refuses a release by the person doing the step, so with
    one person in the role nobody can release it.
    Source: releaser and performer are apart: informed by ASME NQA-1 and DOE-STD-1036-93 (both from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Lift
            park: after
            steps:
              - id: lift
                by: lead
                do: Lift the roll.
                hold:
                  release: lead  # here
                  confirm: [Both chucks are open]
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
                  confirm: [Both chucks are open]
                  protects: Chuck latch
    """
    if len(analysis.procedure.people) < 2:
        return
    for step in analysis.steps:
        if step.hold is not None and step.hold.release == step.by:
            yield Remark(
                analysis.within(step.hold.place, "release"),
                f"`{step.by}` does `{step.id}` and would release its hold",
                "Name another role as the one that releases.",
            )
    for split, step in _accepted_by_doer(analysis):
        yield Remark(
            analysis.within(split.place, "release"),
            f"`{step.by}` does `{step.id}` and would accept the pieces that it uses",
            "Name another role as the one that accepts.",
        )


@rule(Severity.WARNING, lasting=True)
def left_out_by_doer(analysis: Analysis) -> Iterator[Remark]:
    """An optional step may be left out with the agreement of the role that does it.

    Why: a person's agreement with themselves is none; write `reason` where a reason is enough.
    Source: not-applicable steps by an authority are informed by DOE O 422.1 (from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: clean, by: unwind, do: Wipe the tension bar., optional: unwind}  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: clean, by: unwind, do: Wipe the tension bar., optional: lead}
    """
    for step in analysis.steps:
        if step.optional == step.by:
            yield Remark(
                analysis.within(step.place, "optional"),
                f"`{step.by}` does `{step.id}` and would agree to leave it out",
                "Name another role, or write `optional: reason`.",
            )


@rule(Severity.NOTE)
def role_unused(analysis: Analysis) -> Iterator[Remark]:
    """A role is named and has nothing to do.

    Why: a run asks for a person in every role; one who does nothing, releases nothing and looks at nothing is in the way.
    Source: common practice, no source.

    Wrong:
        people:
          unwind: Operator, unwind side
          helper: Helper  # here
    Right:
        people:
          unwind: Operator, unwind side
    """
    used = {steps.person for steps in lists_of(analysis.procedure)}
    used |= {worked.release for worked in analysis.procedure.calculations if isinstance(worked, Split)}
    for step in analysis.steps:
        used |= {step.by, step.optional}
        used |= {step.hold.release} if step.hold is not None else set()
        used |= {step.second.by} if step.second is not None else set()
    for role, words in analysis.procedure.people:
        if role not in used:
            place = analysis.top("people", role)
            yield Remark(place, f"`{role}` ({words}) does, releases and looks at nothing")


@rule(Severity.WARNING)
def independent_look_without_answer(analysis: Analysis) -> Iterator[Remark]:
    """A second look is to be independent, and the step asks for nothing that could be compared.

    Why: independent means that the second person reads, chooses or scans without seeing the first answer. With no answer to give,
    they agree with what they are shown.
    Source: independent verification is informed by DOE-STD-1036-93 (from memory).

    Wrong:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Weigh
            park: after
            steps:
              - {id: hang, by: unwind, do: Hang the pieces on the bar., second: {by: lead, how: independent}}  # here
    Right:
        people: {unwind: "Operator, unwind side", lead: Shift lead}
        phases:
          - phase: Weigh
            park: after
            steps:
              - id: hang
                by: unwind
                do: Hang the pieces on the bar.
                second: {by: lead, how: independent}
                choose:
                  pieces: {ask: "What hangs at each end?", of: [two of 5 kg, one of 5 kg, something else]}
    """
    for step in analysis.steps:
        if step.second is None or step.second.how != "independent":
            continue
        if not any(ask.kind in ("read", "choose", "scan") for ask in step.asks):
            yield Remark(
                analysis.within(step.second.place, "how"),
                f"`{step.id}` asks for nothing that a second person could answer independently",
                "Ask for a reading, a choice or a scan, or write `how: together`.",
            )
