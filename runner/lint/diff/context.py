"""Both procedures with what every row needs: how old names are written now, which things are the same, facts in words.

Built once for a comparison; rows only read it.
"""

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any, NamedTuple

from runner.formula.expr import Expr
from runner.formula.scope import PathRoller, TableRows, names_needed
from runner.lint.diff.bounds import Compared, compared, holds_more
from runner.lint.diff.match import Matched, likeness, matched, moved
from runner.lint.diff.naming import OLD, Naming, both_scopes, in_new_names, nothing_renamed
from runner.lint.diff.normal import Key, key_of
from runner.procedure.asks.ask import Ask
from runner.procedure.model import (
    Calculation,
    Facts,
    Phase,
    Procedure,
    Split,
    Step,
    StepList,
    TrackedState,
    Trouble,
    steps_of,
)


class Standing(NamedTuple):
    """A step with where it stands."""

    step: Step
    phase: Phase
    list: StepList
    phase_index: int
    place: int
    """Place in its list."""
    turn: int
    """Place among all steps of the procedure."""


class Context:
    """Old and new, and what is the same in both."""

    def __init__(self, old: Procedure, new: Procedure) -> None:
        self.old, self.new = old, new
        self.naming: Naming = nothing_renamed()
        self.roles = matched(old.people, new.people, lambda one: one[0], lambda one, other: float(one[1] == other[1]))
        self._keep(self.naming.roles, [(a[0], b[0]) for a, b in self.roles.both])
        self._scopes()
        self.cautions = matched(old.cautions, new.cautions, lambda one: one.id, _same_but(("id", "place")))
        self._keep(self.naming.cautions, [(a.id, b.id) for a, b in self.cautions.both])
        self.states = matched(old.states, new.states, lambda one: one.name, self._like_states)
        self._keep(self.naming.states, [(a.name, b.name) for a, b in self.states.both])
        self.racks = matched(old.racks, new.racks, lambda one: one.name, _same_but(("name", "place")))
        self._keep(self.naming.racks, [(a.name, b.name) for a, b in self.racks.both])
        self.inputs = matched(old.inputs, new.inputs, lambda one: one.name, _same_but(("name", "place", "why")))
        self._keep(self.naming.values, [(a.name, b.name) for a, b in self.inputs.both])
        self.steps = matched(
            standings(old), standings(new), lambda one: one.step.id, self._like_steps,
            twin=lambda one: (one.step.do.text, one.phase.name, one.list.person),
        )  # fmt: skip
        self._keep(self.naming.steps, [(a.step.id, b.step.id) for a, b in self.steps.both])
        self.asks = {b.step.id: self._asks(a.step, b.step) for a, b in self.steps.both}
        self.troubles = {b.step.id: _troubles(a.step, b.step) for a, b in self.steps.both}
        self.calculations = self._calculations()
        self.phases = matched(old.phases, new.phases, lambda one: one.name, self._like_phases)
        self.merged = new._replace(scope=both_scopes(old.scope, new.scope, self.naming))

    def _calculations(self) -> Matched[Calculation | Split]:
        """Calculations in both; where one is renamed, those that rest on it are looked at once more."""
        while True:
            known = len(self.naming.values)
            found = matched(
                self.old.calculations, self.new.calculations, lambda one: one.name, self._like_calculations, self.value
            )
            self._keep(self.naming.values, [(a.name, b.name) for a, b in found.both])
            if len(self.naming.values) == known:
                return found

    def _keep(self, kept: dict[str, str], pairs: list[tuple[str, str]]) -> None:
        kept.update({old: new for old, new in pairs if old != new})

    def _scopes(self) -> None:
        """Tables and web paths: the same, renamed, or apart under an old name."""
        old, new = self.old.scope, self.new.scope
        tables = {name: table_key(rows) for name, rows in new.tables.items()}
        for name, rows in old.tables.items():
            self._scope_name(self.naming.tables, name, table_key(rows), tables, old.tables.keys())
        paths = {name: path_key(rollers) for name, rollers in new.paths.items()}
        for name, rollers in old.paths.items():
            self._scope_name(self.naming.paths, name, path_key(rollers), paths, old.paths.keys())

    def _scope_name(self, kept: dict[str, str], name: str, key: Key, new: dict[str, Key], known: Iterable[str]) -> None:
        if new.get(name) == key:
            return
        same = [other for other, other_key in new.items() if other_key == key and other not in known]
        kept[name] = same[0] if len(same) == 1 and name not in new else OLD + name

    def _asks(self, old: Step, new: Step) -> Matched[Ask]:
        def like(one: Ask, other: Ask) -> float:
            return likeness(one.ask, other.ask) if one.kind == other.kind else 0.0

        found = matched(old.asks, new.asks, lambda one: one.name, like)
        self._keep(self.naming.values, [(a.name, b.name) for a, b in found.both])
        return found

    def _like_states(self, one: TrackedState, other: TrackedState) -> float:
        """The same values at the same ends, and the share of steps that need or make them in both texts."""
        plain = (one.of, one.at_start, one.at_end, one.one_owner, one.keeps)
        if plain != (other.of, other.at_start, other.at_end, other.one_owner, other.keeps):
            return 0.0
        old, new = (
            {
                (step.id, kind, value)
                for step in steps_of(procedure)
                for kind, facts in (("needs", step.needs), ("makes", step.makes))
                for state, value in facts
                if procedure.states[state].name == name
            }
            for procedure, name in ((self.old, one.name), (self.new, other.name))
        )
        return len(old & new) / len(old | new) if old | new else 0.0

    def _like_steps(self, one: Standing, other: Standing) -> float:
        """The act counts most; then who, which states, which answers and where."""
        old, new = one.step, other.step
        facts = [
            (set(self.facts(a, True)), set(self.facts(b, False)))
            for a, b in ((old.needs, new.needs), (old.makes, new.makes))
        ]
        shares = [
            0.5 * likeness(old.do.text, new.do.text),
            0.1 * (self.role(old.by) == new.by),
            *(0.1 * (len(a & b) / len(a | b) if a | b else 1.0) for a, b in facts),
            0.1 * ({ask.ask for ask in old.asks} == {ask.ask for ask in new.asks}),
            0.1 * (one.phase.name == other.phase.name),
        ]
        return sum(shares)

    def _like_calculations(self, one: Calculation | Split, other: Calculation | Split) -> float:
        if isinstance(one, Calculation) and isinstance(other, Calculation):
            same = key_of(self.now(one.formula)) == key_of(other.formula)
            return float(same and one.unit.dimension == other.unit.dimension)
        if isinstance(one, Split) and isinstance(other, Split):
            return float(self.value(one.mass) == other.mass and self.naming.racks.get(one.rack, one.rack) == other.rack)
        return 0.0

    def _like_phases(self, one: Phase, other: Phase) -> float:
        """The share of steps that are in both."""
        old = {self.naming.steps.get(step.id, step.id) for part in one.lists for step in part.steps}
        new = {step.id for part in other.lists for step in part.steps}
        return len(old & new) / max(len(old | new), 1)

    def role(self, old: str) -> str:
        """An old role in the new text's names."""
        return self.naming.roles.get(old, old)

    def value(self, old: str) -> str:
        """An old value's name in the new text."""
        return self.naming.values.get(old, old)

    def step(self, old: str) -> str:
        """An old step's id in the new text."""
        return self.naming.steps.get(old, old)

    def trouble(self, new_step: str, old: str) -> str:
        """How the new text calls an old step's trouble; as it was where it is gone."""
        for a, b in self.troubles[new_step].both:
            if old and a.id == old:
                return b.id
        return old

    def now(self, old: Expr) -> Expr:
        """An old formula in the new text's names."""
        return in_new_names(old, self.naming)

    def facts(self, facts: Facts, old: bool) -> dict[str, str]:
        """States with their values, by name as the new text has it."""
        states = (self.old if old else self.new).states
        names = {states[state].name: states[state].of[value] for state, value in facts}
        return {self.naming.states.get(name, name): value for name, value in names.items()} if old else names

    def compare(self, old: Expr, new: Expr) -> Compared:
        """An old formula beside a new one, over all allowed jobs."""
        return compared(self.now(old), new, self.merged)

    def conditions(self, old: Expr, new: Expr) -> Compared:
        """An old condition beside a new one."""
        return holds_more(self.now(old), new, self.merged)

    @cached_property
    def phase_of(self) -> dict[int, int]:
        """Index of an old phase to that of the new one."""
        old = {id(phase): index for index, phase in enumerate(self.old.phases)}
        new = {id(phase): index for index, phase in enumerate(self.new.phases)}
        return {old[id(a)]: new[id(b)] for a, b in self.phases.both}

    @cached_property
    def moved_phases(self) -> frozenset[int]:
        """Indices of the new phases that stand in another order."""
        return moved([self.phase_of[index] for index in sorted(self.phase_of)])

    @cached_property
    def moved_steps(self) -> frozenset[str]:
        """New ids of the steps that stand in another phase, list or order."""
        found = {b.step.id for a, b in self.steps.both if self.other_list(a, b)}
        lists: dict[tuple[int, str, str], list[tuple[int, int, str]]] = {}
        for a, b in self.steps.both:
            if b.step.id not in found:
                lists.setdefault((b.phase_index, a.list.person, b.list.person), []).append(
                    (a.place, b.place, b.step.id)
                )
        for entries in lists.values():
            ids = {new: id_ for _, new, id_ in entries}
            found |= {ids[new] for new in moved([new for _, new, _ in sorted(entries)])}
        return frozenset(found)

    def other_list(self, old: Standing, new: Standing) -> bool:
        """Whether a step stands in another phase or another person's list; a phase that became one of lists is no move."""
        if self.phase_of.get(old.phase_index) != new.phase_index:
            return True
        both_lists = bool(old.list.person) and bool(new.list.person)
        return both_lists and self.role(old.list.person) != new.list.person

    def resting(self, name: str) -> tuple[str, ...]:
        """What would pass or stop otherwise if a value of the new text came out otherwise: limits, pieces, answers, steps."""
        moved_with, found = {name}, []
        for worked in self.new.calculations:
            if worked.uses & moved_with:
                moved_with.add(worked.name)
                if isinstance(worked, Split) or worked.limits:
                    found.append(worked.name)
        for step in steps_of(self.new):
            conditions = [step.when.expr] if step.when else []
            conditions += [step.repeat.until] if step.repeat else []
            if any(self._needs(expr, moved_with) for expr in conditions):
                found.append(step.id)
            found += [
                ask.name
                for ask in step.asks
                if any(self._needs(bound, moved_with) for bound in (ask.low, ask.high) if bound is not None)
            ]
        return tuple(found)

    def _needs(self, expr: Expr, names: set[str]) -> bool:
        return bool(names_needed(expr, self.new.scope) & names)

    @cached_property
    def releases(self) -> dict[str, int]:
        """How often each role releases, agrees or accepts, in both texts together."""
        found: dict[str, int] = {}
        for procedure, named in ((self.old, self.role), (self.new, str)):
            roles = [step.hold.release for step in steps_of(procedure) if step.hold]
            roles += [step.optional for step in steps_of(procedure) if step.optional not in ("", "reason")]
            roles += [one.release for one in procedure.calculations if isinstance(one, Split) and one.release]
            for role in roles:
                found[named(role)] = found.get(named(role), 0) + 1
        return found


