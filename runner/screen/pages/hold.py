"""The hold page: the releasing person's name first, then each point ticked by them, then the release key.

Each tick is on record as it is made. Enter takes the name and ticks; it never releases. Who may not release is told so
before anything is ticked, and is on record with it.
"""

from dataclasses import dataclass, replace

from runner.engine.decisions.check import same_person
from runner.engine.intents import NameReleaser, ReleaseHold, TickConfirmation
from runner.engine.lookup import step_named
from runner.engine.shown import doer, role_label
from runner.engine.state import StepRecord
from runner.procedure.model import Hold
from runner.say.text import say
from runner.screen.blocks import Block, Entry, Fact, Facts, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Send, Stay, Tell, Turn, moved, numbered
from runner.screen.keys import Action, action_for_word
from runner.screen.marks import TICKED, UNTICKED
from runner.screen.pages.step import act_block, hazards
from runner.screen.view import step_view


@dataclass(frozen=True, slots=True)
class HoldPage(Page):
    """The hold of one step, and who means to release it."""

    step_id: str
    cursor: int | None = None
    name: str = ""

    def show(self, desk: Desk) -> Sheet:
        """What is held, who releases, and what is to be confirmed."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None:
            return Sheet("hold", say("Hold"), (Say(say("There is no hold here.")),), say("back"), "back")
        seen = step_view(desk.procedure, desk.state, step, desk.now)
        label = role_label(desk.procedure, step.hold.release)
        blocks: list[Block] = [*hazards(step.cautions), act_block(seen)]
        told = say("{label} releases: look yourself, then confirm each point.", label=label)
        blocks.append(Say(told, say("HOLD"), Ink.ABNORMAL))
        if step.hold.protects:
            blocks.append(Say(step.hold.protects, say("relies on")))
        blocks += [Say(text, say("not yet"), Ink.ABNORMAL) for text in seen.blocked]
        holder = desk.state.crew.get(step.hold.release, "")
        if not holder:
            blocks += [Gap(), *nobody(desk, label)]
        elif same_person(holder, doer(desk.state, step)):
            blocks += [Gap(), *both(desk, holder, label)]
        record = desk.state.record(self.step_id)
        ticked = self._ticked(record, step.hold)
        rows = tuple(_row(text, at in ticked, record) for at, text in enumerate(step.hold.confirm))
        at = self._at(record, step.hold) if self.name else None
        blocks += [Gap(), Rows(rows, at, numbered=bool(self.name))]
        subject = f"hold/{self.step_id}/{len(ticked)}/{self.name}"
        title = say("Hold before step {number}", number=step.number)
        not_yet = (Action.RELEASE,)
        if not holder:
            return Sheet("hold", title, tuple(blocks), say("back"), "back", without=not_yet, subject=subject, loud=True)
        if not self.name:
            entry = Entry(say("Name of the releasing person ({label})", label=label), free=True)
            go = say("take the name")
            return Sheet("hold", title, tuple(blocks), go, entry=entry, without=not_yet, subject=subject, loud=True)
        blocks += [Gap(), Facts((Fact(say("to release"), self.name, say("as {label}", label=label)),))]
        off = not_yet if len(ticked) < len(rows) else ()
        if not off:
            blocks.append(Say(say("{key} releases the hold.", key=desk.cap(Action.RELEASE)), ink=Ink.STRONG))
        go = "" if at is None else say("take back") if at in ticked else say("tick")
        return Sheet("hold", title, tuple(blocks), go, "tick", without=off, subject=subject, loud=True)

    def _ticked(self, record: StepRecord, hold: Hold) -> tuple[int, ...]:
        """Points that this person has ticked: nobody releases on what somebody else has looked at."""
        mine = {point for point, who in record.confirmed if same_person(who, self.name)}
        return tuple(at for at, point in enumerate(hold.confirm) if point in mine)

    def _at(self, record: StepRecord, hold: Hold) -> int | None:
        if self.cursor is not None:
            return self.cursor
        ticked = self._ticked(record, hold)
        return next((at for at in range(len(hold.confirm)) if at not in ticked), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the name, then tick, or take a tick back."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None or not desk.state.crew.get(step.hold.release, ""):
            return Back()
        text, record = typed.strip(), desk.state.record(self.step_id)
        if not self.name:
            if not text:
                return Tell(say("Type the name of the person who releases, then Enter."))
            if action_for_word(text) is not None:
                return Tell(
                    say(
                        "{typed} is a command and no name. Type the name; {key} leads back.",
                        typed=text,
                        key=desk.cap(Action.BACK),
                    )
                )
            return Send(NameReleaser(text, step.id), replace(self, name=text), after="keep")
        at = self._at(record, step.hold)
        if at is None:
            return Tell(say("Enter does not release. {key} does.", key=desk.cap(Action.RELEASE)))
        on = at not in self._ticked(record, step.hold)
        tick = TickConfirmation(self.name, step.id, step.hold.confirm[at], on)
        return Send(tick, replace(self, cursor=None), after="keep")

    def press(self, desk: Desk, action: Action) -> Move:
        """F5 releases once a name is given and every point is ticked."""
        step = step_named(desk.procedure, self.step_id)
        if action is Action.BACK or step is None or step.hold is None:
            return Turn(replace(self, name="", cursor=None)) if self.name else Back()
        count, record = len(step.hold.confirm), desk.state.record(self.step_id)
        if action is not Action.RELEASE:
            return (
                Turn(replace(self, cursor=moved(self._at(record, step.hold), action, count))) if self.name else Stay()
            )
        if not self.name or len(self._ticked(record, step.hold)) < count:
            return Tell(say("First the releasing person's name is typed, then every point is ticked."))
        return Send(ReleaseHold(self.name, step.id, step.hold.confirm))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses a point; Enter ticks it, or takes its tick back."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None:
            return Back()
        return Turn(replace(self, cursor=numbered(number, len(step.hold.confirm))))


def _row(text: str, ticked: bool, record: StepRecord) -> Row:
    """A point; who ticked it before stays to be seen, so that it is looked at again and not forgotten."""
    if ticked:
        return Row(text, TICKED, ink=Ink.QUIET)
    who = dict(record.confirmed_before) | dict(record.confirmed)
    return Row(
        say("{point}  (ticked by {who}: look again)", point=text, who=who[text]) if text in who else text, UNTICKED
    )


def nobody(desk: Desk, label: str) -> tuple[Block, ...]:
    """Nobody has the role that releases or accepts: how somebody takes it."""
    back, pause = desk.cap(Action.BACK), desk.cap(Action.PAUSE)
    return (
        Say(say("Nobody has signed on as {label}, so nobody can release this.", label=label), ink=Ink.ABNORMAL),
        Say(
            say(
                "{back}, then {pause}, then pick Sign on, and {label} gives their name.",
                back=back,
                pause=pause,
                label=label,
            ),
            say("sign on"),
            Ink.STRONG,
        ),
    )


def both(desk: Desk, name: str, label: str) -> tuple[Block, ...]:
    """One person does the step and is the one who should release or accept: how another takes one of the roles."""
    back, pause = desk.cap(Action.BACK), desk.cap(Action.PAUSE)
    return (
        Say(
            say("{name} does this step and is {label} too, so nobody can release it.", name=name, label=label),
            ink=Ink.ABNORMAL,
        ),
        Say(
            say("{back}, then {pause}, then hand one of the two roles to another person.", back=back, pause=pause),
            say("hand over"),
            Ink.STRONG,
        ),
    )
