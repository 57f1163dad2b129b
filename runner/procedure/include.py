"""Steps of fragments put in where a procedure uses them.

Text comes through the function `fetch` that is passed in, so nothing here touches a disk. A path stays in the folder
of the file that uses it; circles and depth are bounded; findings inside a fragment are placed in its file.
"""

import re
from collections.abc import Callable, Mapping, Sequence

from runner.procedure.desk import Desk, near, one_line
from runner.procedure.finding import Finding, Place, Severity
from runner.procedure.language.files import FRAGMENT
from runner.procedure.nodes import Map, Node, Seq, key_place
from runner.procedure.origin import Origin
from runner.procedure.source import plain_lines, read
from runner.procedure.spots import spot_at

Fetch = Callable[[str], str | None]

DEEPEST = 5
MOST_STEPS = 10_000
SHOWN_USES = 3
"""So many of the lines that use a fragment are named."""
MOST_TEXT = 8_000_000
ENDED = 1_000_000_000
"""More steps than can be counted: nothing more is brought in."""
PARAMETER = re.compile("<([a-z][a-z0-9_]*)>")


class Folder:
    """The fragments that one procedure brings in."""

    __slots__ = ("base", "brought", "count", "desk", "fetch", "roots", "searched", "text", "texts")

    def __init__(self, path: str, fetch: Fetch, desk: Desk) -> None:
        cut = max(path.rfind("/"), path.rfind("\\")) + 1
        self.base = path[:cut]
        self.fetch = fetch
        self.desk = desk
        self.brought = Place(path, 1, 1)
        """The line of the procedure that brings in what is being read."""
        self.texts: dict[str, str] = {}
        """By path relative to the procedure's folder, in the order in which they were met."""
        self.roots: dict[str, Map | None] = {}
        self.count = 0
        self.text = 0
        self.searched: set[str] = set()

    def steps(self, entries: Seq, within: tuple[str, ...] = ()) -> list[Map]:
        """The steps of a list, with those of its fragments in their places. `within` are the fragments around it."""
        found: list[Map] = []
        for entry in entries:
            if "use" in entry:
                found += self.used(entry, within)
            else:
                found.append(entry)
                self.count += len(within) > 0
        return found

    def used(self, entry: Map, within: tuple[str, ...]) -> list[Map]:
        """The steps that one use brings."""
        folder = within[-1].rpartition("/")[0] if within else ""
        path = self.path_of(entry, folder)
        if path is None:
            return []
        if not within:
            self.brought = key_place(entry, "use")
        places = self.desk.used_at.setdefault(self.base + path, [])
        if self.brought not in places[-1:]:
            places.append(self.brought)
        if path in within:
            way = " -> ".join((*within[within.index(path) :], path))
            self.desk.at_value("fragment-circle", f"the fragment uses itself: {way}", entry, "use")
            return []
        if len(within) >= DEEPEST:
            self.desk.at_value("fragment-too-deep", f"fragments use fragments more than {DEEPEST} deep", entry, "use")
            return []
        self.text += len(self.texts.get(path, ""))
        if self.text > MOST_TEXT or self.count > MOST_STEPS:
            return self.too_much(entry)
        root = self.root(path, entry)
        if root is None:
            self.desk.partial = True
            return []
        filled = self.filled(root, entry)
        if filled is None:
            self.desk.partial = True
            return []
        steps = self.steps(filled["steps"], (*within, path))
        return steps if self.count <= MOST_STEPS else self.too_much(entry)

    def too_much(self, entry: Map) -> list[Map]:
        """Nothing more is brought in, and one finding says so."""
        if self.count < ENDED:
            message = f"the fragments bring more than {MOST_STEPS} steps, or {MOST_TEXT} characters"
            self.desk.at_value("fragment-too-deep", message, entry, "use")
        self.count = ENDED
        self.desk.partial = True
        return []

    def path_of(self, entry: Map, folder: str) -> str | None:
        """The path relative to the procedure's folder, or a finding."""
        written = entry["use"].strip()
        parts = [part for part in written.split("/") if part != "."]
        fault = ""
        if "\\" in written:
            fault = "a path has forward slashes"
        elif written.startswith(("/", "~")) or ":" in written:
            fault = "a path is relative to the file that uses it"
        elif ".." in parts or "" in parts:
            fault = "a path stays in the folder of the file that uses it"
        elif not written.endswith(".fragment.yaml") or len(written) > 200:
            fault = "a fragment's file name ends in `.fragment.yaml`"
        if fault:
            self.desk.at_value("fragment-path", fault, entry, "use")
            return None
        return f"{folder}/{'/'.join(parts)}" if folder else "/".join(parts)

    def root(self, path: str, entry: Map) -> Map | None:
        """The fragment's top map, read once."""
        if path in self.roots:
            return self.roots[path]
        text = self.fetch(self.base + path)
        if text is None:
            self.desk.at_value(
                "fragment-missing",
                f"there is no file `{path}`",
                entry,
                "use",
                "Paths are relative to the file that uses them.",
            )
            self.roots[path] = None
            return None
        self.texts[path] = plain_lines(text)
        source = read(text, self.base + path)
        self.desk.findings.extend(source.findings)
        root = source.root
        if root is not None and "fragment" not in root:
            message = f"`{path}` is no fragment: it does not begin with `fragment: 1`"
            self.desk.at_value("not-a-fragment", message, entry, "use")
            root = None
        self.roots[path] = root
        return root

    def filled(self, root: Map, entry: Map) -> Map | None:
        """The fragment with its parameters put in and its shape checked."""
        from runner.procedure.sound import sound

        given_node: Map | dict[str, str] = entry.get("with", {})
        given = {name: one_line(text) for name, text in given_node.items()}
        listed = root.get("parameters", ())
        known = tuple(name.strip() for name in listed if isinstance(name, str)) if isinstance(listed, Seq) else ()
        for name in given:
            if name not in known and isinstance(given_node, Map):
                message = f"the fragment has no parameter `{name}`"
                self.desk.at_key("parameter-unknown", message, given_node, name, near(name, known))
        missing = [name for name in known if name not in given]
        if missing:
            names = " and ".join(f"`{name}`" for name in missing)
            self.desk.at_value(
                "parameter-missing", f"the fragment needs {names}", entry, "use", "Give it under `with`."
            )
            return None
        if root.origin.path not in self.searched:
            self.searched.add(root.origin.path)
            self.desk.findings.extend(unknown_parameters(root, known))
        filled = put_in(root, given, Origin(root.origin.path, root.origin.text, given), self.desk)
        assert isinstance(filled, Map)  # a map stays one
        return sound(filled, FRAGMENT, self.desk)


