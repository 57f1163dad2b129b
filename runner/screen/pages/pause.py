"""Interrupting: pause with the next intention said, hand a role over, sign on, end the run unfinished, or leave.

Leaving needs nothing of the record: what was shown as kept is kept, and the run is found again at this place.
"""

from collections.abc import Callable

from runner.engine.decisions.check import same_person
from runner.engine.decisions.run import undone_safe_acts
from runner.engine.held import splits
from runner.engine.intents import Abandon, HandOver, MakeSafe, Pause, SignOn
from runner.engine.shown import role_label
from runner.engine.state import StepStatus
from runner.procedure.model import steps_of
from runner.say.text import mark, say
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say
from runner.screen.desk import Desk, Leave, Move, Open, Page, Send, Tell, Turn
from runner.screen.marks import UNTICKED
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.view import states_view, view

TO_COME = (StepStatus.TO_DO, StepStatus.BEGUN, StepStatus.AGAIN)


def opened(desk: Desk) -> Page:
    """What can be done instead of going on."""
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []

    def offer(text: str, move: Callable[[Desk], Move]) -> None:
        rows.append(Row(text))
        moves.append(move)

    if not desk.state.halted:
        offer(say("Pause here"), lambda d: Open(_intention(needed=d.practice is not None)))
    offer(say("Hand a role over to another person"), lambda d: Open(_hand_over(d)))
    if any(not desk.state.crew.get(role) for role, _ in desk.procedure.people):
        offer(say("Sign on: take a role that nobody has"), lambda d: Open(_sign_on(d)))
    offer(say("Abandon: end the run unfinished"), abandon)
    offer(say("Leave the program; the run stays open at this place"), lambda _: Leave())
    return MenuPage(say("Interrupt"), tuple(rows), tuple(moves))


def _intention(needed: bool) -> Page:
    """In a dry run with a scenario it must be said: a pause may be the right response, and a closed terminal is none."""

    def paused(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(Pause(desk.person, answers[0]))

    above = (Say(say("Say what you would do next. It is shown large when somebody comes back.")),)
    return FormPage(say("Pause"), (Question(say("Next I will"), needed=needed),), paused, above, last=say("pause"))


FIRST_THE_ACTS = mark("First each act: ticked when it is done, or said to be not needed (the last line).")


def abandon(desk: Desk) -> Move:
    """To the reason for ending the run unfinished, or first to the acts that make the press safe."""
    undone = undone_safe_acts(desk.procedure, desk.state)
    if not undone:
        return Open(_abandon())
    if desk.state.halted == "make-safe":
        return Tell(say(FIRST_THE_ACTS))
    blocks: tuple[Block, ...] = (
        Say(
            say("Before the run ends, each of these acts is done, or said to be not needed with a reason."),
            ink=Ink.STRONG,
        ),
        Gap(),
        Rows(tuple(Row(act, UNTICKED) for act in undone)),
    )
    stop = MakeSafe(desk.person, "before the run is abandoned")
    return Open(
        ConfirmPage(
            say("Abandon the run"), blocks, say("to the acts"), lambda _: Send(stop, after="reset"), word="acts"
        )
    )


def _abandon() -> Page:
    """The reason for ending the run unfinished."""

    def abandoned(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(Abandon(desk.person, answers[0]))

    above = (Say(say("The run ends here and cannot be taken up again. The record stays."), ink=Ink.ABNORMAL),)
    return FormPage(
        say("Abandon the run"), (Question(say("Why is it abandoned?")),), abandoned, above, last=say("abandon")
    )


def _hand_over(desk: Desk) -> Page:
    held = tuple((role, name) for role, name in desk.state.crew.items() if name)
    labels = tuple(f"{role_label(desk.procedure, role)} ({name})" for role, name in held)

    def handed(_: Desk, answers: tuple[str, ...]) -> Move:
        role, name = held[labels.index(answers[0])]
        return Send(HandOver(name, role, answers[1], answers[2]))

    def whom(d: Desk, answers: tuple[str, ...]) -> Move:
        if not held:
            return Tell(say("Nobody has a role; sign on instead."))
        role, _ = held[labels.index(answers[0])]
        questions = (
            which,
            Question(say("Who takes over?"), doubt=lambda name: both_roles(d, role, name)),
            Question(say("Who takes over reads back what is open, in their words")),
        )
        return Turn(FormPage(say("Hand over"), questions, handed, above, answers, last=say("hand over")))

    which, above = (
        Question(say("Which role is handed over?"), labels or (say("nobody has a role"),)),
        what_is_open(desk),
    )
    return FormPage(say("Hand over"), (which,), whom, above, last=say("next"))


def both_roles(desk: Desk, role: str, name: str) -> str:
    """Why one person should not have a role with those that they have; empty where nothing speaks against it.

    Steps still to come that one of the roles does and another of them releases, looks at or accepts pieces for lead
    nowhere then.
    """
    others = [other for other, holder in desk.state.crew.items() if other != role and same_person(holder, name)]
    mine, releases = {role, *others}, {made.name: made.release for made in splits(desk.procedure)}
    stuck = []
    for step in steps_of(desk.procedure) if others else ():
        eyes = {step.hold.release if step.hold else "", step.second.by if step.second else ""}
        eyes |= {release for split, release in releases.items() if split in step.uses}
        if step.by in mine and (eyes & mine) and desk.state.record(step.id).status in TO_COME:
            stuck.append(step.number)
    if not stuck:
        return ""
    labels = ", ".join(role_label(desk.procedure, other) for other in others)
    return say(
        "{name} is {labels} already: nobody else could release or look at step {steps}. Name another person, or Enter again and hand the other role over too.",
        name=name,
        labels=labels,
        steps=", ".join(stuck),
    )


def what_is_open(desk: Desk) -> tuple[Block, ...]:
    """What the one who takes over must know, most urgent first."""
    seen = view(desk.procedure, desk.state, desk.now, desk.lane)
    blocks: list[Block] = []
    for trail in seen.trails:
        here = next((cell.number for cell in trail.cells if cell.here), "")
        blocks.append(Say(f"{trail.who or seen.phase}: {here} {trail.word}".strip(), say("place")))
    blocks += [
        Say(f"{noted.number}, {say(noted.severity)}: {noted.words}", say("open"), Ink.ABNORMAL)
        for noted in desk.state.open_exceptions
    ]
    unknown = [s.label for s in states_view(desk.procedure, desk.state) if not s.known]
    if unknown:
        blocks.append(Say(", ".join(unknown), say("not known"), Ink.ABNORMAL))
    return tuple(blocks)


def _sign_on(desk: Desk) -> Page:
    vacant = tuple((role, label) for role, label in desk.procedure.people if not desk.state.crew.get(role))
    labels = tuple(label for _, label in vacant)

    def signed(_: Desk, answers: tuple[str, ...]) -> Move:
        return Send(SignOn(answers[1], vacant[labels.index(answers[0])][0]))

    return FormPage(
        say("Sign on"), (Question(say("Which role?"), labels), Question(say("Your name"))), signed, last=say("sign on")
    )
