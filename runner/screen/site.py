"""What the site file has to say on the run page, before a step is begun: what the lifting gear carries, and when the shift ends.

A warning is no refusal; what the engine would refuse is said here in its own words, so that nobody walks to the crane first.
"""

from runner.engine.decisions.lifting import lift_words, may_not_lift
from runner.engine.moment import Moment
from runner.engine.shift import shift_warning
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.record.clock import local_time
from runner.say.text import say
from runner.screen.blocks import Block, Ink, Say
from runner.screen.view import Stage, StepView

BEFORE = (Stage.CAUTIONS, Stage.PIECES, Stage.HOLD, Stage.BEGIN)


def site_blocks(procedure: Procedure, state: RunState, now: Moment, step: StepView) -> tuple[Block, ...]:
    """Who is not qualified, until the first step of the run is begun; what is lifted with what; the end of the shift. Nothing
    once the step is begun."""
    if step.stage not in BEFORE:
        return ()
    blocks: list[Block] = []
    if not any(record.attempt for record in state.records.values()):
        blocks += [Say(why, say("told"), Ink.ABNORMAL) for why in state.unqualified]
    blocks += [Say(line, say("lift")) for line in lift_words(state, step.step)]
    refused = may_not_lift(state, step.step, now.utc[:10])
    if refused is not None:
        blocks += [Say(line, say("no lift"), Ink.ABNORMAL) for line in refused.missing]
    if state.site.shift_ends:
        told = shift_warning(procedure, state, local_time(now))
        blocks += [Say(told, say("shift"), Ink.ABNORMAL)] if told else []
    return tuple(blocks)
