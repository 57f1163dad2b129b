"""Answers files: a run played without a person, entry after entry.

Entries are used in order for each step id; who plays them decides what to do at a step without one.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.procedure.desk import Desk, near, one_line
from runner.procedure.finding import Finding, Place, in_order
from runner.procedure.job import Given, givens
from runner.procedure.language.files import ANSWERS
from runner.procedure.model import Procedure, Split, Step, steps_of
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
    "accept": ("reason",),
    "release": (),
    "explain": ("judged", "words"),
}
"""What stands beside each act."""

MUST_HAVE: dict[str, tuple[str, ...]] = {
    "go_back": ("reason",),
    "correct": ("typed", "reason"),
    "hand_over": ("to", "read_back"),
    "accept": ("reason",),
    "explain": ("judged",),
}


Places = tuple[tuple[str, Place], ...]


class Act(NamedTuple):
    """Something that a person does besides the step."""

    act: str
    """note, pause, resume, make_safe, look, go_back, abandon, close, correct, hand_over, accept, release or explain."""
    words: str
    """The text under that key; empty for look and release."""
    beside: tuple[tuple[str, str], ...]
    """What stands beside it: kind, severity, reason, words, typed, to, read_back, judged; for look (state, value); for release `by`."""
    confirm: tuple[str, ...] | None
    """What a releaser confirms; None: all of it."""
    place: Place
    places: Places = ()
    """Where what it names stands: its own key, those beside it, and the states of a look."""

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
    places: Places = ()
    """Where its keys and the asks under them stand, as `step` and `answers/core_pressure`."""


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
        places_of(node),
    )


def places_of(node: Map) -> Places:
    """Where the values of a map's keys stand, and the keys of the maps under it."""
    found = [(key, value_place(node, key)) for key in node]
    inner = [(key, value) for key, value in node.items() if isinstance(value, Map)]
    return (*found, *((f"{key}/{name}", key_place(value, name)) for key, value in inner for name in value))


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
        return Act(
            act,
            "",
            tuple((state, one_line(value)) for state, value in looked.items()),
            None,
            node_place(node),
            places_of(node),
        )
    if act == "release":
        return read_release(node)
    beside = tuple((key, text(node, key)) for key in MAY_HAVE[act] if key in node)
    return Act(act, text(node, act), beside, None, node_place(node), places_of(node))


def read_release(node: Map) -> Act:
    """Somebody releases the hold."""
    release: Map = node["release"]
    beside = (("by", text(release, "by")),) if "by" in release else ()
    confirm = tuple(one_line(entry) for entry in release["confirm"]) if "confirm" in release else None
    return Act("release", "", beside, confirm, node_place(node), places_of(node))


def unfit_entries(
    answers: Answers, procedure: Procedure, questions: tuple[str, ...] | None = None
) -> tuple[Finding, ...]:
    """What of the entries does not fit a procedure: a name that it has not, or an answer that nothing would take.

    `questions` are those of the scenario that is played, none for a run without one; None: that is not known.
    """
    desk = Desk()
    steps = {step.id: step for step in steps_of(procedure)}
    for entry in answers.entries:
        step = steps.get(entry.step)
        if step is None:
            message = f"the procedure has no step `{entry.step}`"
            desk.add("unknown-step", message, at(entry, "step"), near(entry.step, tuple(steps)))
        else:
            unfit_entry(entry, step, desk)
        for act in (*entry.before, *entry.after):
            unfit_act(act, procedure, steps, desk)
            if questions is not None and act.act == "explain" and act.words not in questions:
                unasked(act, questions, desk)
    return in_order(desk.findings)


def unasked(act: Act, questions: tuple[str, ...], desk: Desk) -> None:
    """A finding for a question that nobody asks."""
    message = f"the scenario has no question `{act.words}`" if questions else f"nobody asks `{act.words}` here"
    hint = (
        near(act.words, questions) if questions else "Questions stand in a scenario: `changeover dry-run --scenario`."
    )
    desk.add("unknown-name", message, at(act, "explain"), hint)


def at(thing: Entry | Act, key: str) -> Place:
    """Where a key of an entry or act stands; the thing itself where that is not known."""
    return dict(thing.places).get(key, thing.place)


def unfit_entry(entry: Entry, step: Step, desk: Desk) -> None:
    """What of an entry does not fit its step."""
    asks = tuple(ask.name for ask in step.asks if ask.kind != "wait")
    for key, given in (("answers", entry.answers), ("second", entry.second)):
        if key == "second" and given and (step.second is None or step.second.how != "independent"):
            why = "asks for no second look" if step.second is None else "asks for a look together, which types nothing"
            desk.add("entry-unfit", f"step `{step.id}` {why}", at(entry, "second"), "Delete `second`.")
            continue
        for name, _ in given:
            if name not in asks:
                message = f"step `{step.id}` does not ask for `{name}`"
                desk.add("unknown-name", message, at(entry, f"{key}/{name}"), near(name, asks))
    troubles = tuple(called for trouble in step.troubles for called in (trouble.id, trouble.sign) if called)
    if entry.trouble and entry.trouble not in troubles:
        message = f"step `{step.id}` has no trouble `{entry.trouble}`"
        desk.add("unknown-trouble", message, at(entry, "trouble"), near(entry.trouble, troubles))
    if entry.leave_out and not step.optional:
        message = f"step `{step.id}` is not optional and cannot be left out"
        desk.add("entry-unfit", message, at(entry, "leave_out"), "Delete `leave_out`, or let the step be `optional`.")


def unfit_act(act: Act, procedure: Procedure, steps: Mapping[str, Step], desk: Desk) -> None:
    """What an act names and the procedure has not."""
    match act.act:
        case "look":
            states = {state.name: state.of for state in procedure.states}
            for name, value in act.beside:
                if name not in states:
                    message = f"the procedure has no state `{name}`"
                    desk.add("unknown-state", message, at(act, f"look/{name}"), near(name, states))
                elif value not in states[name]:
                    message = f"`{name}` has no value `{value}`"
                    desk.add("unknown-value", message, at(act, f"look/{name}"), near(value, states[name]))
        case "go_back" if act.words not in steps:
            message = f"the procedure has no step `{act.words}`"
            desk.add("unknown-step", message, at(act, "go_back"), near(act.words, tuple(steps)))
        case "hand_over":
            roles = tuple(role for role, _ in procedure.people)
            if act.words not in roles:
                message = f"the procedure has no role `{act.words}`"
                desk.add("unknown-role", message, at(act, "hand_over"), near(act.words, roles))
        case "correct":
            asked = (ask.name for step in steps.values() for ask in step.asks if ask.kind not in ("wait", "thread"))
            known = (*(given.name for given in procedure.inputs), *asked)
            if act.words not in known:
                message = f"the procedure has no answer `{act.words}` to correct"
                desk.add("unknown-name", message, at(act, "correct"), near(act.words, known))
        case "accept":
            pieces = tuple(made.name for made in procedure.calculations if isinstance(made, Split) and made.release)
            if act.words not in pieces:
                message = f"the procedure has no split `{act.words}` that somebody may accept"
                desk.add("unknown-name", message, at(act, "accept"), near(act.words, pieces))
        case "close" if act.words != "all" and not (act.words.isascii() and act.words.isdigit()):
            message = f"`close` takes the number of an exception, or `all`; `{act.words}` is neither"
            desk.add("wrong-value", message, at(act, "close"))
        case _:
            pass
