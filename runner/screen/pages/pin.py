"""The PIN of the person who acts, asked where it is all that is missing. What is typed shows as stars, nowhere else.

The act that waits for it is sent again with the PIN; a wrong one clears the line and the page stays. Esc gives the act up.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, field, replace

from runner.engine.intents import Refusal, WithPin
from runner.say.text import say
from runner.screen.blocks import Entry, Ink, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Send, Stay, Tell
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class PinPage(Page):
    """The PIN of one person, for one act."""

    send: Send
    """What waits for it."""
    name: str
    given: tuple[tuple[str, str], ...] = field(default=(), repr=False)
    """PINs of others that the same act takes."""

    def show(self, desk: Desk) -> Sheet:
        """Who is asked."""
        blocks = (
            Say(
                say("{name}: type your PIN yourself. With it you stand for what follows.", name=self.name),
                say("PIN"),
                Ink.STRONG,
            ),
            Say(say("A wrong one is put on record with the name."), ink=Ink.QUIET),
        )
        entry = Entry(say("PIN of {name}", name=self.name), free=True, secret=True)
        return Sheet(
            "form", say("PIN"), blocks, say("give the PIN"), entry=entry, subject=f"pin/{self.name}", secret=True
        )

    def go(self, desk: Desk, typed: str) -> Move:
        """Send the act again, with the PIN."""
        if not typed:
            return Tell(say("Type the PIN of {name}, then Enter.", name=self.name))
        intent = self.send.intent.intent if isinstance(self.send.intent, WithPin) else self.send.intent
        return self.send._replace(intent=WithPin(intent, (*self.given, (self.name, typed))))

    def press(self, desk: Desk, action: Action) -> Move:
        """Esc gives the act up; nothing has happened."""
        return Back() if action is Action.BACK else Stay()


@dataclass(frozen=True, slots=True)
class PaperPage(PinPage):
    """When an act was done on paper, asked in the same way; what is typed shows."""

    def show(self, desk: Desk) -> Sheet:
        """What may be typed."""
        blocks = (
            Say(say("From paper: when was this done? It goes on record with the time at which it is entered."), "", Ink.STRONG),
            Say(say("Now it is {time} UTC. Write 14:05 (UTC), 14:05:30, 14:05+01:00, or a day in front.",
                    time=desk.now.utc[11:16])),
            Say(say("`same`: the last time once more. `now`: it is done now, not from paper."), "", Ink.QUIET),
        )  # fmt: skip
        entry = Entry(say("Time on paper"), free=True)
        return Sheet("form", say("FROM PAPER"), blocks, say("put it on record"), entry=entry, subject="paper")

    def go(self, desk: Desk, typed: str) -> Move:
        """Send the act again, with its time."""
        if not typed.strip():
            return Tell(say("Type the time on paper, then Enter."))
        wanted = self.send.intent
        if isinstance(wanted, WithPin):
            return self.send._replace(intent=replace(wanted, intent=replace(wanted.intent, paper=typed)))
        return self.send._replace(intent=replace(wanted, paper=typed))


def asks_pin(sent: Move | None, refused: Refusal) -> PinPage | None:
    """The page that asks for the PIN, or for the time on paper, that is all that is missing; none where something else
    is."""
    if refused.when and isinstance(sent, Send):
        return PaperPage(sent, "")
    if not refused.pin_of or not isinstance(sent, Send):
        return None
    given = sent.intent.pins if isinstance(sent.intent, WithPin) else ()
    return PinPage(sent, refused.pin_of, given)
