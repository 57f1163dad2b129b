"""The hold page: confirmations ticked one by one, then the releasing person's name, then the release key.

Enter ticks and takes the name; it never releases. The engine refuses a release by the person who does the step.
"""

from dataclasses import dataclass, replace

from runner.engine.intents import ReleaseHold
from runner.engine.lookup import step_named
from runner.engine.shown import role_label
from runner.screen.blocks import Block, Entry, Fact, Facts, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Send, Stay, Tell, Turn, moved, numbered
from runner.screen.keys import Action, action_for_word
from runner.screen.marks import TICKED, UNTICKED
from runner.screen.pages.step import act_block, hazards
from runner.screen.view import step_view


@dataclass(frozen=True, slots=True)
class HoldPage(Page):
    """The hold of one step."""

    step_id: str
    ticked: tuple[int, ...] = ()
    cursor: int | None = None
    name: str = ""

    def show(self, desk: Desk) -> Sheet:
        """What is held, what is to be confirmed, and who releases."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None:
            return Sheet("hold", "Hold", (Say("There is no hold here."),), "back", "back")
        seen = step_view(desk.procedure, desk.state, step, desk.now)
        label = role_label(desk.procedure, step.hold.release)
        blocks: list[Block] = [*hazards(step.cautions), act_block(seen)]
        told = f"{label} releases: look yourself, then confirm each point."
        blocks.append(Say(told, "HOLD", Ink.ABNORMAL))
        if step.hold.protects:
            blocks.append(Say(step.hold.protects, "relies on"))
        blocks += [Say(text, "not yet", Ink.ABNORMAL) for text in seen.blocked]
        holder = desk.state.crew.get(step.hold.release, "")
        if not holder:
            blocks += [Gap(), *nobody(desk, label)]
        rows = tuple(
            Row(text, TICKED if at in self.ticked else UNTICKED, ink=Ink.QUIET if at in self.ticked else Ink.PLAIN)
            for at, text in enumerate(step.hold.confirm)
        )
        if len(self.ticked) < len(rows):
            blocks += [Gap(), Rows(rows, self._at(len(rows)) if holder else None, numbered=bool(holder))]
        else:
            blocks += [Gap(), Say(f"{TICKED} {f'  {TICKED} '.join(step.hold.confirm)}", "confirmed")]
        subject = f"hold/{self.step_id}/{len(self.ticked)}/{self.name}"
        title = f"Hold before step {step.number}"
        not_yet = (Action.RELEASE,)
        if not holder:
            return Sheet("hold", title, tuple(blocks), "back", "back", without=not_yet, subject=subject, loud=True)
        if len(self.ticked) < len(rows):
            return Sheet("hold", title, tuple(blocks), "tick", "tick", without=not_yet, subject=subject, loud=True)
        if not self.name:
            entry = Entry(f"Name of the releasing person ({label})", free=True)
            go = "take the name"
            return Sheet("hold", title, tuple(blocks), go, entry=entry, without=not_yet, subject=subject, loud=True)
        blocks += [Gap(), Facts((Fact("to release", self.name, f"as {label}"),))]
        blocks.append(Say(f"{desk.cap(Action.RELEASE)} releases the hold.", ink=Ink.STRONG))
        return Sheet("hold", title, tuple(blocks), subject=subject, loud=True)

    def _at(self, count: int) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next((at for at in range(count) if at not in self.ticked), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """Tick, or take the name."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None:
            return Back()
        if not desk.state.crew.get(step.hold.release, ""):
            return Back()
        count = len(step.hold.confirm)
        if len(self.ticked) < count:
            at = self._at(count)
            if at is None:
                return Stay()
            ticked = tuple(t for t in self.ticked if t != at) if at in self.ticked else (*self.ticked, at)
            return Turn(replace(self, ticked=ticked, cursor=None))
        if self.name:
            return Tell(f"Enter does not release. {desk.cap(Action.RELEASE)} does.")
        if not typed.strip():
            return Tell("Type the name of the person who releases, then Enter.")
        if action_for_word(typed.strip()) is not None:
            return Tell(f"{typed.strip()} is a command and no name. Type the name; {desk.cap(Action.BACK)} leads back.")
        return Turn(replace(self, name=typed.strip()))

    def press(self, desk: Desk, action: Action) -> Move:
        """F5 releases once every point is ticked and a name is given."""
        step = step_named(desk.procedure, self.step_id)
        if action is Action.BACK or step is None or step.hold is None:
            # another person looks and confirms anew: nobody releases on what somebody else has ticked
            return Turn(replace(self, name="", ticked=())) if self.name else Back()
        count = len(step.hold.confirm)
        if action is not Action.RELEASE:
            return Turn(replace(self, cursor=moved(self._at(count), action, count)))
        if len(self.ticked) < count or not self.name:
            return Tell("First every point is ticked, then the releasing person's name is typed.")
        confirmed = tuple(step.hold.confirm[at] for at in sorted(self.ticked))
        return Send(ReleaseHold(self.name, step.id, confirmed))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses a point; Enter ticks it."""
        step = step_named(desk.procedure, self.step_id)
        if step is None or step.hold is None:
            return Back()
        return Turn(replace(self, cursor=numbered(number, len(step.hold.confirm))))


def nobody(desk: Desk, label: str) -> tuple[Block, ...]:
    """Nobody has the role that releases or accepts: how somebody takes it."""
    back, pause = desk.cap(Action.BACK), desk.cap(Action.PAUSE)
    return (
        Say(f"Nobody has signed on as {label}, so nobody can release this.", ink=Ink.ABNORMAL),
        Say(f"{back}, then {pause}, then pick Sign on, and {label} gives their name.", "sign on", Ink.STRONG),
    )
