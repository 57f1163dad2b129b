"""Answers files: a run played without a person, entry after entry.

Entries are used in order for each step id; who plays them decides what to do at a step without one.
"""

from typing import NamedTuple

from runner.procedure.desk import Desk, one_line
from runner.procedure.finding import Finding, Place, in_order
from runner.procedure.job import Given, givens
from runner.procedure.language.files import ANSWERS
from runner.procedure.nodes import Map, Seq, key_place, node_place, value_place
from runner.procedure.parts.head import text
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import read

MAY_HAVE: dict[str, tuple[str, ...]] = {
    "note": ("kind", "severity"),
    "pause": (),
    "resume": (),
    "make_safe": (),
    "look": (),
    "go_back": ("reason",),
    "abandon": (),
    "close": ("words",),
    "correct": ("typed", "reason"),
    "hand_over": ("to", "read_back"),
    "release": (),
}
"""What stands beside each act."""

MUST_HAVE: dict[str, tuple[str, ...]] = {
    "go_back": ("reason",),
    "correct": ("typed", "reason"),
    "hand_over": ("to", "read_back"),
}


class Act(NamedTuple):
    """Something that a person does besides the step."""

    act: str
    """note, pause, resume, make_safe, look, go_back, abandon, close, correct, hand_over or release."""
    words: str
    """The text under that key; empty for look and release."""
    beside: tuple[tuple[str, str], ...]
    """What stands beside it: kind, severity, reason, words, typed, to, read_back; for look (state, value); for release `by`."""
    confirm: tuple[str, ...] | None
    """What a releaser confirms; None: all of it."""
    place: Place

    def given(self, key: str, otherwise: str = "") -> str:
        """What stands beside the act under a key."""
        return dict(self.beside).get(key, otherwise)


class Entry(NamedTuple):
    """What happens at one attempt of one step."""

    step: str
    answers: tuple[tuple[str, tuple[str, ...]], ...]
    """(ask, what is typed one after the other)."""
    second: tuple[tuple[str, tuple[str, ...]], ...]
    """The same of the second person; empty: as the first."""
    trouble: str
    leave_out: str
    before: tuple[Act, ...]
    after: tuple[Act, ...]
    place: Place


class Answers(NamedTuple):
    """A whole file."""

    procedure: str
    crew: tuple[Given, ...]
    inputs: tuple[Given, ...]
    unlisted: str
    """done or refuse."""
    entries: tuple[Entry, ...]
    place: Place
    """Where it names the procedure."""


class ReadAnswers(NamedTuple):
    """The answers, or the findings that say why there are none."""

    answers: Answers | None
    findings: tuple[Finding, ...]


def read_answers(written: str, path: str) -> ReadAnswers:
    """The answers that a text writes."""
    desk = Desk()
    source = read(written, path)
    desk.findings.extend(source.findings)
    root = source.root
    answers = None
    if root is not None and not wrong_file(root, "answers", desk):
        root = sound(root, ANSWERS, desk)
        if root is not None:
            answers = read_root(root, desk)
    return ReadAnswers(None if desk.failed else answers, in_order(desk.findings))


def read_root(root: Map, desk: Desk) -> Answers:
    """The answers of a checked top map."""
    entries = tuple(read_entry(node, desk) for node in root.get("steps", ()))
    unlisted, place = text(root, "unlisted", "done"), value_place(root, "procedure")
    return Answers(text(root, "procedure"), givens(root, "crew"), givens(root, "inputs"), unlisted, entries, place)


def read_entry(node: Map, desk: Desk) -> Entry:
    """One entry."""
    before, after = (tuple(read_act(act, desk) for act in node.get(key, ())) for key in ("before", "after"))
    trouble, leave_out = text(node, "trouble"), text(node, "leave_out")
    return Entry(
        text(node, "step"),
        typed(node, "answers"),
        typed(node, "second"),
        trouble,
        leave_out,
        before,
        after,
        node_place(node),
    )


def typed(node: Map, key: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """(ask, texts) under a key; a single text stands for a list of one."""
    asks: Map | dict[str, str | Seq] = node.get(key, {})
    return tuple(
        (name, tuple(answer.strip() for answer in ([value] if isinstance(value, str) else value)))
        for name, value in asks.items()
    )


def read_act(node: Map, desk: Desk) -> Act:
    """One act; what stands beside it must belong to it."""
    act = next(key for key in MAY_HAVE if key in node)
    for key in node:
        if key != act and key not in MAY_HAVE[act]:
            desk.at_key("keys-together", f"`{key}` does not belong to `{act}`", node, key)
    for key in MUST_HAVE.get(act, ()):
        if key not in node:
            desk.add("missing-key", f"`{act}` needs `{key}`", key_place(node, act))
    if act == "look":
        looked: Map = node["look"]
        return Act(act, "", tuple((state, one_line(value)) for state, value in looked.items()), None, node_place(node))
    if act == "release":
        return read_release(node)
    beside = tuple((key, text(node, key)) for key in MAY_HAVE[act] if key in node)
    return Act(act, text(node, act), beside, None, node_place(node))


def read_release(node: Map) -> Act:
    """Somebody releases the hold."""
    release: Map = node["release"]
    beside = (("by", text(release, "by")),) if "by" in release else ()
    confirm = tuple(one_line(entry) for entry in release["confirm"]) if "confirm" in release else None
    return Act("release", "", beside, confirm, node_place(node))
