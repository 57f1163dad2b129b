"""Rules about motion: nothing moves with a guard open but held by hand and slowly, and no hand works at moving rollers.

Drives and guards are told by the words of their states (`runner.lint.equipment`); where a procedure tracks none, the rules are
silent. The figures are data (`runner.lint.motion_figures`); the site's own come first. None of this says that a press is safe.
"""

from collections.abc import Iterator

from runner.formula.dimension import LENGTH, SPEED
from runner.formula.evaluate import evaluate
from runner.formula.units import Unit, parse_unit
from runner.lint.analysis import Analysis
from runner.lint.equipment import Part, among, of_one_side, value_in
from runner.lint.motion_figures import figures_of, sourced
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import HANDS_AT_WORK, HELD
from runner.lint.words import first_word, number_of, numbers_in
from runner.procedure.finding import Severity
from runner.procedure.model import Calculation, Step

SURE = 1 + 1e-9


@rule(Severity.WARNING, lasting=True)
def motion_without_guard(analysis: Analysis) -> Iterator[Remark]:
    """A step sets a drive moving and does not need a guard of it to be closed.

    Why: on some way through the procedure, after a step back or a pause, the guard stands open, and the engine has no ground to
    refuse the start.
    Source: most injuries at presses come at make-ready, webbing-up and cleaning, with guards not refitted: HSE, Printing machinery.

    Wrong:
        states:
          press_drive: {of: [stopped, running], at_start: stopped, at_end: running}
          print_guard: {of: [open, closed], at_end: closed}
        phases:
          - phase: Start
            park: after
            steps:
              - {id: close, by: unwind, do: Close the print guard., makes: {print_guard: closed}}
              - {id: start, by: unwind, do: Start the press., makes: {press_drive: running}}  # here
              - {id: look, by: unwind, do: Look at the print., needs: {print_guard: closed}}
    Right:
        states:
          press_drive: {of: [stopped, running], at_start: stopped, at_end: running}
          print_guard: {of: [open, closed], at_end: closed}
        phases:
          - phase: Start
            park: after
            steps:
              - {id: close, by: unwind, do: Close the print guard., makes: {print_guard: closed}}
              - {id: start, by: unwind, do: Start the press., needs: {print_guard: closed}, makes: {press_drive: running}}
    """
    for step, drive in _moving(analysis):
        for guard in of_one_side(drive, analysis.equipment.guards):
            if value_in(step.needs, guard) is None:
                yield Remark(
                    analysis.within(step.place, "makes"),
                    f"`{step.id}` sets {drive.label} moving and does not need {guard.label} to be closed",
                    f"Add {guard.label} to its `needs`.",
                )


