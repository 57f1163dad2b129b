"""What a dry run with a scenario adds to a page: what happens, what the equipment shows, and its own keys.

A run without a scenario knows nothing of it and loads nothing for it.
"""

from shlex import quote
from typing import TYPE_CHECKING

from runner.engine import flow
from runner.procedure.model import Step
from runner.say.text import say
from runner.screen.blocks import Act, Block, Dial, Gap, Ink, Say, Sheet
from runner.screen.desk import Desk, Page
from runner.screen.door import Door
from runner.screen.keys import LESSON

if TYPE_CHECKING:
    from runner.procedure.scenarios.equipment import Indication
    from runner.training.lesson import Lesson

RESULT = "changeover assess {run}"

SHOWN_ON = ("run", "hold", "halted", "finish")
"""Pages on which what happens is told."""


def practice_of(run: Door | None) -> "Lesson | None":
    """The scenario of a run; None where it has none."""
    found: Lesson | None = getattr(run, "practice", None)
    return found


def has_gone_dark(run: Door | None) -> bool:
    """Whether the scenario has let the power fail: the screen is left, as a terminal that goes dark."""
    practice = practice_of(run)
    return practice is not None and practice.dark


def dry_words(desk: Desk, mode: str) -> str:
    """What stands in the stripes of every page of a dry run: with a scenario also whether it is judged."""
    if desk.practice is None:
        return mode
    return f"{mode}, {say('ASSESSMENT') if desk.practice.assessed else say('PRACTICE')}"


def sheet_of(page: Page, desk: Desk) -> Sheet:
    """A page with what the scenario adds to it: behind the act of the step, which stays the first thing to be read."""
    sheet = page.show(desk)
    if desk.practice is None:
        return sheet
    if sheet.page == "over":
        title = say("SCENARIO OVER") if desk.practice.followed.ended_by == "over" else sheet.title
        return sheet._replace(title=title, blocks=(*ending(desk.practice), Gap(), *sheet.blocks))
    if sheet.page not in SHOWN_ON:
        return sheet._replace(also=LESSON)
    told = happening(desk, desk.practice) + (indications(desk, desk.practice) if sheet.page == "run" else ())
    if not told:
        return sheet._replace(also=LESSON)
    at = next((place + 1 for place, block in enumerate(sheet.blocks) if isinstance(block, Act)), sheet.pinned)
    return sheet._replace(blocks=(*sheet.blocks[:at], *told, Gap(), *sheet.blocks[at:]), also=LESSON)


def ending(practice: "Lesson") -> tuple[Block, ...]:
    """How the dry run ended, and where it is told what it came to."""
    why = practice.said_unsafe or practice.followed.ended_words
    blocks: list[Block] = [Say(why, say("ended"), Ink.STRONG)] if why else []
    return (*blocks, Say(RESULT.format(run=quote(practice.path or practice.state.run)), say("result")))


def step_of(desk: Desk) -> Step | None:
    """The step that is up in the list that is shown."""
    lanes = len(desk.state.position.cursors)
    return flow.current(desk.procedure, desk.state.position, min(desk.lane, lanes - 1)) if lanes else None


def happening(desk: Desk, practice: "Lesson") -> tuple[Block, ...]:
    """What has gone wrong and is not answered yet, and what was unsafe; in an assessment nobody says which act was right."""
    blocks: list[Block] = [Say(fault.words, say("you see"), Ink.STRONG) for fault in practice.faults_on()]
    if practice.said_unsafe and not practice.assessed:
        words = practice.said_unsafe.removeprefix("unsafe: ")  # as it is in the record
        blocks.append(Say(words, say("unsafe"), Ink.ABNORMAL))
    step = step_of(desk)
    if practice.owed():
        told = say("the last step is done, and the coach asks now: {key}", key=desk.cap(LESSON[1]))
        blocks.append(Say(told, say("asked"), Ink.STRONG))
    elif step is not None and not practice.assessed and practice.questions(step.id):
        blocks.append(
            Say(say("the coach has a question here: {key}", key=desk.cap(LESSON[1])), say("asked"), Ink.QUIET)
        )
    return tuple(blocks)


def indications(desk: Desk, practice: "Lesson") -> tuple[Block, ...]:
    """What the equipment shows for the ask that is open."""
    step = step_of(desk)
    lanes = desk.state.position.cursors
    if step is None or not lanes[min(desk.lane, len(lanes) - 1)].begun:
        return ()
    record = desk.state.record(step.id)
    for ask in step.asks:
        known = record.answers.get(ask.name)
        if ask.kind in ("wait", "thread") or (known is not None and known.verdict == "in"):
            continue
        seen = practice.indication(step, ask)
        return drawn(desk, seen, ask.unit.text if ask.unit is not None else "", practice.magnitude(ask, seen.value))
    return ()


def to_look_at(desk: Desk, step: Step) -> tuple[Block, ...]:
    """What the equipment shows at a step, for a second person who looks for themselves."""
    practice = desk.practice
    if practice is None:
        return ()
    blocks: tuple[Block, ...] = ()
    for ask in step.asks:
        if ask.kind not in ("wait", "thread"):
            seen = practice.indication(step, ask)
            unit = ask.unit.text if ask.unit is not None else ""
            blocks += drawn(desk, seen, unit, practice.magnitude(ask, seen.value))
    return blocks


def drawn(desk: Desk, seen: "Indication", unit: str, magnitude: float | None) -> tuple[Block, ...]:
    """A dial, its pointer in words where lines are heard and not seen, or a card."""
    if seen.words:
        return (Say(seen.words, say("you see"), Ink.STRONG),)
    if not seen.value:
        return ()
    if seen.gauge is None or magnitude is None:
        return (Say(f"[ {seen.value} ]", say("card"), Ink.STRONG),)
    low, high = seen.gauge
    if desk.plain:
        from runner.training.dial import pointer_words

        return (Say(pointer_words(magnitude, low, high, unit), say("gauge"), Ink.STRONG),)
    return (Dial(magnitude, low, high, unit),)
