"""What YAML makes of a scalar: lines folded, escapes read, the lines of a block text taken in.

Only the rules that the language lets through; an escape that means nothing stays as it is written.
"""

import re

from runner.editor.tree import Scalar

NAMED = {
    "0": "\0", "a": "\a", "b": "\b", "t": "\t", "n": "\n", "v": "\v", "f": "\f", "r": "\r", "e": "\x1b",
    " ": " ", '"': '"', "/": "/", "\\": "\\", "N": "\x85", "_": "\xa0", "L": "\u2028", "P": "\u2029",
}  # fmt: skip
"""Escapes of a double-quoted text: YAML 1.2.2, section 5.7."""

ESCAPE = re.compile(r"\\(?:x([0-9a-fA-F]{2})|u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|(.))", re.DOTALL)
HEADER = re.compile(r"[|>]([-+0-9]*)[^\n]*")


def folded(lines: list[str]) -> str:
    """Lines as one text: one line end is a blank, each empty line between a line end."""
    parts: list[str] = []
    empty = 0
    for line in lines:
        if not line:
            empty += 1
            continue
        if parts:
            parts.append("\n" * empty if empty else " ")
        parts.append(line)
        empty = 0
    return "".join(parts)


def unescaped(inside: str, quote: str) -> str:
    """What stands between quotes, as it is meant."""
    if "\n" in inside:
        inside = folded_inside(inside, quote)
    if quote == "'":
        return inside.replace("''", "'")
    return ESCAPE.sub(meant, inside) if "\\" in inside else inside


def folded_inside(inside: str, quote: str) -> str:
    """The lines of a quoted text folded; a backslash at the end of one joins it to the next without a blank."""
    first, *more = inside.replace("\r\n", "\n").split("\n")
    last = len(more) - 1
    text, empty, joined = first if not more else first.rstrip(" \t"), 0, False
    if quote == '"' and text.endswith("\\") and more:
        text, joined = first[: len(first.rstrip(" \t")) - 1], True
    for number, line in enumerate(more):
        words = line.lstrip(" \t") if number == last else line.strip(" \t")
        if not words and number != last:
            empty += 1
            continue
        text += "\n" * empty if empty else "" if joined else " "
        empty, joined = 0, False
        if quote == '"' and words.endswith("\\") and not words.endswith("\\\\") and number != last:
            words, joined = words[:-1], True
        text += words
    return text


def meant(found: re.Match[str]) -> str:
    """The character of one escape."""
    digits = found.group(1) or found.group(2) or found.group(3)
    if digits:
        code = int(digits, 16)
        return chr(code) if code <= 0x10FFFF else found.group()
    return NAMED.get(found.group(4), found.group())


def in_block(text: str, at: int, floor: int) -> tuple[Scalar, int]:
    """A text that begins with | or >: all lines below that are indented more than `floor`."""
    header = HEADER.match(text, at)
    assert header is not None  # the caller has seen the sign
    line, end = header.end(), at + len(header.group().rstrip())
    lines: list[str] = []
    indent = 0
    while line < len(text):
        stop = text.find("\n", line + 1)
        stop = len(text) if stop < 0 else stop
        written = text[line + 1 : stop].rstrip("\r")
        own = len(written) - len(written.lstrip(" "))
        if written.strip(" \t"):
            indent = indent or own
            if own <= floor or own < indent:
                break
            end = line + 1 + len(written)
        lines.append(written[indent:] if len(written) > indent else "")
        line = stop
    keep = "+" in header.group(1)
    while lines and not lines[-1] and not keep:
        lines.pop()
    value = "\n".join(lines) if text[at] == "|" else folded_block(lines)
    if lines and "-" not in header.group(1):
        value += "\n"
    return Scalar(at, max(end, at + 1), value, text[at]), min(line, len(text))


def folded_block(lines: list[str]) -> str:
    """Lines of a text that begins with >: more indented ones keep their line ends."""
    text, empty, kept = "", 0, False
    for number, line in enumerate(lines):
        if not line:
            empty += 1
            continue
        deeper = line[0] in " \t"
        if number and text:
            if deeper or kept:
                text += "\n" * (empty + 1)
            else:
                text += "\n" * empty if empty else " "
        else:
            text += "\n" * empty
        text, empty, kept = text + line, 0, deeper
    return text + "\n" * empty
