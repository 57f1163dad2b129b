"""The run page: the one step that is up. Cautions first, then the act, then why, then what to answer.

Enter goes on through the stages of the step, one key a stage, and never releases a hold: where the step is held, Enter
opens the hold page. A choice lives on the page until it is given; a tick is on record as it is made. Nothing is chosen
beforehand.
"""

from dataclasses import dataclass, replace

from runner.engine.intents import BeginStep, EndStep, GiveAnswer, ReadCautions, TickRoller
from runner.procedure.asks.ask import Prompt
from runner.procedure.model import steps_of
from runner.say.text import say, say_as, say_n
from runner.screen import words
from runner.screen.ahead import ahead_blocks
from runner.screen.blocks import Block, Entry, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Open, Page, Send, Stay, Tell, ToLane, Turn, moved, numbered
from runner.screen.drawings import feed_blocks, step_drawings
from runner.screen.keys import Action
from runner.screen.marks import TICKED, UNTICKED
from runner.screen.missing import calls, missing
from runner.screen.pages.step import act_block, answer_blocks, caution_blocks, remarks
from runner.screen.site import site_blocks
from runner.screen.view import Stage, StepView, View, old_values, view
from runner.screen.waits import wait_blocks

TICKS = 5
"""Rows of a list to be ticked that are shown at a time."""