def _troubles(old: Step, new: Step) -> Matched[Trouble]:
    def like(one: Trouble, other: Trouble) -> float:
        return max(likeness(one.sign, other.sign), likeness(one.do.text, other.do.text))

    return matched(old.troubles, new.troubles, lambda one: one.id or one.sign, like)


def standings(procedure: Procedure) -> tuple[Standing, ...]:
    """All steps with where they stand."""
    found: list[Standing] = []
    for number, phase in enumerate(procedure.phases):
        for part in phase.lists:
            for index, step in enumerate(part.steps):
                found.append(Standing(step, phase, part, number, index, len(found)))
    return tuple(found)


def path_key(rollers: tuple[PathRoller, ...]) -> Key:
    """What a web path is, without the places of its formulas."""
    return tuple((r.name, key_of(r.x), key_of(r.y), key_of(r.diameter), r.side, r.moves, r.travel) for r in rollers)


def table_key(table: TableRows) -> Key:
    """What a table is; the order of its columns is none of it."""
    order = sorted(range(len(table.columns)), key=lambda index: table.columns[index])
    return tuple(sorted(table.columns)), tuple(tuple(row[index] for index in order) for row in table.rows)


def _same_but(left_out: tuple[str, ...]) -> Callable[[Any, Any], float]:
    """Whether two tuples with names are the same in all other fields."""
    nothing = dict.fromkeys(left_out)

    def like(one: Any, other: Any) -> float:
        return float(one._replace(**nothing) == other._replace(**nothing))

    return like
