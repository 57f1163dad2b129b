"""References of steps to one another and to values: ids, ways back, `else`, `match`, slots, and values used too early.

A value is there once the step that asks for it is done: in an earlier phase, or earlier in the same list. What a step
asks for itself serves its later asks, its `repeat` and its troubles, never its own act or condition. A step that may be
passed over may leave its value out for good.
"""

from typing import NamedTuple

from runner.formula.dimension import MASS
from runner.formula.expr import Name, nodes
from runner.formula.kinds import Quantity, TextKind, words
from runner.formula.scope import Scope, names_needed
from runner.procedure.desk import Waiting, near
from runner.procedure.model import Calculation, Split, Step
from runner.procedure.names import Names
from runner.procedure.nodes import Key, Map, Seq
from runner.procedure.parts.calculations import used_by
from runner.procedure.parts.steps import Placed
from runner.procedure.template import Template


class Use(NamedTuple):
    """A name that a step uses, where it stands, and which of the step's own asks may have given it."""

    name: str
    node: Map | Seq
    key: Key
    offset: int
    own: frozenset[str]


def check_steps(placed: list[Placed], names: Names) -> None:
    """Ids unique, ways back and `else` within reach, matches known."""
    first: dict[str, Placed] = {}
    for entry in placed:
        id_ = entry.step.id
        if id_ in first:
            message = f"`{id_}` is the id of step {first[id_].step.number} already ({first[id_].step.place})"
            names.desk.at_value("step-twice", message, entry.node, "id")
        first.setdefault(id_, entry)
    for entry in placed:
        check_troubles(entry, first, names)
        check_elses(entry, names)
        check_matches(entry, names)
        check_lifts(entry, names)


def check_troubles(entry: Placed, steps: dict[str, Placed], names: Names) -> None:
    """A way back leads to this step or to an earlier one of the same list."""
    for trouble, node in zip(entry.step.troubles, entry.node.get("trouble", ()), strict=False):
        if trouble.way_on != "back_to":
            continue
        target = steps.get(trouble.back_to)
        if target is None:
            names.desk.missing("unknown-step", "step", trouble.back_to, steps, node, "back_to")
        elif (target.where.phase, target.where.list) != (entry.where.phase, entry.where.list):
            message = f"`{trouble.back_to}` is step {target.step.number}, in another list or phase"
            names.desk.at_value("back-to-elsewhere", message, node, "back_to", "A way back stays in its list.")
        elif target.where.place > entry.where.place:
            message = f"`{trouble.back_to}` is step {target.step.number}, which comes after this one"
            names.desk.at_value(
                "back-to-elsewhere", message, node, "back_to", "A way back leads to this step or an earlier one."
            )


def check_elses(entry: Placed, names: Names) -> None:
    """Every `else` names a trouble of the step."""
    troubles = tuple(trouble.id for trouble in entry.step.troubles if trouble.id)
    places = [(ask.otherwise, entry.node[ask.kind][ask.name]) for ask in entry.step.asks if ask.otherwise]
    if entry.step.repeat is not None and entry.step.repeat.otherwise:
        places.append((entry.step.repeat.otherwise, entry.node["repeat"]))
    for otherwise, node in places:
        if otherwise not in troubles:
            names.desk.missing("unknown-trouble", "trouble of this step called", otherwise, troubles, node, "else")


def check_matches(entry: Placed, names: Names) -> None:
    """A match names a text that can be equal."""
    desk = names.desk
    for ask in entry.step.asks:
        if not ask.match:
            continue
        node: Map = entry.node[ask.kind][ask.name]
        known = names.known.get(ask.match)
        if known is None:
            desk.missing("unknown-name", "value", ask.match, tuple(names.known), node, "match")
        elif known.kind is not None and not isinstance(known.kind, TextKind):
            desk.at_value(
                "match-not-text", f"`{ask.match}` is a {known.what} with a number, and no text to match", node, "match"
            )
        elif (
            isinstance(known.kind, TextKind)
            and ask.of
            and known.kind.choices
            and not set(ask.of) & set(known.kind.choices)
        ):
            desk.at_value("match-not-text", f"`{ask.match}` is never equal to one of these answers", node, "match")


