"""The PIN of the person who acts, asked where it is all that is missing. What is typed shows as stars, nowhere else.

The act that waits for it is sent again with the PIN; a wrong one clears the line and the page stays. Esc gives the act up.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, field

from runner.engine.intents import Refusal, WithPin
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
            Say(f"{self.name}: type your PIN yourself. With it you stand for what follows.", "PIN", Ink.STRONG),
            Say("A wrong one is put on record with the name.", ink=Ink.QUIET),
        )
        entry = Entry(f"PIN of {self.name}", free=True, secret=True)
        return Sheet("form", "PIN", blocks, "give the PIN", entry=entry, subject=f"pin/{self.name}", secret=True)

    def go(self, desk: Desk, typed: str) -> Move:
        """Send the act again, with the PIN."""
        if not typed:
            return Tell(f"Type the PIN of {self.name}, then Enter.")
        intent = self.send.intent.intent if isinstance(self.send.intent, WithPin) else self.send.intent
        return self.send._replace(intent=WithPin(intent, (*self.given, (self.name, typed))))

    def press(self, desk: Desk, action: Action) -> Move:
        """Esc gives the act up; nothing has happened."""
        return Back() if action is Action.BACK else Stay()


def asks_pin(sent: Move | None, refused: Refusal) -> PinPage | None:
    """The page that asks for the PIN that is all that is missing; none where something else is."""
    if not refused.pin_of or not isinstance(sent, Send):
        return None
    given = sent.intent.pins if isinstance(sent.intent, WithPin) else ()
    return PinPage(sent, refused.pin_of, given)
