"""What the YAML parser complains of, in the words of somebody who writes procedures.

The parser says where it gave up; the author needs the place where it went wrong. A bracket or quote that is not
closed is reported where it opens, a text that YAML takes for something else with the repair: quote it.
"""

import re
from typing import Any

from runner.procedure.cut_text import TOUCHING
from runner.procedure.finding import Finding, Place, Severity
from runner.procedure.origin import Origin

VALUE = re.compile(r"\s*(?:- +)*(?:[^\s#:'\"{\[][^:]*: +|- +)(?=([{\[\"']))")
"""A line whose value begins with a bracket or a quote."""

BRACKETS = re.compile(r"""(?<=[\s,:\[{])(?:"(?:[^"\\]|\\.)*"|'[^']*')|\s#.*|[\[\]{}]""")
"""Braces and brackets, passing over what stands in quotes and in remarks."""

QUOTES = ("'", '"')
IN_QUOTES = "Put the whole value in quotes."


def finding_of(error: Any, origin: Origin) -> Finding:
    """The finding for an error of the YAML parser."""
    problem = str(getattr(error, "problem", "") or getattr(error, "reason", "") or error)
    context = str(getattr(error, "context", "") or "")
    mark = getattr(error, "problem_mark", None)
    opening = getattr(error, "context_mark", None)
    lines = origin.text.split("\n")
    here = inside(spot(mark), lines) if mark is not None else (0, 0)
    began = inside(spot(opening), lines) if opening is not None else here
    rule, message, where, hint = worded(problem, context, here, began, lines)
    return Finding(rule, Severity.ERROR, message, Place(origin.path, where[0] + 1, where[1] + 1), hint)


Spot = tuple[int, int]
Worded = tuple[str, str, Spot, str]


def spot(mark: Any) -> Spot:
    """Line and column of a mark, from 0."""
    return (mark.line, mark.column)


def inside(where: Spot, lines: list[str]) -> Spot:
    """The spot, or the last one of the text where the parser gave up behind its end."""
    line = min(where[0], len(lines) - 1)
    return (line, min(where[1], len(lines[line])) if line == where[0] else len(lines[line]))


def character(lines: list[str], where: Spot) -> str:
    """What stands at a spot; nothing at the end of a line or of the file."""
    return lines[where[0]][where[1] : where[1] + 1] if where[0] < len(lines) else ""


def worded(problem: str, context: str, here: Spot, began: Spot, lines: list[str]) -> Worded:
    """Rule, message, place and hint."""
    if "quoted scalar" in context:
        return in_quoted(problem, here, began)
    if "directive" in problem or "directive" in context or "incompatible YAML" in problem:
        return ("directive", "a directive changes how YAML is read and is not allowed", here, "Delete the line.")
    if "tag" in context or "tag handle" in problem:
        return ("tag", "`!` begins a tag, which is not allowed", began, "A text that begins with ! is put in quotes.")
    if "alias" in context or "anchor" in context:
        sign = "*" if "alias" in context else "&"
        return ("needs-quotes", f"a value cannot begin with `{sign}`", began, IN_QUOTES)
    if "cannot start any token" in problem or "tab" in problem:
        return bad_start(here, lines)
    if "block scalar" in context:
        return in_block_scalar(problem, here, began)
    if "plain scalar" in context:
        message = "within braces and brackets, a value that holds a colon must stand in quotes"
        return ("needs-quotes", message, here, IN_QUOTES)
    if "flow" in context:
        return in_flow(context, here, began, lines)
    if "mapping values are not allowed" in problem:
        return stray_colon(here, lines)
    return in_block(problem, here, began, lines)


def in_quoted(problem: str, here: Spot, began: Spot) -> Worded:
    """Inside quotes."""
    if "escape" in problem or "Unicode" in problem or "hexadecimal" in problem:
        hint = "Write \\\\ for a backslash, or use single quotes."
        return ("yaml-syntax", "this backslash means nothing here", here, hint)
    return ("yaml-syntax", "the quote that opens here is not closed", began, "Close it with the same quote.")


def bad_start(here: Spot, lines: list[str]) -> Worded:
    """A character that nothing begins with."""
    sign = character(lines, here)
    if sign == "\t" or (here[0] < len(lines) and "\t" in lines[here[0]][: here[1] + 1]):
        return ("tab", "a tab does not indent", here, "Indent with blanks.")
    return ("needs-quotes", f"a value cannot begin with `{sign}`", here, IN_QUOTES)


def in_block_scalar(problem: str, here: Spot, began: Spot) -> Worded:
    """After a > or |, which begin a text of several lines."""
    if "tab" in problem:
        return ("tab", "a tab does not indent", here, "Indent with blanks.")
    if "comment or line break" in problem:
        return ("needs-quotes", "a value that begins with `>` or `|` must stand in quotes", began, IN_QUOTES)
    return ("yaml-syntax", "the lines of this text are not indented alike", here, "Indent them by the same blanks.")


