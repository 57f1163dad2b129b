"""The work itself: phase by phase, list by list, each step a form; the web paths drawn where they are threaded.

Numbers are those of the screen. In a phase of two lists each list begins on a page of its own, since two people carry
them to two places.
"""

from collections.abc import Iterator

from runner.formula.scope import Scope, names_needed
from runner.procedure.clean import clean
from runner.procedure.model import Phase, Procedure, StepList
from runner.report.contents.web_paths import PAGE, solved_path, trimmed
from runner.report.document import Block, Heading, Listing, Note, Picture, Pictures
from runner.report.sheet.form import BOX, NewPage, SheetBlock
from runner.report.sheet.known import Known, with_middles
from runner.report.sheet.recorded import Recorded
from runner.report.sheet.step import step_form
from runner.trade.path_drawing.svg import svg
from runner.trade.path_drawing.text import text_lines
from runner.trade.web_path import Problem

PRESS = {"running": "The press may run the last job meanwhile.", "stopped": "The press is stopped."}

PARK = {
    "throughout": "Any moment of it is a safe place to be interrupted.",
    "after": "Its end is a safe place to be interrupted.",
    "": "There is no safe place to be interrupted in it.",
}


def phase_blocks(procedure: Procedure, known: Known, run: Recorded | None) -> Iterator[SheetBlock]:
    """All phases."""
    drawn: set[str] = set()
    for at, phase in enumerate(procedure.phases):
        if len(phase.lists) > 1 or (at and len(procedure.phases[at - 1].lists) > 1):
            yield NewPage()
        yield Heading(f"Phase {at + 1} of {len(procedure.phases)}: {phase.name}")
        yield Note(f"{PRESS.get(phase.press, '')} {PARK.get(phase.park, '')}".strip())
        if phase.make_safe:
            yield Note("To stop and make safe in this phase:")
            yield Listing(tuple(f"{BOX}{act.do}" for act in phase.make_safe))
        for number, steps in enumerate(phase.lists):
            if number:
                yield NewPage()
            yield from list_blocks(procedure, known, run, phase, steps, drawn)


def list_blocks(
    procedure: Procedure, known: Known, run: Recorded | None, phase: Phase, steps: StepList, drawn: set[str]
) -> Iterator[SheetBlock]:
    """One list: whose it is, the drawings of the paths that are threaded in it, its steps."""
    if len(phase.lists) > 1:
        who = dict(procedure.people).get(steps.person, steps.person)
        yield Heading(f"{phase.name}: list of {who}", 3)
    for step in steps.steps:
        for ask in step.asks:
            if ask.kind == "thread" and ask.path in procedure.scope.paths and ask.path not in drawn:
                drawn.add(ask.path)
                yield figure(procedure, known, ask.path, step.number, len(drawn))
    for step in steps.steps:
        yield step_form(procedure, known, run, step)


def figure(procedure: Procedure, known: Known, name: str, number: str, key: int) -> Block:
    """The drawing of a web path, or why there is none."""
    title = f"Web path {name.replace('_', ' ').removesuffix(' path')}, threaded in step {number}"
    to_size = path_names(procedure.scope, name) <= known.usable.keys()
    path = solved_path(procedure, name, known.usable if to_size else with_middles(known))
    if isinstance(path, Problem):
        return Note(f"{title}, has no drawing: {path.message}.")
    size = "drawn from the values of the job" if to_size else "order and passes only: sizes are not those of the job"
    caption = f"{title}; {size}"
    lines = tuple(clean(line) for line in trimmed(text_lines(path, *PAGE, plain=True)))
    return Pictures((Picture(caption, svg(path, caption, f"sheet-path-{key}"), lines),))


def path_names(scope: Scope, name: str) -> frozenset[str]:
    """The values that places and sizes of a path's rollers hang on."""
    rollers = scope.paths[name]
    parts = (part for roller in rollers for part in (roller.x, roller.y, roller.diameter))
    return frozenset(found for part in parts for found in names_needed(part, scope))
