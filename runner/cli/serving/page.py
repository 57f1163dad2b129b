"""The page that a browser shows: a terminal, and a row of keys for a tablet that has none. Nothing comes from elsewhere.

The keys are those of the one table of keys. The script of the terminal is textual-serve's.
"""

from html import escape

from runner.say.text import mark, say, speaker
from runner.screen.keys import KEYS

CODES = {"enter": 13, "tab": 9, "escape": 27, "up": 38, "down": 40, "pageup": 33, "pagedown": 34}
"""The codes by which the terminal in the page knows a key, those of the function keys apart (F1 is 112)."""
NAMES = {"enter": "Enter", "tab": "Tab", "escape": "Escape", "up": "ArrowUp", "down": "ArrowDown",
         "pageup": "PageUp", "pagedown": "PageDown"}  # fmt: skip
"""As browsers name them."""

STYLE = """
@font-face { font-family: "Roboto Mono"; src: url("/static/fonts/RobotoMono-VariableFont_wght.ttf"); }
html, body { margin: 0; height: 100%; background: #101010; color: #e8e8e8; font: 18px monospace; }
body { display: flex; flex-direction: column; }
#terminal { flex: 1; min-height: 0; overflow: hidden; }
nav { display: flex; flex-wrap: wrap; gap: 6px; padding: 6px; }
nav button { flex: 1; min-width: 84px; min-height: 48px; padding: 2px; font: inherit; color: inherit; background: #303030; border: 1px solid #808080; }
nav small { display: block; font: 11px sans-serif; white-space: nowrap; }
#ended { display: none; padding: 24px; }
body.-closed #ended { display: block; }
body.-closed #terminal, body.-closed nav { display: none; }
a { color: inherit; }
"""

SCRIPT = """
"use strict";
window.addEventListener("load", () => {
  const field = () => document.querySelector("#terminal textarea");
  for (const button of document.querySelectorAll("nav button")) {
    button.addEventListener("pointerdown", (event) => event.preventDefault());
    button.addEventListener("click", () => {
      const code = Number(button.dataset.code);
      const down = { key: button.dataset.key, keyCode: code, which: code, bubbles: true, cancelable: true };
      field().dispatchEvent(new KeyboardEvent("keydown", down));
      field().focus();
    });
  }
  document.querySelector("#terminal").addEventListener("click", () => field().focus());
  setTimeout(() => field() && field().focus(), 300);
});
"""

ENDED = mark("This session has ended. What was accepted is on record; an unfinished run can be resumed.")


def page(title: str, socket: str) -> str:
    """The page; `socket` is the address of the terminal's socket."""
    buttons = "".join(
        f'<button type="button" data-key="{_name(key.key)}" data-code="{_code(key.key)}" '
        f'aria-label="{escape(say(key.help))}">{escape(key.cap)}'
        f"<small>{escape(say(key.short or key.label))}</small></button>"
        for key in KEYS
    )
    now = speaker()
    language = now.name if now is not None else "en"
    return f"""<!DOCTYPE html>
<html lang="{escape(language)}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/static/css/xterm.css">
<link rel="stylesheet" href="/page.css">
<script src="/static/js/textual.js"></script>
<script src="/page.js"></script>
</head>
<body>
<div id="terminal" class="textual-terminal" data-session-websocket-url="{escape(socket)}" data-font-size="16"></div>
<nav>{buttons}</nav>
<div id="ended"><p>{escape(say(ENDED))}</p><p><a href="/">{escape(say("Open it again"))}</a></p></div>
</body>
</html>
"""


def _name(key: str) -> str:
    return NAMES.get(key) or key.upper()


def _code(key: str) -> int:
    return CODES.get(key) or 111 + int(key[1:])
