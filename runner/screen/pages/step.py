"""The parts of a step as pages show it, always in the same order: cautions, the act, why, what it needs, answers."""

from runner.engine.state import StepStatus
from runner.procedure.model import Caution
from runner.screen.blocks import Act, Block, CautionBlock, Fact, Facts, Gap, Ink, Say
from runner.screen.view import PiecesView, Stage, StepView


def caution_blocks(step: StepView) -> tuple[Block, ...]:
    """Gravest first, as the procedure sorts them."""
    blocks: list[Block] = []
    brief = step.stage is not Stage.CAUTIONS
    for caution in step.cautions:
        blocks.append(CautionBlock(caution.signal, caution.hazard, caution.harm, caution.avoid, brief))
        if not brief:
            blocks.append(Gap())
    return (*blocks, Gap()) if brief and blocks else tuple(blocks)


def hazards(cautions: tuple[Caution, ...]) -> tuple[Block, ...]:
    """What can hurt, a line each, for pages on which something else has to be read as well."""
    if not cautions:
        return ()
    return (*(CautionBlock(caution.signal, caution.hazard, "", "", brief=True) for caution in cautions), Gap())


def act_block(step: StepView) -> Act:
    """The instruction."""
    return Act(step.step.number, step.act, step.mark, step.status.value, step.who)


def remarks(step: StepView) -> tuple[Block, ...]:
    """Why, and all that the person must know before going on."""
    blocks: list[Block] = []
    if step.step.why:
        blocks.append(Say(step.step.why, "why", Ink.QUIET))
    if step.attempt > 1 or step.passes:
        passes = f", {step.passes} times round so far" if step.passes else ""
        blocks.append(Say(f"attempt {step.attempt}{passes}", "again", Ink.ABNORMAL))
    if step.after_trouble[1]:
        blocks.append(Say(f"{step.after_trouble[0]} {step.after_trouble[1]}", "first", Ink.ABNORMAL))
    for name in step.old:
        corrected = f"{name.replace('_', ' ')} was corrected after this step had gone by the old value"
        blocks.append(Say(corrected, "old value", Ink.ABNORMAL))
    if step.step.repeat:
        blocks.append(Say(f"until {step.step.repeat.text}, at most {step.step.repeat.at_most} times", "repeat"))
    if step.step.optional and step.stage in (Stage.CAUTIONS, Stage.PIECES, Stage.HOLD, Stage.BEGIN):
        agrees = f"; {step.agrees} must agree" if step.agrees else ""
        blocks.append(Say(f"may be left out with a reason{agrees}", "optional", Ink.QUIET))
    blocks += [pieces_words(pieces) for pieces in step.pieces]
    if step.releaser:
        blocks.append(hold_words(step))
    if step.second:
        blocks.append(Say(f"{step.second} looks too before it is done", "second"))
    blocks += [Say(f"{name.replace('_', ' ')} is not known yet", "missing", Ink.ABNORMAL) for name in step.unknown]
    blocks += [Say(words, "not yet", Ink.ABNORMAL) for words in step.blocked]
    if step.step.troubles and step.status is StepStatus.BEGUN:
        blocks.append(Say("  ".join(trouble.sign for trouble in step.step.troubles), "watch for", Ink.QUIET))
    return tuple(blocks)


def hold_words(step: StepView) -> Say:
    """How the hold of a step stands."""
    if step.hold == "released":
        return Say(f"released by {step.releaser}", "HOLD", Ink.GOOD)
    if step.hold == "reached":
        return Say(f"{step.releaser} must release this step, and not who does it", "HOLD", Ink.ABNORMAL)
    return Say(f"{step.releaser} releases this step; call them in time", "HOLD", Ink.STRONG)


def pieces_words(pieces: PiecesView) -> Say:
    """Pieces that hold the step, or that somebody accepted though they miss what is wanted."""
    known, name = pieces.known, pieces.known.name.replace("_", " ")
    if known.verdict == "accepted":
        return Say(f"{name}: nearest choice, accepted by {known.accepted_by}: {known.accepted_why}", "pieces", Ink.GOOD)
    words = f"{name}: {pieces.accepts} must accept the nearest choice, and not who does the step"
    return Say(words, "HOLD", Ink.ABNORMAL)


def answer_blocks(step: StepView) -> tuple[Block, ...]:
    """The answers of the attempt that is on."""
    if not step.answers:
        return ()
    if step.alone:
        return (Gap(), Say("kept, and not shown until the second person has looked", "answers", Ink.QUIET))
    rows = tuple(
        Fact(a.ask, a.shown, "" if a.verdict == "in" else "out of limits" if a.verdict == "out" else "unusual",
             Ink.PLAIN if a.verdict == "in" else Ink.ABNORMAL)
        for a in step.answers
    )  # fmt: skip
    return (Gap(), Facts(rows))