def in_flow(context: str, here: Spot, began: Spot, lines: list[str]) -> Worded:
    """Inside braces or brackets."""
    if "flow node" in context:
        began = last_opened(here, lines)
    sign = character(lines, here)
    if sign == "?" and character(lines, (here[0], here[1] - 1)) not in QUOTES:
        message = "within braces and brackets, a value that holds a ? must stand in quotes"
        return ("needs-quotes", message, here, IN_QUOTES)
    if here[0] == began[0] and sign in ("[", "{", "]", "}"):
        message = "within braces and brackets, a value that holds [ ] { } or , must stand in quotes"
        return ("needs-quotes", message, here, IN_QUOTES)
    if here[0] == began[0] and sign == ":":
        message = "within braces and brackets, a value that holds a colon must stand in quotes"
        return ("needs-quotes", message, here, IN_QUOTES)
    cut = cut_by_comment(began, here, lines)
    if cut is not None:
        message = "what follows this `#` is taken as a comment, so the text and the bracket before it have no end"
        return ("needs-quotes", message, cut, IN_QUOTES)
    opening = character(lines, began) or "{"
    close = {"[": "]", "{": "}"}.get(opening, "}")
    if here[0] == began[0] and sign and sign != "#":
        message = f"a comma or `{close}` is missing here"
        return ("yaml-syntax", message, here, "Text after a closing quote belongs into the quotes.")
    return ("yaml-syntax", f"the `{opening}` that opens here is not closed", began, f"Close it with {close}.")


def cut_by_comment(began: Spot, here: Spot, lines: list[str]) -> Spot | None:
    """Where a `#` that touches the next character cuts a line between two spots; a remark has a blank after it."""
    for number in range(began[0], min(here[0], began[0] + 20) + 1):
        first = began[1] if number == began[0] else 0
        for found in BRACKETS.finditer(lines[number], first):
            if found.group().strip().startswith("#"):
                spot = found.end() - len(found.group().lstrip())
                if TOUCHING.match(lines[number], spot):
                    return (number, spot)
    return None


def last_opened(here: Spot, lines: list[str]) -> Spot:
    """The last brace or bracket before a spot that is not closed before it; the spot itself where there is none."""
    first = max(0, here[0] - 20)
    opened: list[Spot] = []
    for number in range(first, here[0] + 1):
        line = lines[number] if number < here[0] else lines[number][: here[1]]
        for found in BRACKETS.finditer(line):
            if found.group() in ("{", "["):
                opened.append((number, found.start()))
            elif found.group() in ("}", "]") and opened:
                opened.pop()
    return opened[-1] if opened else here


def stray_colon(here: Spot, lines: list[str]) -> Worded:
    """A colon where no key can be."""
    before = lines[here[0]][: here[1]] if here[0] < len(lines) else ""
    if re.search(r":\s", before):
        return ("needs-quotes", "a value that holds a colon and a blank must stand in quotes", here, IN_QUOTES)
    message = "this key stands deeper than the keys of its map, or the value above it should be in quotes"
    return ("yaml-syntax", message, first_of_line(here, lines), "Keys of one map begin in the same column.")


def first_of_line(here: Spot, lines: list[str]) -> Spot:
    """The first character of a line that is no blank."""
    line = lines[here[0]] if here[0] < len(lines) else ""
    return (here[0], len(line) - len(line.lstrip()))


def in_block(problem: str, here: Spot, began: Spot, lines: list[str]) -> Worded:
    """Keys and dashes by indentation."""
    line = lines[here[0]] if here[0] < len(lines) else ""
    value = VALUE.match(line)
    if value is not None and value.end() < here[1]:
        sign = value.group(1)
        message = f"a value that begins with `{sign}` and goes on after its end must stand in quotes"
        return ("needs-quotes", message, (here[0], value.end()), IN_QUOTES)
    if "block sequence entries" in problem:
        return ("yaml-syntax", "a list begins on a line of its own", here, "Put the dash on the next line, indented.")
    if "could not find expected ':'" in problem:
        return (
            "yaml-syntax",
            "a key is expected here, and it has no colon",
            began,
            "Is it the rest of the text above? Indent it.",
        )
    if "expected key" in problem or "'-' indicator" in problem:
        what = "dashes of one list" if "'-'" in problem else "keys of one map"
        message = f"this line does not fit in: the {what} begin in the same column (it began in line {began[0] + 1})"
        return ("yaml-syntax", message, here, "Mend the indentation of this line or of the line above.")
    return ("yaml-syntax", f"this is no YAML: {problem}", here, "")
