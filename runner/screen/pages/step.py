"""The parts of a step as pages show it, always in the same order: cautions, the act, why, what it needs, answers."""

from runner.engine.state import StepStatus
from runner.procedure.model import Caution
from runner.say.text import say
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
    return Act(step.step.number, step.act, step.mark, say(step.status.value), step.who)


def remarks(step: StepView) -> tuple[Block, ...]:
    """Why, and all that the person must know before going on."""
    blocks: list[Block] = []
    if step.step.why:
        blocks.append(Say(step.step.why, say("why"), Ink.QUIET))
    if step.attempt > 1 or step.passes:
        told = say("attempt {attempt}", attempt=step.attempt)
        if step.passes:
            told = say("attempt {attempt}, {passes} times round so far", attempt=step.attempt, passes=step.passes)
        blocks.append(Say(told, say("again"), Ink.ABNORMAL))
    if step.after_trouble[1]:
        blocks.append(Say(f"{step.after_trouble[0]} {step.after_trouble[1]}", say("first"), Ink.ABNORMAL))
    for name in step.old:
        if step.status is StepStatus.NOT_APPLICABLE:
            corrected = say("{name} was corrected: by the new value this step applies", name=name.replace("_", " "))
        else:
            corrected = say(
                "{name} was corrected after this step had gone by the old value", name=name.replace("_", " ")
            )
        blocks.append(Say(corrected, say("old value"), Ink.ABNORMAL))
    if step.step.repeat:
        blocks.append(
            Say(
                say(
                    "until {condition}, at most {count} times",
                    condition=step.step.repeat.text,
                    count=step.step.repeat.at_most,
                ),
                say("repeat"),
            )
        )
    if step.step.optional and step.stage in (Stage.CAUTIONS, Stage.PIECES, Stage.HOLD, Stage.BEGIN):
        told = say("may be left out with a reason")
        if step.agrees:
            told = say("may be left out with a reason; {role} must agree", role=step.agrees)
        blocks.append(Say(told, say("optional"), Ink.QUIET))
    blocks += [pieces_words(pieces) for pieces in step.pieces]
    if step.releaser:
        blocks.append(hold_words(step))
    if step.second:
        blocks.append(Say(say("{role} looks too before it is done", role=step.second), say("second")))
    blocks += [
        Say(say("{name} is not known yet", name=name.replace("_", " ")), say("missing"), Ink.ABNORMAL)
        for name in step.unknown
    ]
    blocks += [Say(words, say("not yet"), Ink.ABNORMAL) for words in step.blocked]
    if step.step.troubles and step.status is StepStatus.BEGUN:
        blocks.append(Say("  ".join(trouble.sign for trouble in step.step.troubles), say("watch for"), Ink.QUIET))
    return tuple(blocks)


def hold_words(step: StepView) -> Say:
    """How the hold of a step stands."""
    if step.hold == "released":
        return Say(say("released by {role}", role=step.releaser), say("HOLD"), Ink.GOOD)
    if step.hold == "reached":
        return Say(
            say("{role} must release this step, and not who does it", role=step.releaser), say("HOLD"), Ink.ABNORMAL
        )
    return Say(say("{role} releases this step; call them in time", role=step.releaser), say("HOLD"), Ink.STRONG)


def pieces_words(pieces: PiecesView) -> Say:
    """Pieces that hold the step, or that somebody accepted though they miss what is wanted."""
    known, name = pieces.known, pieces.known.name.replace("_", " ")
    if known.verdict == "accepted":
        return Say(
            say(
                "{name}: nearest choice, accepted by {person}: {why}",
                name=name,
                person=known.accepted_by,
                why=known.accepted_why,
            ),
            say("pieces"),
            Ink.GOOD,
        )
    words = say(
        "{name}: {role} must accept the nearest choice, and not who does the step", name=name, role=pieces.accepts
    )
    return Say(words, say("HOLD"), Ink.ABNORMAL)


def answer_blocks(step: StepView) -> tuple[Block, ...]:
    """The answers of the attempt that is on."""
    if not step.answers:
        return ()
    if step.alone:
        return (Gap(), Say(say("kept, and not shown until the second person has looked"), say("answers"), Ink.QUIET))
    rows = tuple(
        Fact(a.ask, a.shown, "" if a.verdict == "in" else say("out of limits") if a.verdict == "out" else say("unusual"),
             Ink.PLAIN if a.verdict == "in" else Ink.ABNORMAL)
        for a in step.answers
    )  # fmt: skip
    return (Gap(), Facts(rows))
