"""Steps: who does what, what it needs and makes, what it asks, what may go wrong and the way on."""

from typing import NamedTuple

from runner.formula.fault import Fault
from runner.formula.kinds import TextKind, quantity_in
from runner.procedure.asks import KINDS
from runner.procedure.asks.ask import Ask
from runner.procedure.asks.wait import seconds
from runner.procedure.desk import Desk, near, one_line
from runner.procedure.model import (
    Caution,
    Condition,
    Facts,
    Hold,
    Repeat,
    SafeAct,
    SecondLook,
    Step,
    TrackedState,
    Trouble,
)
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Map, Seq, key_place, node_place, value_place
from runner.procedure.parts.head import flag, gravest_first, text
from runner.procedure.template import Template, parse_template

VALUE_WORDS = {"read": "reading", "choose": "choice", "scan": "scan", "advance": "feed"}
"""Kinds of asks whose answers are names in formulas, and what such a name is called."""


class Press(NamedTuple):
    """What steps refer to."""

    people: tuple[tuple[str, str], ...]
    cautions: dict[str, Caution]
    states: dict[str, TrackedState]
    names: Names

    @property
    def roles(self) -> dict[str, str]:
        """Roles by name."""
        return dict(self.people)

    @property
    def desk(self) -> Desk:
        """Where findings go."""
        return self.names.desk


class Where(NamedTuple):
    """The place of a step in the work."""

    phase: int
    list: int
    person: str
    """The role whose list it is; empty in a phase with one list."""
    place: int
    number: str


class Placed(NamedTuple):
    """A compiled step with its node and its place in the work."""

    step: Step
    node: Map
    where: Where


def read_step(node: Map, where: Where, press: Press) -> Step:
    """One step. References to other steps are looked at when all steps are known."""
    desk = press.desk
    id_ = text(node, "id")
    asks = read_asks(node, id_, press)
    doer = read_doer(node, where.person, press)
    return Step(
        id=id_,
        number=where.number,
        by=doer,
        do=read_template(node, "do", desk),
        why=text(node, "why"),
        explain=paragraphs(node.get("explain", "")),
        cautions=read_cautions(node, press),
        needs=read_facts(node, "needs", press.states, desk),
        makes=read_facts(node, "makes", press.states, desk),
        when=read_condition(node, desk),
        hold=read_hold(node, press),
        asks=asks,
        second=read_second(node, doer, press),
        optional=read_optional(node, press),
        repeat=read_repeat(node, desk),
        troubles=read_troubles(node, desk),
        expect_s=seconds(node["expect"]) if "expect" in node else None,
        uses=frozenset(),
        place=node_place(node),
        lifts=read_lifts(node, desk),
    )


def read_asks(node: Map, id_: str, press: Press) -> tuple[Ask, ...]:
    """What the step asks, kind after kind; what formulas may use of it becomes a name."""
    asks: list[Ask] = []
    for kind in KINDS:
        if kind.key not in node:
            continue
        for ask in kind.build(node, press.desk):
            asks.append(ask)
            if kind.key in VALUE_WORDS:
                press.names.declare(known_of(ask, id_))
    declare_faulty_readings(node, asks, id_, press)
    return tuple(asks)


def known_of(ask: Ask, step: str) -> Known:
    """The name that an ask brings."""
    kind = quantity_in(ask.unit) if ask.unit is not None else TextKind(ask.of)
    return Known(ask.name, VALUE_WORDS[ask.kind], kind, ask.unit, ask.place, step)


def declare_faulty_readings(node: Map, asks: list[Ask], step: str, press: Press) -> None:
    """A reading with a faulty unit is a name all the same, so that its users are not complained of."""
    readings: Map | dict[str, Map] = node.get("read", {})
    for name in readings:
        if all(ask.name != name for ask in asks):
            press.names.declare(Known(name, "reading", None, None, key_place(node["read"], name), step))


def read_doer(node: Map, person: str, press: Press) -> str:
    """The role that does the step."""
    desk, roles = press.desk, press.roles
    if "by" in node:
        role = known_role(node, "by", press)
        if person and role != person and role in roles:
            message = f"this is the list of `{person}`, so `{role}` does not do its steps"
            desk.at_value("role-of-list", message, node, "by", "Put the step into the other list, or leave `by` out.")
        return role
    if person:
        return person
    if len(roles) == 1:
        return next(iter(roles))
    listed = ", ".join(f"`{role}`" for role in roles)
    desk.add("role-missing", f"the step does not say who does it: `by` is missing ({listed})", node_place(node))
    return ""


def known_role(node: Map, key: str, press: Press) -> str:
    """The role under a key, with a finding where there is no such role."""
    role = text(node, key)
    if role not in press.roles:
        press.desk.missing("unknown-role", "role", role, press.roles, node, key)
    return role


def read_template(node: Map, key: str, desk: Desk) -> Template:
    """The instruction under a key; without its slots after a finding."""
    written: str = node[key]
    lead = len(written) - len(written.lstrip())
    template = parse_template(written.strip())
    if isinstance(template, Fault):
        desk.at_offset("slot-form", template.message, node, key, lead + template.start, template.hint)
        return Template(one_line(written), (one_line(written),))
    return template


