"""Interrupting: pause with the next intention said, hand a role over, sign on, end the run unfinished, or leave.

Leaving needs nothing of the record: what was shown as kept is kept, and the run is found again at this place.
"""

from collections.abc import Callable

from runner.engine.intents import Abandon, HandOver, Pause, SignOn
from runner.engine.shown import role_label
from runner.screen.blocks import Block, Ink, Row, Say
from runner.screen.desk import Desk, Leave, Move, Open, Page, Send
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.view import states_view, view


def opened(desk: Desk) -> Page:
    """What can be done instead of going on."""
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []

    def offer(text: str, move: Callable[[Desk], Move]) -> None:
        rows.append(Row(text))
        moves.append(move)

    if not desk.state.halted:
        offer("Pause here", lambda _: Open(_intention()))
    offer("Hand a role over to another person", lambda d: Open(_hand_over(d)))
    if any(not desk.state.crew.get(role) for role, _ in desk.procedure.people):
        offer("Sign on: take a role that nobody has", lambda d: Open(_sign_on(d)))
    offer("Abandon: end the run unfinished", lambda _: Open(abandon()))
    offer("Leave the program; the run stays open at this place", lambda _: Leave())
    return MenuPage("Interrupt", tuple(rows), tuple(moves))


def _intention() -> Page:
    def paused(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(Pause(desk.person, answers[0]))

    above = (Say("Say what you would do next. It is shown large when somebody comes back."),)
    return FormPage("Pause", (Question("Next I will", needed=False),), paused, above, last="pause")


def abandon() -> Page:
    """The reason for ending the run unfinished."""

    def abandoned(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(Abandon(desk.person, answers[0]))

    above = (Say("The run ends here and cannot be taken up again. The record stays.", ink=Ink.ABNORMAL),)
    return FormPage("Abandon the run", (Question("Why is it abandoned?"),), abandoned, above, last="abandon")


def _hand_over(desk: Desk) -> Page:
    held = tuple((role, name) for role, name in desk.state.crew.items() if name)
    labels = tuple(f"{role_label(desk.procedure, role)} ({name})" for role, name in held)

    def handed(_: Desk, answers: tuple[str, ...]) -> Move:
        role, name = held[labels.index(answers[0])]
        return Send(HandOver(name, role, answers[1], answers[2]))

    questions = (
        Question("Which role is handed over?", labels or ("nobody has a role",)),
        Question("Who takes over?"),
        Question("Who takes over reads back what is open, in their words"),
    )
    return FormPage("Hand over", questions, handed, what_is_open(desk), last="hand over")


def what_is_open(desk: Desk) -> tuple[Block, ...]:
    """What the one who takes over must know, most urgent first."""
    seen = view(desk.procedure, desk.state, desk.now, desk.lane)
    blocks: list[Block] = []
    for trail in seen.trails:
        here = next((cell.number for cell in trail.cells if cell.here), "")
        blocks.append(Say(f"{trail.who or seen.phase}: {here} {trail.word}".strip(), "place"))
    blocks += [
        Say(f"{noted.number}, {noted.severity}: {noted.words}", "open", Ink.ABNORMAL)
        for noted in desk.state.open_exceptions
    ]
    unknown = [s.label for s in states_view(desk.procedure, desk.state) if not s.known]
    if unknown:
        blocks.append(Say(", ".join(unknown), "not known", Ink.ABNORMAL))
    return tuple(blocks)


def _sign_on(desk: Desk) -> Page:
    vacant = tuple((role, label) for role, label in desk.procedure.people if not desk.state.crew.get(role))
    labels = tuple(label for _, label in vacant)

    def signed(_: Desk, answers: tuple[str, ...]) -> Move:
        return Send(SignOn(answers[1], vacant[labels.index(answers[0])][0]))

    return FormPage("Sign on", (Question("Which role?", labels), Question("Your name")), signed, last="sign on")
