"""The head of a procedure: people, cautions, revision history and approval."""

from runner.procedure.desk import Desk, one_line
from runner.procedure.model import Approval, Caution, Change
from runner.procedure.nodes import Map, node_place

GRAVITY = ("danger", "warning", "caution", "notice")
"""Signal words, gravest first. Source: ANSI Z535.6 and ISO 3864-2, from memory."""


def text(node: Map, key: str, otherwise: str = "") -> str:
    """The text under a key on one line; `otherwise` where it is left out."""
    return one_line(node[key]) if key in node else otherwise


def flag(node: Map, key: str) -> bool:
    """True where the key says so."""
    return text(node, key) == "true"


def read_people(root: Map, desk: Desk) -> tuple[tuple[str, str], ...]:
    """(role, how people call it)."""
    people: Map = root["people"]
    if "reason" in people:
        hint = "`optional: reason` says that a step may be left out with a reason. Choose another name."
        desk.at_key("name-taken", "no role can be called `reason`", people, "reason", hint)
    return tuple((role, one_line(called)) for role, called in people.items())


def read_cautions(root: Map, desk: Desk) -> dict[str, Caution]:
    """Cautions by id."""
    cautions: Map | dict[str, Map] = root.get("cautions", {})
    return {id_: read_caution(id_, node, desk) for id_, node in cautions.items()}


def read_caution(id_: str, node: Map, desk: Desk) -> Caution:
    """One caution; what hurts people says how."""
    signal = text(node, "signal")
    if signal != "notice" and "harm" not in node:
        message = f"a {signal} says what it does to people: `harm` is missing"
        desk.add("harm-missing", message, node_place(node), "Where only things are damaged the signal is `notice`.")
    return Caution(id_, signal, text(node, "hazard"), text(node, "harm"), text(node, "avoid"), node_place(node))


def gravest_first(cautions: list[Caution]) -> tuple[Caution, ...]:
    """People before property, danger before warning before caution."""
    return tuple(sorted(cautions, key=lambda caution: GRAVITY.index(caution.signal)))


def read_changes(root: Map, desk: Desk) -> tuple[Change, ...]:
    """The revision history, newest first."""
    changes: list[Change] = []
    for node in root.get("changes", ()):
        check_date(node, "date", desk)
        change = Change(int(node["revision"]), text(node, "date"), text(node, "why"), text(node, "retrain", "none"))
        if change.revision > int(root["revision"]):
            message = (
                f"the change brought revision {change.revision}, but the procedure is at revision {root['revision']}"
            )
            desk.at_value("revision-behind", message, node, "revision")
        changes.append(change)
    return tuple(sorted(changes, key=lambda change: -change.revision))


def check_date(node: Map, key: str, desk: Desk) -> None:
    """A finding where the month has no such day."""
    year, month, day = (int(part) for part in text(node, key).split("-"))
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    if day > (31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[month - 1]:
        desk.at_value("wrong-value", f"`{key}` is a date; {text(node, key)} is no day", node, key)


def read_approval(root: Map, right: str, desk: Desk) -> Approval | None:
    """The approval; where the text is approved, its digest must be the right one."""
    status = text(root, "status", "draft")
    node: Map | None = root.get("approval")
    hint = f"The digest of this text is {right}"
    if node is None:
        if status == "approved":
            desk.at_value(
                "approval-missing",
                "an approved procedure says who approved it: `approval` is missing",
                root,
                "status",
                hint,
            )
        return None
    check_date(node, "on", desk)
    approval = Approval(text(node, "by"), text(node, "on"), text(node, "digest"))
    if status == "approved" and approval.digest != right:
        desk.at_value(
            "approval-digest", "the text is not the one that was approved: the digest differs", node, "digest", hint
        )
    return approval


def listed(root: Map, key: str) -> tuple[str, ...]:
    """A list of texts; empty where it is left out."""
    return tuple(one_line(entry) for entry in root.get(key, ()))