def check_lifts(entry: Placed, names: Names) -> None:
    """What is lifted is a mass."""
    for load, _ in entry.step.lifts:
        node, known = entry.node["lifts"], names.known.get(load)
        if known is None:
            if not names.desk.partial:
                fit = names.of("input", "calculation", "reading")
                message = f"there is no value `{load}`"
                names.desk.at_key("unknown-name", message, node, load, near(load, fit))
        elif known.kind is not None and (not isinstance(known.kind, Quantity) or known.kind.dimension != MASS):
            message = f"what is lifted is a mass (kg); `{load}` is {words(known.kind)}"
            names.desk.at_key("unit-mismatch", message, node, load)


def check_slots(placed: list[Placed], names: Names) -> None:
    """Every slot names a value and shows it in a unit of its dimension."""
    for entry in placed:
        check_template(entry.step.do, entry.node, names)
        for trouble, node in zip(entry.step.troubles, entry.node.get("trouble", ()), strict=False):
            check_template(trouble.do, node, names)


def check_template(template: Template, node: Map, names: Names) -> None:
    """The slots of one instruction."""
    desk = names.desk
    lead = lead_of(node)
    for slot in template.slots:
        known = names.known.get(slot.name)
        if known is None:
            if not desk.partial and not desk.full:
                hint = names.hint_about(slot.name)
                desk.at_offset(
                    "unknown-name", f"there is no value `{slot.name}`", node, "do", lead + slot.start + 1, hint
                )
        elif known.what in ("table", "web path"):
            desk.at_offset("slot-form", f"`{slot.name}` is a {known.what}, no value", node, "do", lead + slot.start + 1)
        elif isinstance(known.kind, TextKind) and (slot.spec or slot.unit):
            desk.at_offset(
                "slot-form",
                f"`{slot.name}` is a text: it has neither digits nor unit",
                node,
                "do",
                lead + slot.start + 1,
            )
        elif isinstance(known.kind, Quantity) and slot.unit and slot.unit.dimension != known.kind.dimension:
            message = f"`{slot.name}` is {words(known.kind)} and cannot be shown in {slot.unit.text}"
            desk.at_offset("unit-mismatch", message, node, "do", lead + slot.start + 1)


def lead_of(node: Map) -> int:
    """Blanks before the instruction's first character."""
    written: str = node["do"]
    return len(written) - len(written.lstrip())


def check_order(
    placed: list[Placed], names: Names, calculations: tuple[Calculation | Split, ...], scope: Scope
) -> None:
    """No step uses a reading before the step that asks for it, nor one that may never be asked for."""
    rests_on = readings_under(calculations, names, scope)
    where = {entry.step.id: entry for entry in placed}
    waiting_by_expr = {id(waiting.expr): waiting for waiting in names.desk.waiting}
    for entry in placed:
        told: set[str] = set()
        for use in uses_of(entry, waiting_by_expr, scope):
            for reading in sorted(rests_on.get(use.name, frozenset({use.name}))):
                known = names.known.get(reading)
                asked = where.get(known.step) if known is not None and known.step else None
                if asked is None or (asked.step.id == entry.step.id and reading in use.own):
                    continue
                if not before(asked, entry):
                    check_use(use, reading, entry, asked, names)
                elif reading not in told:
                    told.add(reading)
                    check_given(use, reading, entry, asked, names)


def check_given(use: Use, reading: str, entry: Placed, asked: Placed, names: Names) -> None:
    """A warning where the step that asks may be passed over, and this one stands still without the value."""
    why = passed_over(asked.step, entry.step)
    if not why:
        return
    through = "" if reading == use.name else f"`{use.name}` rests on `{reading}`; "
    message = (
        f"{through}`{reading}` is asked for in step {asked.step.number} (`{asked.step.id}`), which {why}; "
        f"step {entry.step.number} (`{entry.step.id}`) cannot begin without it"
    )
    hint = "Put both steps under the same `when`, or ask for it in a step that is always done."
    names.desk.at_offset("value-may-be-missing", message, use.node, use.key, use.offset, hint)


def passed_over(asked: Step, user: Step) -> str:
    """How a step may end without its answers although the one that uses them comes up; empty where it cannot."""
    if asked.when is not None and (user.when is None or user.when.text != asked.when.text):
        return f"applies only when {asked.when.text}"
    if asked.optional:
        return "may be left out"
    left = next((trouble.sign for trouble in asked.troubles if trouble.way_on == "go_on"), None)
    return "" if left is None else f"is gone on from without an answer after its trouble '{left}'"


