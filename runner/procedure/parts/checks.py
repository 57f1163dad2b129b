"""The waiting formulas against names and units, once all names are known.

An unknown name is one finding and ends the check of its formula; what rests on a faulty definition is let pass.
"""

from runner.formula.check import check
from runner.formula.explain import text_of
from runner.formula.expr import Name, Reference, nodes
from runner.formula.kinds import Kind, Quantity, Truth, words
from runner.formula.repairs import clash
from runner.procedure.desk import Desk, Waiting
from runner.procedure.names import Names


def check_formulas(names: Names) -> None:
    """Check every formula that waits on the desk."""
    kinds = names.kinds()
    for waiting in names.desk.waiting:
        check_formula(waiting, names, kinds)


def check_formula(waiting: Waiting, names: Names, kinds: dict[str, Kind]) -> None:
    """Names first, then what the formula gives."""
    desk = names.desk
    if not check_names(waiting, names):
        return
    checked = check(waiting.expr, kinds)
    for fault in checked.faults:
        desk.at_offset(
            "formula-meaning", fault.message, waiting.node, waiting.key, waiting.lead + fault.start, fault.hint
        )
    if checked.kind is None or checked.faults:
        return
    if waiting.wanted is None:
        if not isinstance(checked.kind, Truth):
            message = f"{waiting.what} must be true or false; this is {words(checked.kind)}"
            desk.at_offset(
                "formula-meaning", message, waiting.node, waiting.key, waiting.lead, "Compare it, as in `x > 0 [mm]`."
            )
        return
    if not isinstance(checked.kind, Quantity):
        message = f"{waiting.what} must give {words(waiting.wanted)}; this is {words(checked.kind)}"
        desk.at_offset("formula-meaning", message, waiting.node, waiting.key, waiting.lead)
    elif checked.kind.dimension != waiting.wanted.dimension:
        message = f"{waiting.what} gives {words(checked.kind)}; {words(waiting.wanted)} is needed"
        hint = clash(checked.kind.dimension, waiting.wanted.dimension, text_of(waiting.expr))
        desk.at_offset("unit-mismatch", message, waiting.node, waiting.key, waiting.lead, hint)


def check_names(waiting: Waiting, names: Names) -> bool:
    """True where every name of the formula is known and has a kind; findings for those that are unknown."""
    desk, sound = names.desk, True
    told: set[str] = set()
    for node in nodes(waiting.expr):
        if not isinstance(node, Name | Reference) or node.id in told or is_constant_or_column(node):
            continue
        known = names.known.get(node.id)
        if known is not None and known.kind is not None:
            sound &= allowed(waiting, node, known.what, desk)
            continue
        sound = False
        told.add(node.id)
        if known is None and not desk.partial and not desk.full:
            what = (
                {"table": "table", "path": "web path"}.get(node.to, "name") if isinstance(node, Reference) else "value"
            )
            hint = names.hint_about(node.id)
            told.update(names.states.get(node.id, ()))  # its values are no names either, and that is the same fault
            desk.at_offset(
                "unknown-name",
                f"there is no {what} `{node.id}`",
                waiting.node,
                waiting.key,
                waiting.lead + node.span.start,
                hint,
            )
    return sound


def is_constant_or_column(node: Name | Reference) -> bool:
    """Names that no procedure defines: constants, and columns, which the check of their table looks at."""
    from runner.formula.expr import CONSTANT_NAMES

    return node.to == "column" if isinstance(node, Reference) else node.id in CONSTANT_NAMES


def allowed(waiting: Waiting, node: Name | Reference, what: str, desk: Desk) -> bool:
    """True where the formula may use this sort of name."""
    if not waiting.only or what in waiting.only or isinstance(node, Reference):
        return True
    sorts = " and ".join(f"{sort}s" for sort in waiting.only)
    message = f"{waiting.what} may use {sorts} only; `{node.id}` is a {what}"
    desk.at_offset("name-not-allowed", message, waiting.node, waiting.key, waiting.lead + node.span.start)
    return False
