"""What a trainee may ask for in a dry run: the next hint, the key points and reasons, and a way through a wait.

Each hint is on record with its level before it is shown. In an assessment there are none.
"""

from collections.abc import Callable

from runner.engine.intents import Refusal
from runner.procedure.model import Step
from runner.say.text import say
from runner.screen.blocks import Block, Gap, Heading, Ink, Row, Rows, Say
from runner.screen.desk import Back, Desk, Move, Page, Send, Tell
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.menu import MenuPage
from runner.screen.practice import step_of

NO_SCENARIO = "There is no scenario here, and no step that is up."


def opened(desk: Desk) -> Page:
    """What can be asked for at the step that is up."""
    practice, step = desk.practice, step_of(desk)
    if practice is None or step is None:
        return ConfirmPage(say("Hint"), (Say(say(NO_SCENARIO)),), say("back"), lambda _: Back(), word="back")
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []

    def offer(text: str, move: Callable[[Desk], Move]) -> None:
        rows.append(Row(text))
        moves.append(move)

    if not practice.assessed:
        taken = practice.followed.hints.get(step.id, 0)
        offer(say("The next hint ({count} taken here; it is counted)", count=taken), lambda d: hint(d, step))
    left = practice.wait_left(step)
    if left:
        offer(
            say("Through the wait at once ({seconds:.0f} s; the record says so)", seconds=left),
            lambda d: through(d, step),
        )
    if not practice.assessed:
        offer(say("Key points and reasons (a hint of level 2)"), lambda d: points(d, step))
    offer(say("Back to the step"), lambda _: Back())
    above = (Say(say("An assessment: there are no hints."), ink=Ink.ABNORMAL),) if practice.assessed else ()
    return MenuPage(say("Hint, time"), tuple(rows), tuple(moves), above)


def hint(desk: Desk, step: Step) -> Move:
    """The next hint, kept and then shown, with the key points and the reasons from the second level on."""
    practice = desk.practice
    if practice is None:
        return Tell(say(NO_SCENARIO))
    told = practice.hint(step, practice.prompt_words(step))
    if isinstance(told, Refusal):
        return Tell(told.reason)
    from runner.training.hints import LEVELS

    blocks: list[Block] = [Say(told.words, say(LEVELS[told.level]), Ink.STRONG)]
    if told.level > 1:
        blocks += points_and_reasons(desk, step)
    page = ConfirmPage(say("Hint"), tuple(blocks), say("back to the step"), lambda _: Back(), word="back")
    return Send(practice.hint_taken(step, told), page)


def points(desk: Desk, step: Step) -> Move:
    """The key points and reasons alone; on record as a hint of the second level."""
    from runner.training.hints import Hint, key_points

    if desk.practice is None:
        return Tell(say(NO_SCENARIO))
    words = "; ".join(key_points(desk.procedure, step)) or step.why or step.do.text
    blocks = tuple(points_and_reasons(desk, step)) or (Say(words),)
    page = ConfirmPage(say("Key points"), blocks, say("back to the step"), lambda _: Back(), word="back")
    return Send(desk.practice.hint_taken(step, Hint(2, words, last=False)), page)


def points_and_reasons(desk: Desk, step: Step) -> list[Block]:
    """What makes or breaks the step, and why it is done."""
    from runner.training.hints import key_points, reasons

    blocks: list[Block] = []
    for heading, lines in ((say("Key points"), key_points(desk.procedure, step)), (say("Reasons"), reasons(step))):
        if lines:
            blocks += [Gap(), Heading(heading), Rows(tuple(Row(line) for line in lines))]
    return blocks


def through(desk: Desk, step: Step) -> Move:
    """Through the wait."""
    return Send(desk.practice.step_time(step)) if desk.practice is not None else Tell(say(NO_SCENARIO))