def check_use(use: Use, reading: str, entry: Placed, asked: Placed, names: Names) -> None:
    """One use of one reading that is asked for too late."""
    through = "" if reading == use.name else f"`{use.name}` rests on `{reading}`, and "
    if asked.step.id == entry.step.id:
        message = f"{through}`{reading}` is asked for in this same step, and not known yet"
    elif asked.where.phase == entry.where.phase and asked.where.list != entry.where.list:
        message = (
            f"{through}`{reading}` is asked for in the other list (step {asked.step.number}) and may not be known yet"
        )
    else:
        message = f"{through}`{reading}` is asked for in step {asked.step.number}, after this one"
    names.desk.at_offset("used-too-early", message, use.node, use.key, use.offset)


def before(asked: Placed, entry: Placed) -> bool:
    """True where the one step is done when the other comes up."""
    if asked.where.phase != entry.where.phase:
        return asked.where.phase < entry.where.phase
    return asked.where.list == entry.where.list and asked.where.place < entry.where.place


def readings_under(
    calculations: tuple[Calculation | Split, ...], names: Names, scope: Scope
) -> dict[str, frozenset[str]]:
    """For each calculation the readings, choices, scans and feeds that it rests on."""
    found: dict[str, frozenset[str]] = {}
    for made in calculations:
        rests: set[str] = set()
        for name in used_by(made, scope):
            known = names.known.get(name)
            if known is not None and known.step:
                rests.add(name)
            rests |= found.get(name, frozenset())
        found[made.name] = frozenset(rests)
    return found


def uses_of(entry: Placed, waiting_by_expr: dict[int, Waiting], scope: Scope) -> list[Use]:
    """Every name that a step uses, with its place."""
    step, nothing = entry.step, frozenset[str]()
    everything = frozenset(ask.name for ask in step.asks)
    uses = template_uses(step.do, entry.node, nothing)
    for trouble, node in zip(step.troubles, entry.node.get("trouble", ()), strict=False):
        uses += template_uses(trouble.do, node, everything)
    uses += [Use(load, entry.node["lifts"], load, 0, nothing) for load, _ in step.lifts]
    exprs = [(step.when.expr, nothing)] if step.when else []
    exprs += [(step.repeat.until, everything)] if step.repeat else []
    for index, ask in enumerate(step.asks):
        earlier = frozenset(other.name for other in step.asks[:index])
        exprs += [(side, earlier) for side in (ask.low, ask.high) if side is not None]
        if ask.match:
            uses.append(Use(ask.match, entry.node[ask.kind][ask.name], "match", 0, earlier))
    for expr, own in exprs:
        waiting = waiting_by_expr.get(id(expr))
        if waiting is not None:
            uses += formula_uses(waiting, own, scope)
    return uses


def template_uses(template: Template, node: Map, own: frozenset[str]) -> list[Use]:
    """The slots of an instruction."""
    return [Use(slot.name, node, "do", lead_of(node) + slot.start + 1, own) for slot in template.slots]


def formula_uses(waiting: Waiting, own: frozenset[str], scope: Scope) -> list[Use]:
    """The names of a formula; those that a web path brings in stand where the formula begins."""
    placed = {node.id: node.span.start for node in reversed(nodes(waiting.expr)) if isinstance(node, Name)}
    return [
        Use(name, waiting.node, waiting.key, waiting.lead + placed.get(name, 0), own)
        for name in sorted(names_needed(waiting.expr, scope))
    ]


def with_uses(step: Step, scope: Scope) -> Step:
    """The step with the names of all values that it uses."""
    names = {slot.name for slot in step.do.slots}
    names |= {slot.name for trouble in step.troubles for slot in trouble.do.slots}
    names |= {ask.match for ask in step.asks if ask.match}
    names |= {load for load, _ in step.lifts}
    exprs = [side for ask in step.asks for side in (ask.low, ask.high) if side is not None]
    exprs += [step.when.expr] if step.when else []
    exprs += [step.repeat.until] if step.repeat else []
    for expr in exprs:
        names |= names_needed(expr, scope)
    return step._replace(uses=frozenset(names)) if names else step
