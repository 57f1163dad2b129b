"""Pieces that miss what is wanted: what the nearest choice is and gives, who accepts it, why it will do, then the release key.

As at a hold, Enter takes the name and the reason and never accepts; the engine refuses the person who does the step.
"""

from dataclasses import dataclass, replace

from runner.engine.decisions.check import same_person
from runner.engine.held import held_values, split_named
from runner.engine.intents import AcceptPieces
from runner.engine.lookup import step_named
from runner.engine.shown import doer, own_shown, role_label
from runner.engine.state import KnownValue
from runner.procedure.model import Split, Step
from runner.say.text import say
from runner.screen.blocks import Block, Entry, Fact, Facts, Gap, Ink, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Send, Stay, Tell, Turn
from runner.screen.keys import Action, action_for_word
from runner.screen.pages.hold import both, nobody
from runner.screen.pages.step import hazards
from runner.screen.pages.working import end_facts

Found = tuple[Step, KnownValue, Split]


@dataclass(frozen=True, slots=True)
class PiecesPage(Page):
    """The first pieces that hold one step."""

    step_id: str
    why: str = ""
    name: str = ""

    def show(self, desk: Desk) -> Sheet:
        """What was wanted, the nearest there is, and who accepts it."""
        found = self._found(desk)
        if found is None:
            return Sheet("hold", say("Hold"), (Say(say("There is no hold here.")),), say("back"), "back")
        step, known, split = found
        label = role_label(desk.procedure, split.release)
        title = say("Hold before step {number}: {name}", number=step.number, name=known.name.replace("_", " "))
        blocks = [*hazards(step.cautions), *_choice(desk, known, split)]
        blocks.append(
            Say(
                say("{label} decides: the nearest choice, or correct an input, or stop.", label=label),
                say("HOLD"),
                Ink.ABNORMAL,
            )
        )
        not_yet, subject = (Action.RELEASE,), f"pieces/{self.step_id}/{known.name}/{self.why}/{self.name}"
        if not desk.state.crew.get(split.release, ""):
            blocks += [Gap(), *nobody(desk, label)]
            return Sheet("hold", title, tuple(blocks), say("back"), "back", without=not_yet, subject=subject, loud=True)
        if same_person(desk.state.crew.get(split.release, ""), doer(desk.state, step)):
            blocks += [Gap(), *both(desk, doer(desk.state, step), label)]
        if not self.name:
            entry, go = (
                Entry(say("Name of the accepting person ({label})", label=label), free=True),
                say("take the name"),
            )
            return Sheet("hold", title, tuple(blocks), go, entry=entry, without=not_yet, subject=subject, loud=True)
        blocks += [Gap(), Facts((Fact(say("to accept"), self.name, say("as {label}", label=label)),))]
        if not self.why:
            entry, go = Entry(say("Why the nearest choice will do"), free=True), say("take reason")
            return Sheet("hold", title, tuple(blocks), go, entry=entry, without=not_yet, subject=subject, loud=True)
        blocks.append(Facts((Fact(say("why it will do"), self.why),)))
        blocks.append(Say(say("{key} accepts the nearest choice.", key=desk.cap(Action.RELEASE)), ink=Ink.STRONG))
        return Sheet("hold", title, tuple(blocks), subject=subject, loud=True)

    def _found(self, desk: Desk) -> Found | None:
        step = step_named(desk.procedure, self.step_id)
        held = held_values(desk.procedure, desk.state, step) if step is not None else ()
        split = split_named(desk.procedure, held[0].name) if held else None
        return None if step is None or split is None else (step, held[0], split)

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the name, then the reason."""
        found = self._found(desk)
        if found is None or not desk.state.crew.get(found[2].release, ""):
            return Back()
        if self.why:
            return Tell(say("Enter does not accept. {key} does.", key=desk.cap(Action.RELEASE)))
        text = typed.strip()
        if not text:
            if not self.name:
                return Tell(say("Type the name of the person who accepts, then Enter."))
            return Tell(say("Type the reason why the nearest choice will do, then Enter."))
        if action_for_word(text) is not None:
            key = desk.cap(Action.BACK)
            if not self.name:
                return Tell(
                    say("{typed} is a command and no name. Type the name; {key} leads back.", typed=text, key=key)
                )
            return Tell(
                say("{typed} is a command and no reason. Type the reason; {key} leads back.", typed=text, key=key)
            )
        return Turn(replace(self, why=text) if self.name else replace(self, name=text))

    def press(self, desk: Desk, action: Action) -> Move:
        """The release key accepts once name and reason are given; Esc takes back what was typed, all of it."""
        found = self._found(desk)
        if action is Action.BACK or found is None:
            # another person decides anew: nobody accepts for a reason that somebody else gave
            return Turn(replace(self, why="", name="")) if self.name else Back()
        if action is not Action.RELEASE:
            return Stay()
        if not self.why:
            return Tell(say("First the name of the person who accepts is typed, then the reason."))
        return Send(AcceptPieces(self.name, self.step_id, found[1].name, self.why))


def _choice(desk: Desk, known: KnownValue, split: Split) -> tuple[Block, ...]:
    """Wanted and hung, the pieces at each end, and what they give."""
    wanted = desk.state.values.get(split.mass)
    rows = [Fact(say("wanted"), own_shown(wanted))] if wanted is not None else []
    rows += [Fact(say("nearest"), own_shown(known), say("allowed: {limits}", limits=known.limits), Ink.ABNORMAL)]
    given = (Say(known.gives),) if known.gives else ()
    return (Facts((*rows, *end_facts(known.ends, known.unit))), *given)
