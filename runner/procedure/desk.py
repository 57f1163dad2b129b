"""Where the compiler's parts lay down what they find: findings, and formulas that wait until all names are known.

A formula is parsed when it is met, so that its own fault is found; it is checked against names and units at the end.
What refers to something that is itself faulty is not complained of again.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.dimension import Dimension
from runner.formula.expr import Expr, Number, Span
from runner.formula.fault import Fault
from runner.formula.kinds import Quantity, quantity_in
from runner.formula.syntax import parse
from runner.formula.units import Unit, parse_unit
from runner.procedure.finding import Finding, Place, Severity
from runner.procedure.language.fits import fits
from runner.procedure.language.shape import NUMBER
from runner.procedure.nodes import Key, Map, Seq, key_place, offset_place, value_place

Wanted = Unit | Dimension | None
"""What a formula must give: a unit stands for its dimension and for words; None for true or false."""


class Waiting(NamedTuple):
    """A formula that is to be checked, and what it must give."""

    expr: Expr
    node: Map | Seq
    key: Key
    wanted: Quantity | None
    """The dimension, and the author's unit where there is one; None where it must be true or false."""
    lead: int
    """Characters of the scalar before the formula's first."""
    what: str
    """What it is, for messages: 'the limit'."""
    only: tuple[str, ...] = ()
    """The sorts of names that it may use; empty: all."""


is_number = fits(NUMBER)

LONGEST = 600
"""Characters of a message."""

MOST = 500
"""So many findings at most; a text with more is not a slip but another kind of file."""


class Desk:
    """Findings and waiting formulas of one compilation."""

    __slots__ = ("findings", "partial", "rollers", "used_at", "waiting")

    def __init__(self, partial: bool = False) -> None:
        self.rollers: dict[str, tuple[str, ...]] = {}
        """The rollers of each web path with their sides, 'entry idler: under'."""
        self.used_at: dict[str, list[Place]] = {}
        """By path of a fragment, where the procedure brings it in, directly or through others."""
        self.findings: list[Finding] = []
        self.waiting: list[Waiting] = []
        self.partial = partial
        """True where faulty parts were left out: a name that is not there proves nothing then."""

    def add(self, rule: str, message: str, place: Place, hint: str = "") -> None:
        """Keep a finding; its severity stands with the rule."""
        from runner.procedure.faults import FAULTS

        if self.full:
            return

        self.findings.append(Finding(rule, FAULTS[rule].severity, shortened(message), place, shortened(hint)))

    def at_value(self, rule: str, message: str, node: Map | Seq, key: Key, hint: str = "") -> None:
        """A finding at the value of a key or at an entry."""
        self.add(rule, message, value_place(node, key), hint)

    def at_key(self, rule: str, message: str, node: Map | Seq, key: Key, hint: str = "") -> None:
        """A finding at a key."""
        self.add(rule, message, key_place(node, key), hint)

    def at_offset(self, rule: str, message: str, node: Map | Seq, key: Key, offset: int, hint: str = "") -> None:
        """A finding inside a scalar."""
        if self.full:
            return
        self.add(rule, message, offset_place(node, key, offset), hint)

    def missing(
        self, rule: str, what: str, name: str, known: Mapping[str, object] | tuple[str, ...], node: Map | Seq, key: Key
    ) -> None:
        """A reference to something that is not there, unless it may be among what was left out."""
        if not self.partial and not self.full:
            self.at_value(rule, f"there is no {what} `{name}`", node, key, near(name, known))

    @property
    def full(self) -> bool:
        """True where nothing more is told."""
        return len(self.findings) >= MOST

    @property
    def failed(self) -> bool:
        """True where something keeps the procedure from running."""
        return self.partial or any(finding.severity is Severity.ERROR for finding in self.findings)

    def unit(self, node: Map | Seq, key: Key) -> Unit | None:
        """The unit under a key, or a finding at its column."""
        text: str = node[key]  # type: ignore[index]  # a key for a map, an index for a list: the caller knows which
        return self.unit_of(text.strip(), node, key, len(text) - len(text.lstrip()))

    def unit_of(self, text: str, node: Map | Seq, key: Key, lead: int) -> Unit | None:
        """The unit that a part of a scalar writes, or a finding at its column."""
        unit = parse_unit(text)
        if isinstance(unit, Fault):
            self.at_offset("unit-unknown", unit.message, node, key, lead + unit.start, unit.hint)
            return None
        return unit

    def formula(self, node: Map | Seq, key: Key, wanted: Wanted, what: str, only: tuple[str, ...] = ()) -> Expr | None:
        """The formula under a key, which waits for its check; None after a finding."""
        text: str = node[key]  # type: ignore[index]  # as above
        return self.formula_of(text.strip(), node, key, wanted, what, len(text) - len(text.lstrip()), only)

    def formula_of(
        self,
        text: str,
        node: Map | Seq,
        key: Key,
        wanted: Wanted,
        what: str,
        lead: int,
        only: tuple[str, ...] = (),
    ) -> Expr | None:
        """The formula that a part of a scalar writes."""
        expr = parse(text)
        if isinstance(expr, Fault):
            hint = unbracketed(text, expr.start) or expr.hint
            self.at_offset("formula-syntax", expr.message, node, key, lead + expr.start, hint)
            return None
        self.waiting.append(Waiting(expr, node, key, quantity_of(wanted), lead, what, only))
        return expr

    def unchecked_formula(self, node: Map | Seq, key: Key) -> Expr | None:
        """The formula under a key where nothing is known of what it must give: only its own faults are found."""
        expr = self.formula(node, key, None, "")
        if expr is not None:
            self.waiting.pop()
        return expr

    def wait(self, expr: Expr, node: Map | Seq, key: Key, wanted: Wanted, what: str) -> None:
        """A formula that was made otherwise than by parsing waits for its check too."""
        self.waiting.append(Waiting(expr, node, key, quantity_of(wanted), 0, what))

    def number_or_formula(self, node: Map | Seq, key: Key, unit: Unit, what: str) -> Expr | None:
        """A plain number in the unit, or a formula of its dimension."""
        text: str = node[key].strip()  # type: ignore[index]  # as above
        value = number(text)
        parts = parted(text)
        if value is None and parts is not None and isinstance(parse_unit(parts[1]), Unit):
            alone = f": it is in {unit.text}" if unit.text != "1" else ""
            hint = f"Write {text[: parts[2]]} [{parts[1]}], or the number alone{alone}."
            self.at_value("formula-syntax", f"{what} is a number, or a formula; `{text}` is neither", node, key, hint)
            return None
        if value is None:
            return self.formula(node, key, unit, what)
        return Number(value, "" if unit.text == "1" else unit.text, Span(0, len(text)))

    def band(self, node: Map, key: str, unit: Unit) -> tuple[float, float] | None:
        """Two numbers in the unit as SI values, if the key is there; low to high, or a finding."""
        if key not in node:
            return None
        low, high = (float(text) for text in node[key])
        if low > high:
            self.at_value(
                "limits-reversed", f"`{key}` is not in order: {node[key][0]} is more than {node[key][1]}", node, key
            )
        return unit.si(low), unit.si(high)

    def different(self, node: Seq, what: str) -> tuple[str, ...]:
        """The texts of a list, with a finding for one that comes twice."""
        texts = [one_line(text) for text in node]
        seen: set[str] = set()
        for index, text in enumerate(texts):
            if text in seen:
                self.at_value("twice-in-list", f"the {what} `{text}` is given twice", node, index)
            seen.add(text)
        return tuple(dict.fromkeys(texts))

    def quantity(self, node: Map | Seq, key: Key) -> tuple[float, Unit] | None:
        """A number with its unit, or a finding."""
        text: str = node[key]  # type: ignore[index]  # as above
        parts = parted(text.strip())
        if parts is None:
            self.at_value("quantity-form", f"`{text.strip()}` is no quantity like `0.5 kg`", node, key)
            return None
        unit = self.unit_of(parts[1], node, key, text.find(parts[1], len(text) - len(text.lstrip()) + parts[2]))
        return None if unit is None else (parts[0], unit)