def with_use(finding: Finding, used_at: Mapping[str, Sequence[Place]]) -> Finding:
    """A finding inside a fragment with the lines of the procedure that bring the fragment in; any other as it is."""
    places = used_at.get(finding.place.path, ())
    if not places:
        return finding
    more = f" and {len(places) - SHOWN_USES} more" if len(places) > SHOWN_USES else ""
    lines = ", ".join(f"{place.path}:{place.line}" for place in places[:SHOWN_USES])
    return finding._replace(hint=f"{finding.hint} Used at {lines}{more}.".strip())


def put_in(node: Node, given: dict[str, str], origin: Origin, desk: Desk) -> Node:
    """A copy of a node with `<name>` replaced in every text and key. Places stay those of the file."""
    if isinstance(node, str):
        return replaced(node, given)
    if isinstance(node, Seq):
        copied = Seq(put_in(entry, given, origin, desk) for entry in node)
        copied.at, copied.origin, copied.places = node.at, origin, node.places
        return copied
    result = Map()
    result.at, result.origin, result.places = node.at, origin, {}
    for key, value in node.items():
        new = replaced(key, given)
        if new in result:
            desk.at_key("duplicate-key", f"`{new}` is given twice once the parameters are put in", node, key)
            continue
        result[new] = put_in(value, given, origin, desk)
        result.places[new] = node.places[key]
    return result


def replaced(text: str, given: dict[str, str]) -> str:
    """A text with `<name>` replaced where the name is given."""
    if "<" not in text:
        return text
    return PARAMETER.sub(lambda found: given.get(found.group(1), found.group()), text)


def unknown_parameters(root: Map, known: tuple[str, ...]) -> list[Finding]:
    """A finding for each `<name>` of the text that no parameter is called."""
    findings = []
    text = root.origin.text
    for found in PARAMETER.finditer(text):
        line, column = spot_at(text, found.start())
        before = text[text.rfind("\n", 0, found.start()) + 1 : found.start()]
        if found.group(1) not in known and not before.lstrip().startswith("#") and " # " not in before:
            hint = near(found.group(1), known)
            message = f"the fragment has no parameter `{found.group(1)}`"
            findings.append(
                Finding(
                    "parameter-unknown", Severity.ERROR, message, Place(root.origin.path, line + 1, column + 1), hint
                )
            )
    return findings