@rule(Severity.WARNING, lasting=True)
def motion_with_guard_open(analysis: Analysis) -> Iterator[Remark]:
    """A step moves a drive with a guard open, and does not say that the motion is held by hand.

    Why: with a guard open a press moves only while somebody holds a button and sees the nip. Motion that goes on by itself draws in
    whoever stands there.
    Source: hold-to-run with guards open is informed by HSE, Printing machinery, Control definitions, and EN 1010-1.

    Wrong:
        states:
          press_drive: {of: [stopped, creeping], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on by 20 mm.
                makes: {press_drive: creeping}  # here
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: creeping}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    Right:
        states:
          press_drive: {of: [stopped, inching], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on by 20 mm with the hold-to-run button.
                makes: {press_drive: inching}
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    """
    for step, drive, guard in _open(analysis):
        if not _held(step, analysis.equipment.value(drive, value_in(step.makes, drive) or 0)):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` moves {drive.label} with {guard.label} open, and nothing says hold-to-run",
                "Let it need the guard closed; or, where the site allows it, say hold-to-run or inch, and how far or fast.",
            )


@rule(Severity.WARNING, lasting=True)
def held_motion_too_fast(analysis: Analysis) -> Iterator[Remark]:
    """A step moves the press by hold-to-run with a guard open, farther or faster than any published figure.

    Why: the figures leave a person the time to let go before a hand is in the nip.
    Source: at most 75 mm each time, or 5 m/min, and 25 mm or 1 m/min first: HSE, Printing machinery, Control definitions.

    Wrong:
        states:
          press_drive: {of: [stopped, inching], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on at 8 m/min with the hold-to-run button.  # here
                makes: {press_drive: inching}
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    Right:
        states:
          press_drive: {of: [stopped, inching], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on at 1 m/min with the hold-to-run button.
                makes: {press_drive: inching}
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    """
    for step, drive, guard in _open(analysis):
        for value, unit in _figures(analysis, step):
            figures = [row for row in figures_of(analysis.motion) if row.dimension == unit.dimension]
            most, shown = max((row.most, row.shown) for row in figures)
            if value > most * SURE:
                yield Remark(
                    analysis.within(step.place, "do"),
                    f"`{step.id}` moves {drive.label} with {guard.label} open beyond {shown}",
                    f"Stay within the site's own figures; {sourced(analysis.motion)}.",
                )
                break


@rule(Severity.NOTE)
def held_motion_without_figure(analysis: Analysis) -> Iterator[Remark]:
    """A step moves the press by hold-to-run with a guard open, without a figure, or with one for special cases only.

    Why: how far and how fast it may go is the site's to say, for this machine and this work. Without a figure each person picks one.
    Source: HSE, Printing machinery, Control definitions: 25 mm each time or 1 m/min; 75 mm or 5 m/min only where these defeat the
    work and nothing grows much more dangerous.

    Wrong:
        states:
          press_drive: {of: [stopped, inching], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on with the hold-to-run button.  # here
                makes: {press_drive: inching}
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    Right:
        states:
          press_drive: {of: [stopped, inching], at_start: stopped}
          print_guard: {of: [open, closed], at_start: open}
        phases:
          - phase: Turn
            park: after
            steps:
              - id: turn
                by: unwind
                needs: {print_guard: open}
                do: Turn the press on by 25 mm with the hold-to-run button.
                makes: {press_drive: inching}
              - {id: stop, by: unwind, do: Stop the press., needs: {press_drive: inching}, makes: {press_drive: stopped}}
              - {id: close, by: unwind, do: Close the guard., needs: {press_drive: stopped}, makes: {print_guard: closed}}
    """
    for step, drive, guard in _open(analysis):
        if not _held(step, analysis.equipment.value(drive, value_in(step.makes, drive) or 0)):
            continue
        figures = _figures(analysis, step)
        if not figures:
            told = "does not say how far or fast"
        elif any(_only_later(analysis, value, unit) for value, unit in figures):
            told = "goes beyond the figures that come first"
        else:
            continue
        yield Remark(
            analysis.within(step.place, "do"),
            f"`{step.id}` moves {drive.label} with {guard.label} open and {told}",
            f"Write the site's own figure into the act; {sourced(analysis.motion)}.",
        )


@rule(Severity.WARNING, lasting=True)
def guard_opened_in_motion(analysis: Analysis) -> Iterator[Remark]:
    """A step opens a guard and needs no drive of it stopped.

    Why: rollers run on after the stop button, and another step or person may have started them. The engine refuses only what a
    need names.
    Source: most injuries at presses come at make-ready, webbing-up and cleaning: HSE, Printing machinery; order of protection: ISO 12100.

    Wrong:
        states:
          press_drive: {of: [stopped, running], at_start: running}
          print_guard: {of: [open, closed], at_start: closed}
        phases:
          - phase: Open
            park: after
            steps:
              - {id: stop, by: unwind, do: Stop the press., makes: {press_drive: stopped}}
              - {id: open, by: unwind, do: Open the print guard., makes: {print_guard: open}}  # here
              - {id: wipe, by: unwind, do: Wipe the plate., needs: {print_guard: open, press_drive: stopped}}
    Right:
        states:
          press_drive: {of: [stopped, running], at_start: running}
          print_guard: {of: [open, closed], at_start: closed}
        phases:
          - phase: Open
            park: after
            steps:
              - {id: stop, by: unwind, do: Stop the press., makes: {press_drive: stopped}}
              - {id: open, by: unwind, do: Open the print guard., needs: {press_drive: stopped}, makes: {print_guard: open}}
              - {id: wipe, by: unwind, do: Wipe the plate., needs: {print_guard: open, press_drive: stopped}}
    """
    parts = analysis.equipment
    if not parts.drives:
        return
    resting = (*parts.drives, *parts.switches, *parts.locks)
    for step in analysis.steps if parts.guards else ():
        for guard in parts.guards:
            if among(step.makes, guard, guard.unsafe) and not any(among(step.needs, p, p.safe) for p in resting):
                yield Remark(
                    analysis.within(step.place, "makes"),
                    f"`{step.id}` opens {guard.label} and needs nothing that keeps the press still",
                    f"Add to its `needs` that {parts.drives[0].label} is "
                    f"{parts.value(parts.drives[0], min(parts.drives[0].safe))}.",
                )


@rule(Severity.WARNING)
def hands_at_moving_rollers(analysis: Analysis) -> Iterator[Remark]:
    """A step wipes, threads, cuts or pulls while it needs a drive to be moving.

    Why: hands are drawn in where rollers run together, mostly in wiping and in pulling a web through.
    Source: most injuries at presses come at make-ready, webbing-up, clearing and cleaning: HSE, Printing machinery.

    Wrong:
        states:
          press_drive: {of: [stopped, creeping], at_start: creeping}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the plate roller., needs: {press_drive: creeping}}  # here
              - {id: stop, by: unwind, do: Stop the press., makes: {press_drive: stopped}}
    Right:
        states:
          press_drive: {of: [stopped, creeping], at_start: creeping}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: stop, by: unwind, do: Stop the press., makes: {press_drive: stopped}}
              - {id: wipe, by: unwind, do: Wipe the plate roller., needs: {press_drive: stopped}}
    """
    for step in analysis.steps if analysis.equipment.drives else ():
        word = first_word(step.do.text)
        if word not in HANDS_AT_WORK:
            continue
        moving = next((drive for drive in analysis.equipment.drives if among(step.needs, drive, drive.unsafe)), None)
        if moving is not None:
            yield Remark(
                analysis.within(step.place, "needs"),
                f"`{step.id}` has hands at work (`{word}`) while {moving.label} moves",
                "Let it need the drive stopped.",
            )


def _moving(analysis: Analysis) -> Iterator[tuple[Step, Part]]:
    """Steps that set a drive moving, each with the first such drive; none where no guard is tracked."""
    parts = analysis.equipment
    if not parts.guards or not parts.drives:
        return
    for step in analysis.steps:
        for drive in parts.drives if step.makes else ():
            if among(step.makes, drive, drive.unsafe):
                yield step, drive
                break


def _open(analysis: Analysis) -> Iterator[tuple[Step, Part, Part]]:
    """Steps that set a drive moving and need a guard of it open, with the drive and the guard."""
    for step, drive in _moving(analysis):
        guards = of_one_side(drive, analysis.equipment.guards)
        guard = next((guard for guard in guards if among(step.needs, guard, guard.unsafe)), None)
        if guard is not None:
            yield step, drive, guard


def _held(step: Step, value: str) -> bool:
    told = f"{step.do.text} {value}".lower()
    return any(word in told for word in HELD)


def _figures(analysis: Analysis, step: Step) -> list[tuple[float, Unit]]:
    """Lengths and speeds that the act names, in SI, written out or the greatest that a slot's limit allows."""
    found: list[tuple[float, Unit]] = []
    for _, number, glued, follows in numbers_in(step.do.text):
        unit = parse_unit(follows.strip(".,;:!)")) if not glued and follows else None
        value = number_of(number)
        if isinstance(unit, Unit) and value is not None:
            found.append((unit.si(value), unit))
    shown = {slot.name for slot in step.do.slots}
    for worked in analysis.procedure.calculations:
        for limit in worked.limits if isinstance(worked, Calculation) and worked.name in shown else ():
            most = evaluate(limit.bound, {}, analysis.procedure.scope) if limit.op[0] == "<" else None
            if isinstance(most, float) and isinstance(worked, Calculation):
                found.append((most, worked.unit))
    found += [(g.within.high, g.unit) for g in analysis.procedure.inputs if g.name in shown and g.within and g.unit]
    return [(value, unit) for value, unit in found if unit.dimension in (LENGTH, SPEED)]


def _only_later(analysis: Analysis, value: float, unit: Unit) -> bool:
    first = next(row.most for row in figures_of(analysis.motion) if row.dimension == unit.dimension and row.first)
    return value > first * SURE
