"""Text to its tree, however broken: what is open when a line begins further out ends there.

The compiler reads YAML exactly and gives up where it is wrong; here somebody is typing, and all but the line at hand is
sound. What both can read they read alike (a test compares them). Work is bounded by the length of the text.
"""

import re
from functools import lru_cache

from runner.editor.scalars import folded, in_block, unescaped
from runner.editor.tree import Entries, Pair, Pairs, Scalar, Tree

DEEPEST = 60
"""Levels; what stands deeper is taken for one text. The compiler refuses more than 40."""

BLANK = " \t\r"
CONTENT = re.compile(r"[^ \t\r\n]")
LINE_END = re.compile(r"\n|\Z")
KEY_END = re.compile(r":(?=[ \t\r\n]|\Z)|(?<=[ \t])#|\n")
"""Where a plain key ends: at its colon; at a remark or the line's end it was none."""
PLAIN_LINE = re.compile(r"(?:[^\n#]|(?<![ \t])#)*")
PLAIN_FLOW = re.compile(r"(?:[^\n#,\[\]{}:]|(?<![ \t])#|:(?![ \t\r\n,\[\]{}]|\Z))*")
SINGLE = re.compile(r"'(?:[^']|'')*'")
DOUBLE = re.compile(r'"(?:[^"\\]|\\.)*"', re.DOTALL)
AHEAD = re.compile(r"-(?:[ \t\r\n]|\Z)|[^\s\"'\[\]{}#,][^\n\"'\[\]{}#,]*:(?:[ \t\r\n]|\Z)")
"""How a line begins that can only be an entry or a key of a block."""


@lru_cache(maxsize=16)
def outline(text: str) -> Tree | None:
    """The tree of a text; None where it holds nothing."""
    reader = Reader(text)
    at = reader.content(1 if text.startswith("\ufeff") else 0)
    if at >= len(text):
        return None
    node, _ = reader.block(at, -1, 0)
    return node


