"""YAML text to nodes with places, in one pass over the parser's events.

No value is guessed at and nothing clever is allowed: tags, anchors, aliases, merge keys, directives and a second
document are findings. A fault that leaves the rest readable keeps the root; any other returns none.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

from runner.procedure.clean import UNFIT, picture
from runner.procedure.cut_text import texts_cut_by_comment
from runner.procedure.finding import Finding, Place, Severity
from runner.procedure.nodes import Map, Node, Seq
from runner.procedure.origin import Origin
from runner.procedure.yaml_faults import finding_of

MOST_BYTES = 2_097_152
MOST_LEVELS = 40
MOST = 500
"""So many findings from one file; more tell nothing new."""


class Source(NamedTuple):
    """What a text holds: its top map, if it can be trusted, and what is wrong with it."""

    root: Map | None
    findings: tuple[Finding, ...]


class TooDeepError(Exception):
    """Leaves the builder when maps and lists stand in one another more than MOST_LEVELS deep."""


def read(text: str, path: str) -> Source:
    """The nodes of a text, or the findings that say why there are none."""
    text = plain_lines(text)
    findings = text_findings(text, path)
    if findings:
        return Source(None, tuple(findings))
    found = Found(Origin(path, text), [])
    root = found.document()
    if root is not None and root and found.whole:
        found.findings.extend(texts_cut_by_comment(root))
    return Source(root if found.whole else None, tuple(found.findings))


def decode(data: bytes, path: str) -> str | Finding:
    """The text of a file's bytes, or the finding that they are not UTF-8; a byte order mark is let pass."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        place = Place(path, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
        hint = "Save the file as UTF-8."
        return Finding("not-utf8", Severity.ERROR, f"byte {data[error.start]:#04x} is no UTF-8 text", place, hint)


def plain_lines(text: str) -> str:
    """The text without byte order mark and with line feeds alone as line ends; no place moves by it."""
    text = text.removeprefix("\ufeff")
    return text.replace("\r\n", "\n") if "\r" in text else text


def text_findings(text: str, path: str) -> list[Finding]:
    """What can be said before parsing: too large, characters that do not show."""
    if len(text) > MOST_BYTES or len(text.encode("utf-8", "replace")) > MOST_BYTES:
        hint = "Put parts of it into fragments."
        return [Finding("too-large", Severity.ERROR, "the file is larger than 2 MiB", Place(path, 1, 1), hint)]
    if UNFIT.search(text) is None:
        return []
    findings = []
    for line_number, line in enumerate(text.split("\n"), 1):
        findings += [
            unfit(Place(path, line_number, found.start() + 1), found.group()) for found in UNFIT.finditer(line)
        ]
        if len(findings) >= MOST:
            break
    return findings[:MOST]


def unfit(place: Place, character: str) -> Finding:
    """The finding for a character that does not show."""
    message = f"the character {picture(character)} does not show and may hide or reorder text"
    return Finding("control-character", Severity.ERROR, message, place, "Delete it, or type the text anew.")


def event_source(text: str) -> Callable[[], Any]:
    """A function that gives the next event: from the C parser, or 20 times slower without it."""
    try:
        from _ruamel_yaml import CParser
    except ImportError:
        from ruamel.yaml import YAML

        events = YAML(typ="safe", pure=True).parse(text)
        return lambda: next(events)
    get: Callable[[], Any] = CParser(text).get_event
    return get


