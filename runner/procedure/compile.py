"""The door: text of a procedure to a compiled `Procedure`, or to the findings that say why there is none.

Text comes in, fragments come through `fetch`, values go out; nothing here opens a file or asks the time. As many
findings as can be trusted are reported at once, and nothing that only follows from another finding.
"""

from typing import NamedTuple

from runner.formula.scope import Scope
from runner.procedure.desk import Desk
from runner.procedure.digest import digest
from runner.procedure.finding import Finding, in_order
from runner.procedure.include import Fetch, Folder, with_use
from runner.procedure.language.files import PROCEDURE
from runner.procedure.model import Phase, Procedure, StepList
from runner.procedure.names import Names
from runner.procedure.nodes import Map
from runner.procedure.parts.calculations import declare_calculations, in_order_of_use, read_calculations
from runner.procedure.parts.checks import check_formulas
from runner.procedure.parts.examples import with_examples
from runner.procedure.parts.head import listed, read_approval, read_cautions, read_changes, read_people, text
from runner.procedure.parts.paths import read_paths
from runner.procedure.parts.phases import read_phases
from runner.procedure.parts.references import check_order, check_slots, check_steps, with_uses
from runner.procedure.parts.splits import check_gives
from runner.procedure.parts.steps import Press, read_make_safe
from runner.procedure.parts.values import read_inputs, read_racks, read_states, read_tables
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import plain_lines, read


class Compiled(NamedTuple):
    """What compiling gives: no procedure where any finding is an error."""

    procedure: Procedure | None
    findings: tuple[Finding, ...]


def compile_procedure(written: str, path: str, fetch: Fetch) -> Compiled:
    """The procedure that a text writes. `path` goes into findings; `fetch` gives a fragment's text, or None.

    A fragment is asked for by the folder of `path` joined with the path that the author wrote.
    """
    source = read(written, path)
    desk = Desk()
    desk.findings.extend(source.findings)
    root = source.root
    procedure = None
    if root is not None and not wrong_file(root, "format", desk):
        root = sound(root, PROCEDURE, desk)
        if root is not None:
            procedure = compile_root(root, plain_lines(written), path, fetch, desk)
    findings = in_order([with_use(finding, desk.used_at) for finding in desk.findings])
    return Compiled(None if desk.failed else procedure, findings)


def compile_root(root: Map, written: str, path: str, fetch: Fetch, desk: Desk) -> Procedure:
    """The procedure of a checked top map; it counts only where the desk has no error in the end."""
    names = Names(desk)
    people, cautions = read_people(root, desk), read_cautions(root, desk)
    inputs, tables, racks = read_inputs(root, names), read_tables(root, names), read_racks(root, desk)
    places = [(name, known.place) for name, known in names.known.items() if known.what == "table"]
    scope = Scope(tables, read_paths(root, names, places))
    states = read_states(root, desk)
    names.states = {name: state.of for name, state in states.items()}
    declare_calculations(root, names)
    press = Press(people, cautions, states, names)
    make_safe = read_make_safe(root, states, desk)
    folder = Folder(path, fetch, desk)
    phases, placed = read_phases(root, folder, press, make_safe)
    found = read_calculations(root, names, racks, dict(people))
    check_formulas(names)
    calculations = with_examples(in_order_of_use(found, scope, desk), root, names, scope)
    check_gives(calculations, root, names, scope)
    check_steps(placed, names)
    check_slots(placed, names)
    check_order(placed, names, calculations, scope)
    sources = ((path[len(folder.base) :], written), *folder.texts.items())
    number = digest(sources, root)
    return Procedure(
        id=text(root, "id"),
        title=text(root, "title"),
        revision=int(root["revision"]),
        status=text(root, "status", "draft"),
        equipment=text(root, "equipment"),
        purpose=text(root, "purpose"),
        changes=read_changes(root, desk),
        approval=read_approval(root, number, desk),
        people=people,
        tools=listed(root, "tools"),
        cautions=tuple(cautions.values()),
        inputs=inputs,
        racks=tuple(racks.values()),
        states=tuple(states.values()),
        calculations=calculations,
        scope=scope,
        make_safe=make_safe,
        phases=tuple(used(phase, scope) for phase in phases),
        digest=number,
        sources=sources,
        places=tuple(places),
        used_at=tuple((path, tuple(lines)) for path, lines in desk.used_at.items()),
    )


def used(phase: Phase, scope: Scope) -> Phase:
    """The phase with the names that its steps use."""
    lists = tuple(StepList(one.person, tuple(with_uses(step, scope) for step in one.steps)) for one in phase.lists)
    return phase._replace(lists=lists)