class Reader:
    """One reading of one text. Every function takes an offset and gives what it found and the offset behind it."""

    __slots__ = ("text",)

    def __init__(self, text: str) -> None:
        self.text = text

    def column(self, at: int) -> int:
        """Characters before an offset in its line."""
        start = self.text.rfind("\n", 0, at) + 1
        return at - start - (start == 0 and self.text.startswith("\ufeff"))

    def content(self, at: int) -> int:
        """The next character that is neither blank nor remark nor mark of a document."""
        while (found := CONTENT.search(self.text, at)) is not None:
            at = found.start()
            fresh = self.column(at) == 0
            mark = fresh and (self.text.startswith(("---", "..."), at) or self.text[at] == "%")
            if self.text[at] != "#" and not mark:
                return at
            at = self.line_end(at)
        return len(self.text)

    def line_end(self, at: int) -> int:
        """The offset of the line feed that ends the line, or of the end of the text."""
        found = self.text.find("\n", at)
        return len(self.text) if found < 0 else found

    def after_blanks(self, at: int) -> int:
        """Past blanks on the line."""
        while at < len(self.text) and self.text[at] in BLANK:
            at += 1
        return at

    def ends(self, at: int) -> bool:
        """Whether nothing but a remark follows on the line."""
        at = self.after_blanks(at)
        return at >= len(self.text) or self.text[at] in "\n#"

    def is_dash(self, at: int) -> bool:
        """Whether an entry of a block list begins here."""
        return self.text[at : at + 1] == "-" and self.text[at + 1 : at + 2] in ("", " ", "\t", "\r", "\n")

    def block(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """The node that begins here; it goes on in lines indented more than `floor`. The offset behind is content."""
        if depth > DEEPEST:
            return self.rest(at, floor)
        if self.is_dash(at):
            return self.block_list(at, floor, depth)
        if self.key(at) is not None:
            return self.block_map(at, floor, depth)
        return self.inline(at, floor, depth)

    def rest(self, at: int, floor: int) -> tuple[Tree, int]:
        """Everything that belongs here as one text."""
        end = self.line_end(at)
        after = self.content(end)
        while after < len(self.text) and self.column(after) > floor:
            end = self.line_end(after)
            after = self.content(end)
        return Scalar(at, end, self.text[at:end].strip()), after

    def key(self, at: int) -> tuple[Scalar, int] | None:
        """The key that begins here with the offset of its colon; None where no key does."""
        sign = self.text[at : at + 1]
        if sign in ("'", '"'):
            quoted = (SINGLE if sign == "'" else DOUBLE).match(self.text, at)
            if quoted is None or "\n" in quoted.group():
                return None
            colon = self.after_blanks(quoted.end())
            after = self.text[colon + 1 : colon + 2]
            if self.text[colon : colon + 1] != ":" or after not in ("", " ", "\t", "\r", "\n"):
                return None
            return Scalar(at, quoted.end(), unescaped(quoted.group()[1:-1], sign), sign), colon
        if not sign or sign in "[]{}#|>\n" or self.is_dash(at):
            return None
        found = KEY_END.search(self.text, at)
        if found is None or found.group() != ":":
            return None
        key = self.text[at : found.start()].rstrip()
        return Scalar(at, at + len(key), key), found.start()

    def block_map(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """Pairs whose keys stand in one column. A line that is no key yet counts as a key without a colon."""
        start, column, pairs, end = at, self.column(at), list[Pair](), at
        while at < len(self.text) and self.column(at) == column and not self.is_dash(at):
            found = self.key(at)
            if found is None:
                key, after = self.plain_line(at)
                pair, at, end = Pair(key, None, -1), self.content(after), key.end
            else:
                key, colon = found
                value, at, end = self.value(colon + 1, column, depth, beside=True)
                pair = Pair(key, value, colon)
            pairs.append(pair)
            at = self.past_strays(at, column)
        return Pairs(start, max(end, start), tuple(pairs), braces=False), self.past_strays(at, floor, column)

    def past_strays(self, at: int, column: int, most: int | None = None) -> int:
        """Past lines that are indented more than `column` (and less than `most`) and belong to nothing."""
        while at < len(self.text) and column < self.column(at) and (most is None or self.column(at) < most):
            if most is not None and (self.is_dash(at) or self.key(at) is not None):
                return at
            at = self.content(self.line_end(at))
        return at

    def block_list(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """Entries whose dashes stand in one column."""
        start, column, entries, end = at, self.column(at), list[Tree | None](), at
        while at < len(self.text) and self.column(at) == column and self.is_dash(at):
            value, at, end = self.value(at + 1, column, depth, beside=False)
            entries.append(value)
            at = self.past_strays(at, column)
        return Entries(start, max(end, start + 1), tuple(entries), brackets=False), self.past_strays(at, floor, column)

    def value(self, at: int, column: int, depth: int, *, beside: bool) -> tuple[Tree | None, int, int]:
        """What stands behind a colon or a dash: the node, the next content, the node's end.

        `beside`: after a key, where a list may begin in the key's own column and a key on the same line is none.
        """
        here = self.after_blanks(at)
        if not self.ends(at):
            node, after = self.inline(here, column, depth + 1) if beside else self.block(here, column, depth + 1)
            return node, after, node.end
        below = self.content(self.line_end(here))
        inside = below < len(self.text) and self.column(below) > column
        if inside or (beside and below < len(self.text) and self.column(below) == column and self.is_dash(below)):
            node, after = self.block(below, column if inside else column - 1, depth + 1)
            return node, after, node.end
        return None, below, at

    def inline(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """A scalar, or a map or list in braces or brackets."""
        sign = self.text[at]
        node: Tree
        if sign in "{[" and depth <= DEEPEST:
            node, end = self.flow(at, floor, depth)
        elif sign in "'\"":
            node, end = self.quoted(at, floor)
        elif sign in "|>":
            node, end = in_block(self.text, at, floor)
        else:
            node, end = self.plain(at, floor)
        return node, self.content(end if self.ends(end) else self.line_end(end))

    def plain_line(self, at: int) -> tuple[Scalar, int]:
        """The plain text of one line."""
        found = PLAIN_LINE.match(self.text, at)
        end = found.end() if found else self.line_end(at)
        value = self.text[at:end].rstrip()
        return Scalar(at, at + len(value), value), end

    def plain(self, at: int, floor: int, *, flow: bool = False) -> tuple[Scalar, int]:
        """A plain text, over as many lines as are indented more than `floor`."""
        form = PLAIN_FLOW if flow else PLAIN_LINE
        lines, end, here, last = list[str](), at, at, at
        while True:
            found = form.match(self.text, here)
            last = found.end() if found else here
            line = self.text[here:last].rstrip()
            lines.append(line)
            end = here + len(line) if line else end
            if self.text[last : last + 1] not in ("\n", ""):
                break
            below = CONTENT.search(self.text, last)
            if below is None or self.text[below.start()] == "#" or self.column(below.start()) <= floor:
                break
            if self.text[below.start()] in ",[]{}" if flow else self.key(below.start()) is not None:
                break
            if flow and AHEAD.match(self.text, below.start()):
                break
            lines += [""] * (self.text.count("\n", last, below.start()) - 1)
            here = below.start()
        return Scalar(at, end, folded(lines)), last

    def quoted(self, at: int, floor: int) -> tuple[Scalar, int]:
        """A text in quotes; one that is not closed ends with its line."""
        sign = self.text[at]
        found = (SINGLE if sign == "'" else DOUBLE).match(self.text, at)
        if found is None or self.left(at, found.end(), floor):
            end = self.line_end(at)
            end = at + len(self.text[at:end].rstrip())
            return Scalar(at, end, unescaped(self.text[at + 1 : end], sign), sign), end
        return Scalar(at, found.end(), unescaped(found.group()[1:-1], sign), sign), found.end()

    def left(self, at: int, end: int, floor: int) -> bool:
        """Whether a line between two offsets begins a key or an entry no deeper than `floor`: what is open ended before."""
        line = self.text.find("\n", at, end)
        while line >= 0:
            found = CONTENT.search(self.text, line)
            if found is None or found.start() >= end:
                return False
            if self.column(found.start()) <= floor and AHEAD.match(self.text, found.start()):
                return True
            line = self.text.find("\n", found.start(), end)
        return False

    def flow(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """A map in braces or a list in brackets; one that is not closed ends where a line begins further out."""
        if depth > DEEPEST:
            return self.plain_line(at)
        start, braces = at, self.text[at] == "{"
        pairs, entries = list[Pair](), list[Tree | None]()
        at, end = at + 1, at + 1
        while True:
            here = self.flow_content(at, floor)
            if here is None or self.text[here] in ("]" if braces else "}"):
                break
            if self.text[here] in "}]":
                end = at = here + 1
                break
            if self.text[here] == ",":
                at = end = here + 1
            elif braces:
                pair, at = self.flow_pair(here, floor, depth)
                pairs.append(pair)
                end = at
            else:
                entry, at = self.flow_entry(here, floor, depth)
                entries.append(entry)
                end = at
        end = max(end, start + 1)
        if braces:
            return Pairs(start, end, tuple(pairs), braces=True), end
        return Entries(start, end, tuple(entries), brackets=True), end

    def flow_content(self, at: int, floor: int) -> int | None:
        """The next content inside braces or brackets; None where a line ends what is open, or the text does."""
        here = at
        while (found := CONTENT.search(self.text, here)) is not None:
            line = self.text.find("\n", at, found.start()) >= 0
            if self.text[found.start()] == "#" and (line or found.start() > at):
                here = self.line_end(found.start())
                continue
            out = line and self.column(found.start()) <= floor and self.text[found.start()] not in "]}"
            return None if out and AHEAD.match(self.text, found.start()) else found.start()
        return None

    def flow_node(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """One value inside braces or brackets; at least one character is passed."""
        sign = self.text[at]
        if sign in "{[":
            return self.flow(at, floor, depth + 1)
        if sign in "'\"":
            return self.quoted(at, floor)
        node, end = self.plain(at, floor, flow=True)
        if end == at:
            return Scalar(at, at + 1, sign), at + 1
        return node, end

    def flow_entry(self, at: int, floor: int, depth: int) -> tuple[Tree, int]:
        """One entry inside brackets: a value, or a pair without braces."""
        pair, end = self.flow_pair(at, floor, depth)
        if pair.colon >= 0:
            return Pairs(at, end, (pair,), braces=True), end
        return (pair.value or pair.key), end

    def flow_pair(self, at: int, floor: int, depth: int) -> tuple[Pair, int]:
        """One pair inside braces."""
        key, after = self.flow_node(at, floor, depth)
        if not isinstance(key, Scalar):
            return Pair(Scalar(at, key.end, ""), key, -1), after
        colon = self.after_blanks(after)
        if self.text[colon : colon + 1] != ":":
            return Pair(key, None, -1), after
        here = self.flow_content(colon + 1, floor)
        if here is None or self.text[here] in ",}]":
            return Pair(key, None, colon), colon + 1
        value, end = self.flow_node(here, floor, depth)
        return Pair(key, value, colon), end