class Found:
    """One reading of one file: builds nodes from events and keeps what is wrong."""

    __slots__ = ("findings", "origin", "whole")

    def __init__(self, origin: Origin, findings: list[Finding]) -> None:
        self.origin = origin
        self.findings = findings
        self.whole = True
        """False once the nodes cannot be trusted."""

    def add(self, rule: str, mark: Any, message: str, hint: str = "", torn: bool = False) -> None:
        """Keep a finding at a parser's mark; `torn` says that the nodes cannot be trusted from here."""
        place = Place(self.origin.path, mark.line + 1, mark.column + 1)
        if len(self.findings) < MOST:
            self.findings.append(Finding(rule, Severity.ERROR, message, place, hint))
        if torn:
            self.whole = False

    def document(self) -> Map | None:
        """The top map of the only document."""
        from ruamel.yaml.error import YAMLError

        try:
            return self.top(event_source(self.origin.text))
        except TooDeepError:
            pass
        except YAMLError as error:
            self.findings.append(finding_of(error, self.origin))
        except RecursionError:  # only the parser without C recurses
            self.findings.append(too_deep(Place(self.origin.path, 1, 1)))
        self.whole = False
        return None

    def top(self, get: Callable[[], Any]) -> Map | None:
        """From the first event to the last."""
        from ruamel.yaml.events import DocumentStartEvent, MappingStartEvent, StreamEndEvent

        get()
        start = get()
        if start.__class__ is StreamEndEvent:
            self.no_map("empty-file", "the file is empty", Place(self.origin.path, 1, 1))
            return None
        if start.version or start.tags:
            self.directive()
        event = get()
        if event.__class__ is not MappingStartEvent:
            place = Place(self.origin.path, event.start_mark.line + 1, event.start_mark.column + 1)
            if getattr(event, "value", None) == "":
                self.no_map("empty-file", "the file has no keys", place)
            else:
                self.no_map("no-map", "the file is no map: it begins with keys like `id: change-roll`", place)
            return None
        root = self.build(get, event)
        get()
        after = get()
        if after.__class__ is DocumentStartEvent:
            hint = "Put each into a file of its own."
            self.findings.clear()  # which of the two was meant is not known, so nothing else is told of either
            self.add("second-document", after.start_mark, "a second document begins here", hint, torn=True)
        return root

    def no_map(self, rule: str, message: str, place: Place) -> None:
        """A file without a top map."""
        self.findings.append(Finding(rule, Severity.ERROR, message, place))
        self.whole = False

    def directive(self) -> None:
        """The line that begins with a percent sign."""
        lines = self.origin.text.split("\n")
        number = next((number for number, line in enumerate(lines, 1) if line.startswith("%")), 1)
        place = Place(self.origin.path, number, 1)
        message = "a directive changes how YAML is read and is not allowed"
        self.findings.append(Finding("directive", Severity.ERROR, message, place, "Delete the line."))

    def build(self, get: Callable[[], Any], top: Any) -> Map:  # noqa: PLR0915  closures save look-ups in the hot loop
        """The map that begins with the event `top`, with everything in it."""
        from ruamel.yaml.events import (
            MappingEndEvent,
            MappingStartEvent,
            ScalarEvent,
            SequenceEndEvent,
            SequenceStartEvent,
        )

        origin = self.origin
        unfit_in = UNFIT.search
        bare = not any(sign in origin.text for sign in "&!\\")  # no anchor, tag or escape: nothing to look at

        def scalar(event: Any) -> str:
            if event.anchor is not None or event.ctag is not None:
                self.marked(event)
            value: str = event.value
            if event.style == '"' and unfit_in(value):
                self.unfit_escape(event)
            return value

        def value_of(event: Any, level: int) -> Node:
            kind = event.__class__
            if kind is ScalarEvent:
                return scalar(event)
            if kind is MappingStartEvent:
                return map_of(event, level + 1)
            if kind is SequenceStartEvent:
                return list_of(event, level + 1)
            hint = "Write the text out here."
            self.add("alias", event.start_mark, "`*` refers to an anchor, which is not allowed", hint, torn=True)
            return ""

        def map_of(event: Any, level: int) -> Map:
            node = Map()
            places = node.places = {}
            mark = event.start_mark
            node.at = (mark.line, mark.column)
            node.origin = origin
            if level > MOST_LEVELS:
                self.add("too-deep", mark, TOO_DEEP)
                raise TooDeepError
            if event.anchor is not None or event.ctag is not None:
                self.marked(event)
            while True:
                key_event = get()
                if key_event.__class__ is MappingEndEvent:
                    return node
                key = (key_event.value if bare else scalar(key_event)) if key_event.__class__ is ScalarEvent else ""
                if not key or (key == "<<" and not key_event.style):
                    self.odd_key(key_event, key)
                    if key_event.__class__ is not ScalarEvent:
                        value_of(key_event, level)
                event = get()
                start, value_start = key_event.start_mark, event.start_mark
                if key in node:
                    self.twice(key, start, places[key])
                    value_of(event, level)
                    continue
                places[key] = (start.line, start.column, value_start.line, value_start.column)
                if event.__class__ is ScalarEvent:
                    node[key] = event.value if bare else scalar(event)
                else:
                    node[key] = value_of(event, level)

        def list_of(event: Any, level: int) -> Seq:
            node = Seq()
            places = node.places = []
            mark = event.start_mark
            node.at = (mark.line, mark.column)
            node.origin = origin
            if level > MOST_LEVELS:
                self.add("too-deep", mark, TOO_DEEP)
                raise TooDeepError
            if event.anchor is not None or event.ctag is not None:
                self.marked(event)
            while True:
                event = get()
                if event.__class__ is SequenceEndEvent:
                    return node
                mark = event.start_mark
                places.append((mark.line, mark.column))
                if event.__class__ is ScalarEvent:
                    node.append(event.value if bare else scalar(event))
                else:
                    node.append(value_of(event, level))

        return map_of(top, 1)

    def marked(self, event: Any) -> None:
        """A node with an anchor or a tag."""
        if event.anchor is not None:
            hint = "Delete it; steps used twice belong into a fragment. A text that begins with & is put in quotes."
            self.add("anchor", event.start_mark, f"the anchor `&{shown(event.anchor)}` is not allowed", hint)
        if event.ctag is not None:
            hint = "Delete it. A text that begins with ! is put in quotes."
            self.add("tag", event.start_mark, f"the tag `{shown(str(event.ctag))}` is not allowed", hint)

    def unfit_escape(self, event: Any) -> None:
        """A scalar whose escapes write a character that does not show."""
        character = UNFIT.search(event.value)
        if character is not None:
            self.findings.append(
                unfit(
                    Place(self.origin.path, event.start_mark.line + 1, event.start_mark.column + 1), character.group()
                )
            )

    def odd_key(self, event: Any, key: str) -> None:
        """A merge key, a key that is no text, or none at all."""
        if key:
            self.add(
                "merge-key", event.start_mark, "the merge key `<<` is not allowed", "Write the keys out.", torn=True
            )
        else:
            message = "a key is a word followed by a colon; here stands none"
            self.add(
                "odd-key", event.start_mark, message, "A text that begins with ? or : is put in quotes.", torn=True
            )

    def twice(self, key: str, mark: Any, first: tuple[int, int, int, int]) -> None:
        """A key that its map has already."""
        message = f"`{shown(key)}` is given twice; the first is in line {first[0] + 1}"
        self.add("duplicate-key", mark, message, "Delete one of them.")


TOO_DEEP = f"maps and lists stand in one another more than {MOST_LEVELS} deep"


def too_deep(place: Place) -> Finding:
    """The finding where the parser itself gave up."""
    return Finding("too-deep", Severity.ERROR, TOO_DEEP, place)


def shown(text: str) -> str:
    """A key or mark, short enough for a message."""
    text = " ".join(text.split())
    return text if len(text) <= 60 else text[:57] + "..."