def paragraphs(written: str) -> str:
    """A longer text: blank lines part paragraphs, other line ends are blanks."""
    return "\n".join(one_line(part) for part in written.strip().split("\n") if part.strip())


def read_cautions(node: Map, press: Press) -> tuple[Caution, ...]:
    """The step's cautions, gravest first."""
    found: dict[str, Caution] = {}
    entries: Seq | tuple[()] = node.get("cautions", ())
    for index, entry in enumerate(entries):
        id_ = entry.strip()
        caution = press.cautions.get(id_)
        if caution is None:
            press.desk.missing("unknown-caution", "caution", id_, press.cautions, node["cautions"], index)
        elif id_ in found:
            press.desk.at_value("twice-in-list", f"the caution `{id_}` is named twice", node["cautions"], index)
        else:
            found[id_] = caution
    return gravest_first(list(found.values()))


def read_facts(node: Map, key: str, states: dict[str, TrackedState], desk: Desk) -> Facts:
    """(state, value) pairs by index, in the order of the states; faulty ones are left out after their findings."""
    if key not in node:
        return ()
    facts: Map = node[key]
    order = {name: index for index, name in enumerate(states)}
    found: list[tuple[int, int]] = []
    for name, written in facts.items():
        state, value = states.get(name), one_line(written)
        if state is None:
            if not desk.partial:
                desk.at_key("unknown-state", f"there is no state `{name}`", facts, name, near(name, states))
        elif value not in state.of:
            desk.missing("unknown-value", f"value of `{name}` called", value, state.of, facts, name)
        else:
            found.append((order[name], state.of.index(value)))
    return tuple(sorted(found))


def read_lifts(node: Map, desk: Desk) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What is lifted with which gear. The loads are looked at when all names are known."""
    if "lifts" not in node:
        return ()
    lifts: Map = node["lifts"]
    return tuple((load, desk.different(names, "gear")) for load, names in lifts.items())


def read_condition(node: Map, desk: Desk) -> Condition | None:
    """When the step applies."""
    expr = desk.formula(node, "when", None, "`when`") if "when" in node else None
    return None if expr is None else Condition(expr, text(node, "when"), value_place(node, "when"))


def read_hold(node: Map, press: Press) -> Hold | None:
    """The hold before the step."""
    if "hold" not in node:
        return None
    hold: Map = node["hold"]
    release = known_role(hold, "release", press)
    confirm = press.desk.different(hold["confirm"], "confirmation")
    return Hold(release, confirm, text(hold, "protects"), key_place(node, "hold"))


def read_second(node: Map, doer: str, press: Press) -> SecondLook | None:
    """The second look; its person is another than the one who does the step."""
    if "second" not in node:
        return None
    second: Map = node["second"]
    by = known_role(second, "by", press)
    if by == doer:
        message = f"`{by}` does the step and cannot be the second person"
        press.desk.at_value("second-is-doer", message, second, "by")
    return SecondLook(by, text(second, "how", "together"), key_place(node, "second"))


def read_optional(node: Map, press: Press) -> str:
    """Empty, `reason`, or the role that must agree."""
    written = text(node, "optional")
    if written and written != "reason" and written not in press.roles:
        press.desk.missing("unknown-role", "role", written, ("reason", *press.roles), node, "optional")
    return written


def read_repeat(node: Map, desk: Desk) -> Repeat | None:
    """Until when the step is done again."""
    if "repeat" not in node:
        return None
    repeat: Map = node["repeat"]
    until = desk.formula(repeat, "until", None, "`until`")
    if until is None:
        return None
    return Repeat(until, text(repeat, "until"), int(repeat["at_most"]), text(repeat, "else"), key_place(node, "repeat"))


def read_troubles(node: Map, desk: Desk) -> tuple[Trouble, ...]:
    """The step's troubles; one without an id has an empty one, which no `else` can name."""
    found: list[Trouble] = []
    ids: set[str] = set()
    called: set[str] = set()
    entries: Seq | tuple[()] = node.get("trouble", ())
    for entry in entries:
        id_ = text(entry, "id")
        if id_ and id_ in ids:
            desk.at_value("twice-in-list", f"the step has two troubles called `{id_}`", entry, "id")
        way_on = "back_to" if "back_to" in entry else text(entry, "then")
        do = read_template(entry, "do", desk)
        sign, back_to = text(entry, "sign"), text(entry, "back_to")
        name, key = (id_, "id") if id_ else (sign, "sign")
        if name in called and not (id_ and id_ in ids):
            message = f"the step has an earlier trouble called `{name}`, so this one is never met"
            desk.at_value("twice-in-list", message, entry, key, "Give each an id and a sign of its own.")
        ids.add(id_)
        called |= {id_ or sign, sign}
        found.append(Trouble(id_, sign, do, way_on, back_to, flag(entry, "blocking"), node_place(entry)))
    return tuple(found)


def read_make_safe(node: Map, states: dict[str, TrackedState], desk: Desk) -> tuple[SafeAct, ...]:
    """The acts of stopping and making safe under `make_safe`."""
    entries: Seq | tuple[()] = node.get("make_safe", ())
    return tuple(
        SafeAct(text(entry, "do"), read_facts(entry, "makes", states, desk), node_place(entry)) for entry in entries
    )