@dataclass(frozen=True, slots=True)
class RunPage(Page):
    """What has been chosen for the ask that is open."""

    about: str = ""
    """The step and ask that `cursor` is about; it counts for nothing else."""
    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """The step that is up, or what the run waits for."""
        seen = view(desk.procedure, desk.state, desk.now, desk.lane)
        step = seen.step
        return _list_ended(desk, seen) if step is None else self._step(desk, seen, step)

    def _step(self, desk: Desk, seen: View, step: StepView) -> Sheet:
        blocks: list[Block] = [*caution_blocks(step), act_block(step), *remarks(step)]
        blocks += wait_blocks(desk.procedure, desk.state, desk.now, seen.lane)
        blocks += calls(desk, seen.lane)
        blocks += site_blocks(desk.procedure, desk.state, desk.now, step)
        blocks += answer_blocks(step)
        entry = None
        prompt, about = step.prompt, _about(step)
        cursor, ticked = self.cursor if about == self.about else None, len(step.threaded)
        if prompt is not None:
            match prompt.shape:
                case "choice":
                    rows = tuple(Row(choice) for choice in prompt.choices)
                    blocks += [Gap(), Say(_question(step, prompt), ink=Ink.STRONG), Rows(rows, cursor, numbered=True)]
                case "ticks":
                    told = say(
                        "{question}: {ticked} of {count} ticked",
                        question=_question(step, prompt),
                        ticked=ticked,
                        count=len(prompt.choices),
                    )
                    back = "  " + say("({key} takes the last back)", key=desk.cap(Action.UNEXPECTED)) if ticked else ""
                    blocks += [Gap(), Say(told + back, ink=Ink.STRONG), _ticks(prompt, step.threaded)]
                case _:
                    limits = say("allowed: {limits}", limits=prompt.limits) if prompt.limits else ""
                    entry = Entry(_question(step, prompt), prompt.unit, limits, free=prompt.shape == "text")
        blocks += feed_blocks(desk, step)
        blocks += ahead_blocks(desk.procedure, desk.state, seen.lane)
        blocks += _old_steps(desk)
        if step.blocked and not seen.unconfirmed:
            where = f"{desk.cap(Action.WORKING)}, {desk.cap(Action.SIDE)}"
            blocks.append(
                Say(
                    say("if the press is otherwise than noted: {where}, and say what you see", where=where), say("look")
                )
            )
        if seen.unconfirmed and desk.state.intention:
            blocks += [Gap(), Say(desk.state.intention, say_as("intention", "next"), Ink.STRONG)]
        if seen.unconfirmed:
            where = f"{desk.cap(Action.WORKING)}, {desk.cap(Action.SIDE)}"
            told = say_n(
                "{n} state is unconfirmed since the interruption: {where}, and say what you see.",
                "{n} states are unconfirmed since the interruption: {where}, and say what you see.",
                seen.unconfirmed,
                where=where,
            )
            blocks += [Gap(), Say(told, say("look"), Ink.ABNORMAL)]
        without = () if len(seen.trails) > 1 else (Action.SIDE,)
        subject = f"{about}/{step.stage.name}/{ticked}/{step.entry}/{step.attempt}"
        spare = (
            (Gap(), Say(step.then, say("then"), Ink.QUIET)) if step.then and step.stage is not Stage.CAUTIONS else ()
        )
        return Sheet(
            "run",
            seen.phase,
            tuple(blocks),
            _go_words(step),
            _go_word(step),
            entry,
            without,
            subject,
            words=prompt is not None,
            spare=spare,
            pinned=0 if step.stage is Stage.CAUTIONS else len(step.cautions),
            secret=step.alone,
            beside=step_drawings(desk, step),
        )

    def go(self, desk: Desk, typed: str) -> Move:
        """The next thing at the step that is up."""
        seen = view(desk.procedure, desk.state, desk.now, desk.lane)
        step = seen.step
        if step is None:
            return _other_list(seen)
        match step.stage:
            case Stage.CAUTIONS:
                return Send(ReadCautions(step.by, step.step.id), after="keep")
            case Stage.PIECES:
                from runner.screen.pages.pieces import PiecesPage

                return Open(PiecesPage(step.step.id))
            case Stage.HOLD:
                from runner.screen.pages.hold import HoldPage

                return Open(HoldPage(step.step.id))
            case Stage.BEGIN:
                return Send(BeginStep(step.by, step.step.id), after="keep")
            case Stage.ASK:
                return self._answer(step, typed)
            case Stage.SECOND:
                from runner.screen.pages.second import second_look

                return Open(second_look(desk, step))
            case Stage.WAIT | Stage.END:
                return Send(EndStep(step.by, step.step.id), after="keep")

    def _answer(self, step: StepView, typed: str) -> Move:
        ask, prompt = step.ask, step.prompt
        if ask is None or prompt is None:
            return Stay()
        fresh = self if self.about == _about(step) else RunPage(_about(step))
        match prompt.shape:
            case "choice":
                if typed.strip():
                    return Send(GiveAnswer(step.by, step.step.id, ask.name, typed), after="keep")
                if fresh.cursor is None:
                    return Tell(say(words.PICK))
                chosen = prompt.choices[fresh.cursor]
                return Send(GiveAnswer(step.by, step.step.id, ask.name, chosen), RunPage(), after="keep")
            case "ticks":
                if typed.strip().casefold() == "all":
                    return Send(GiveAnswer(step.by, step.step.id, ask.name, "all"), RunPage(), after="keep")
                return Send(TickRoller(step.by, step.step.id, len(step.threaded) + 1), after="keep")
            case _:
                if not typed.strip():
                    return Tell(say("{question}: type it, then Enter.", question=prompt.question))
                return Send(GiveAnswer(step.by, step.step.id, ask.name, typed), after="keep")

    def press(self, desk: Desk, action: Action) -> Move:
        """The other list, or arrows in a choice."""
        seen = view(desk.procedure, desk.state, desk.now, desk.lane)
        if action is Action.SIDE and len(seen.trails) > 1:
            return ToLane((seen.lane + 1) % len(seen.trails))
        step = seen.step
        if step is None or step.prompt is None or step.prompt.shape != "choice":
            return Stay()
        fresh = self if self.about == _about(step) else RunPage(_about(step))
        return Turn(replace(fresh, cursor=moved(fresh.cursor, action, len(step.prompt.choices))))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses an answer; Enter gives it."""
        step = view(desk.procedure, desk.state, desk.now, desk.lane).step
        if step is None or step.prompt is None or step.prompt.shape != "choice":
            return Stay()
        fresh = self if self.about == _about(step) else RunPage(_about(step))
        return Turn(replace(fresh, cursor=numbered(number, len(step.prompt.choices))))


def _old_steps(desk: Desk) -> tuple[Block, ...]:
    """Steps that went by a value before it was corrected, while nobody has decided about them."""
    old = frozenset(step for step, record in desk.state.records.items() if record.old and old_values(desk.state, step))
    if not old:  # nearly always: a procedure may have thousands of steps, and they are not gone through at every key
        return ()
    numbers = [step.number for step in steps_of(desk.procedure) if step.id in old]
    told = say(
        "gone by an old value: step {steps}; {key}, look, and decide",
        steps=", ".join(numbers),
        key=desk.cap(Action.PLACES),
    )
    return (Say(told, say("old value"), Ink.ABNORMAL),)


def _about(step: StepView) -> str:
    return f"{step.step.id}/{step.ask.name if step.ask else ''}/{step.attempt}/{step.entry}"


def _question(step: StepView, prompt: Prompt) -> str:
    again = "  " + say("(second entry: look again)") if step.entry > 1 else ""
    return prompt.question + again


def _ticks(prompt: Prompt, threaded: tuple[str, ...]) -> Rows:
    """The rollers around the next one, so that cautions and act stay on the screen however long the path is; how many
    are above and below is said."""
    ticked, count = len(threaded), len(prompt.choices)
    first = max(0, min(ticked - 2, count - TICKS))
    last = min(count, first + TICKS)
    rows = [
        Row(f"{at + 1} {choice}  ({threaded[at]})", TICKED, ink=Ink.QUIET)
        if at < ticked
        else Row(f"{at + 1} {choice}", UNTICKED, ink=Ink.STRONG)
        for at, choice in enumerate(prompt.choices[first:last], start=first)
    ]
    if first:
        rows.insert(0, Row(say("{count} more above, ticked", count=first), "   ", ink=Ink.LABEL))
    if last < count:
        rows.append(Row(say("{count} more below", count=count - last), "   ", ink=Ink.LABEL))
    return Rows(tuple(rows), ticked - first + bool(first))


def _go_words(step: StepView) -> str:
    match step.stage:
        case Stage.CAUTIONS:
            return say("cautions read")
        case Stage.PIECES | Stage.HOLD:
            return say("to the hold")
        case Stage.BEGIN:
            return say("try to begin") if step.blocked or step.unknown else say("begin")
        case Stage.ASK:
            return say("tick the next") if step.prompt and step.prompt.shape == "ticks" else say("give answer")
        case Stage.SECOND:
            return say("second look")
        case Stage.WAIT:
            return say("waiting")
        case Stage.END:
            return say("DONE")


GO_WORDS = {
    Stage.CAUTIONS: "read",
    Stage.PIECES: "hold",
    Stage.HOLD: "hold",
    Stage.BEGIN: "begin",
    Stage.SECOND: "second",
    Stage.WAIT: "done",
    Stage.END: "done",
}
"""What is typed in plain mode to go on from each stage."""


def _go_word(step: StepView) -> str:
    ticks = step.stage is Stage.ASK and step.prompt is not None and step.prompt.shape == "ticks"
    return "tick" if ticks else GO_WORDS.get(step.stage, "go")


def _list_ended(desk: Desk, seen: View) -> Sheet:
    waiting = ", ".join(seen.waiting_for)
    blocks = (
        Say(say("This list has ended."), ink=Ink.STRONG),
        Gap(),
        Say(say("The phase goes on when these have ended too: {waiting}.", waiting=waiting), say("waits")),
        missing(desk),
        *calls(desk, seen.lane),
        Gap(),
        Say(say("{enter} shows the other list.", enter=desk.enter("other"))),
    )
    return Sheet("run", seen.phase, blocks, say("other list"), "other", subject="ended")


def _other_list(seen: View) -> Move:
    open_lists = [at for at, trail in enumerate(seen.trails) if trail.place <= trail.length]
    return ToLane(open_lists[0]) if open_lists else Stay()
