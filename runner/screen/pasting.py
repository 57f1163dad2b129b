"""What is pasted stays one piece, whatever stands in it: an escape in it becomes a picture before keys are made of bytes.

Textual's own reader takes an escape within a paste for keys, the Enter behind it too, and is busy for minutes with a
long one. Only the beginning of a paste goes on, since one line is all that a paste can give. A paste whose end was lost
on the line is over when nothing comes for a second, so that keys count again.
"""

from collections.abc import Iterable
from typing import Any

from runner.record.clock import steady

START, END, ESCAPE = "\x1b[200~", "\x1b[201~", "\x1b"
"""As terminals mark what is pasted (xterm, list of control sequences, bracketed paste mode)."""
MOST = 4096
"""Characters of a paste that go on."""
QUIET_S = 1.0


class Pastes:
    """Characters from the terminal on their way to the reader of keys; they come in pieces of any size."""

    def __init__(self) -> None:
        self.inside = False
        self.given = 0  # characters of this paste that went on
        self.held = ""  # what may be the beginning of the mark at the end
        self.tail = ""  # the last that went on, in which the mark at the start may have begun
        self.last = 0.0

    def tame(self, data: str, at: float) -> str:
        """The same, with every paste made harmless. `at` in seconds on a steady clock."""
        out = ""
        if self.inside and at - self.last > QUIET_S:
            out, self.inside, self.held = END, False, ""
        self.last = at
        while data:
            taken, data = self._paste(data) if self.inside else self._keys(data)
            out += taken
        return out

    def _keys(self, data: str) -> tuple[str, str]:
        """What is not pasted, and what is left after the start of a paste."""
        text = self.tail + data
        start = text.find(START)
        if start < 0:
            self.tail = text[1 - len(START) :]
            return data, ""
        cut = start + len(START) - len(self.tail)
        self.inside, self.given, self.held, self.tail = True, 0, "", ""
        return data[:cut], data[cut:]

    def _paste(self, data: str) -> tuple[str, str]:
        """What of a paste goes on, and what is left after its end."""
        text = self.held + data
        end = text.find(END)
        if end >= 0:
            self.inside, self.held = False, ""
            return self._harmless(text[:end]) + END, text[end + len(END) :]
        kept = next((size for size in range(len(END) - 1, 0, -1) if text.endswith(END[:size])), 0)
        self.held = text[len(text) - kept :]
        return self._harmless(text[: len(text) - kept]), ""

    def _harmless(self, text: str) -> str:
        text = text[: max(0, MOST - self.given)]
        self.given += len(text)
        return text.replace(ESCAPE, "␛")


def tame_pastes() -> None:
    """From now on in this process whatever reads keys for Textual reads them so."""
    from textual._xterm_parser import XTermParser

    if hasattr(XTermParser, "tamed"):
        return
    feed = XTermParser.feed

    def tamed(self: Any, data: str) -> Iterable[Any]:
        """Nothing at all is the end of what comes, and goes on as it is."""
        if not data:
            return feed(self, data)
        pastes = self.__dict__.setdefault("pastes", Pastes())
        harmless = pastes.tame(data, steady())
        return feed(self, harmless) if harmless else ()

    XTermParser.tamed = True  # type: ignore[attr-defined] # so that it is done once
    XTermParser.feed = tamed  # type: ignore[method-assign] # there is no other way between its bytes and its keys