def quantity_of(wanted: Wanted) -> Quantity | None:
    """What a formula must give as a kind."""
    return quantity_in(wanted) if isinstance(wanted, Unit) else None if wanted is None else Quantity(wanted)


def shortened(message: str) -> str:
    """A message on one line, with no more of an author's text in it than a person reads."""
    message = one_line(message)
    return message if len(message) <= LONGEST else message[: LONGEST - 3] + "..."


def one_line(text: str) -> str:
    """An author's text with its line ends and runs of blanks made single blanks."""
    return " ".join(text.split())


def number(text: str) -> float | None:
    """A number of the language, or None where the text is none."""
    return float(text) if is_number(text) else None


def parted(text: str) -> tuple[float, str, int] | None:
    """(number, unit text, length of the number) of a quantity; None where it is none. `40` alone has the unit 1."""
    head, blank, tail = text.partition(" ")
    value = number(head)
    if value is None or (blank and not tail.strip()):
        return None
    return (value, tail.strip(), len(head)) if blank else (value, "1", 0)


def unbracketed(text: str, start: int) -> str:
    """What to write where a formula fails at a unit that stands behind a number without brackets; else nothing."""
    before = text[:start].split()
    unit = text[start:].split(maxsplit=1)
    if not before or not unit or number(before[-1]) is None or isinstance(parse_unit(unit[0]), Fault):
        return ""
    return f"A unit behind a number stands in brackets: {before[-1]} [{unit[0]}]."


def near(name: str, known: Mapping[str, object] | tuple[str, ...]) -> str:
    """`Did you mean ...?`, or which there are where they are few."""
    from runner.formula.fault import nearest_name

    names = tuple(known)
    if len(names) > MOST:
        return ""
    close = nearest_name(name, names)
    if close:
        return f"Did you mean `{close}`?"
    if not names:
        return "None is defined."
    return "There are " + ", ".join(f"`{known_name}`" for known_name in names) + "." if len(names) <= 8 else ""
