"""What the linter's proofs say of things that no run came to: of order and conditions the proof over every way, of limits
on what is worked out the search over all allowed jobs. Limits on readings can always be broken."""

from collections.abc import Iterable

from runner.lint.proof.faults import Proof, prove
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.worst import judge
from runner.procedure.model import Calculation, Procedure, steps_of
from runner.training.simulate.coverage import ACCEPTED, NOT_SO, SO, WORKED, Spot

CAN, CANNOT = "the proof has a way to it", "the proof has no way to it"
UNSAID = "no proof says anything of it"
KEPT, DOUBTED = "proved: no allowed job breaks it", "no allowed job that breaks it was found, and none is excluded"
BROKEN = "an allowed job breaks it: "
UNFINISHED = "the proof is not finished"


def says(procedure: Procedure, unreached: Iterable[Spot]) -> dict[Spot, str]:
    """For each what the proof says."""
    unreached = tuple(unreached)
    if not unreached:
        return {}
    proof = prove(procedure)
    return {spot: said(procedure, proof, spot) for spot in unreached}


def said(procedure: Procedure, proof: Proof, spot: Spot) -> str:
    """What the proof says of one."""
    if spot.kind == WORKED:
        return limits_said(procedure, spot.where)
    if spot.kind == ACCEPTED:
        return UNSAID
    if not proof.finished:
        return UNFINISHED
    if spot.kind != NOT_SO and any(step.id == spot.where for step in proof.never_begun):
        return CANNOT
    step = next(step for step in steps_of(procedure) if step.id == spot.where)
    condition = proof.conditions.of(step)
    if condition is not None and spot.kind in (SO, NOT_SO):
        feasible = proof.conditions.feasible(frozenset({(condition, spot.kind == SO)}))
        return CAN if feasible.possible else CANNOT
    return stuck_before(procedure, proof, spot.where) or CAN


def stuck_before(procedure: Procedure, proof: Proof, step_id: str) -> str:
    """A fault of plain order at the step or before it, after which the proof went on as if there were none."""
    order = [step.id for step in steps_of(procedure)]
    for fault in proof.plain:
        if fault.step is not None and order.index(fault.step.id) <= order.index(step_id):
            return f"the proof finds that step {fault.step.number} ({fault.step.id}) may not begin: {fault.words}"
    return ""


def limits_said(procedure: Procedure, name: str) -> str:
    """Whether some allowed job breaks a limit of a value that is worked out."""
    worked = next(one for one in procedure.calculations if one.name == name)
    if not isinstance(worked, Calculation) or not worked.limits:
        return UNSAID
    space = Space(procedure, [name])
    verdicts = [judge(space, worked, limit) for limit in worked.limits]
    for verdict in verdicts:
        if verdict.broken is not None:
            return BROKEN + ", ".join(f"{given} {text}" for given, text in verdict.job.items())
    return KEPT if all(verdict.kept for verdict in verdicts) else DOUBTED
