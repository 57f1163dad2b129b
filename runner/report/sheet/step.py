"""One step as a form: all that stands on the screen before, at and after the act, with room for what a person gives.

A step that is over by the record keeps its number, its act as it was shown, its answers and its signatures; what had to
be read before it is left out, since nobody is to do it again.
"""

from runner.engine.state import StepStatus
from runner.formula.evaluate import evaluate
from runner.formula.quantity import show
from runner.formula.scope import names_needed
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Facts, Procedure, Step, Trouble, steps_of
from runner.report.contents.section import Row
from runner.report.contents.words import duration_words
from runner.report.sheet.form import BOX, LONG_BLANK, CautionForm, HoldForm, SignBox, StepForm, TroubleForm
from runner.report.sheet.known import Known
from runner.report.sheet.recorded import CLOSED, Recorded, clock_time, newest_attempt
from runner.report.working.marks import WORDS

MOST_BOXES = 12
"""Passes of a repeat that get a box each."""

SECOND = {
    "independent": "Second look, without seeing the first answers",
    "together": "Second look, together",
}


def step_form(procedure: Procedure, known: Known, run: Recorded | None, step: Step) -> StepForm:
    """The form of one step over known values and, for a run, its record."""
    row = run.rows.get(step.id) if run is not None else None
    status, closed = status_of(run, row)
    applies: tuple[str, ...] = ()
    if not closed:
        applies, never = condition_lines(known, step)
        if never:
            status, closed = applies[0], True
    roles = dict(procedure.people)
    attempt = newest_attempt(row) if row is not None else None
    act = attempt["act"] if closed and attempt and attempt["act"] else known.filled(step.do)
    told = ask_lines(known, run, step, attempt if closed or may_show(step, row) else None, closed)
    return StepForm(
        number=step.number,
        who=roles.get(step.by, step.by),
        status=status,
        closed=closed,
        here=run is not None and step.id in run.here,
        stops=() if closed else stop_lines(known, step),
        applies=() if closed else applies,
        cautions=() if closed else tuple(
            CautionForm(one.signal, tuple(part for part in (one.hazard, one.harm, one.avoid) if part))
            for one in step.cautions
        ),
        before=() if closed else (*state_lines(procedure, step.needs), *lift_lines(step)),
        hold=HoldForm(roles.get(step.hold.release, step.hold.release), step.hold.protects, step.hold.confirm)
        if step.hold is not None and not closed else None,
        act=act,
        why="" if closed else step.why,
        asks=told,
        after=() if closed else after_lines(procedure, step),
        troubles=() if closed else tuple(trouble_form(procedure, known, one) for one in step.troubles),
        signs=sign_boxes(procedure, run, step, closed, attempt),
    )  # fmt: skip


def may_show(step: Step, row: Row | None) -> bool:
    """Whether the answers of a step in progress may stand on the form: the person of an independent second look has to
    answer without them."""
    hidden = step.second is not None and step.second.how == "independent"
    return row is not None and row["status"] == StepStatus.BEGUN.value and not hidden


def status_of(run: Recorded | None, row: Row | None) -> tuple[str, bool]:
    """(what the record says of a step, whether nothing is left to do)."""
    if run is None or row is None:
        return "", False
    status, attempt = row["status"], newest_attempt(row)
    passed = row["passed"]
    when = f", {clock_time(passed['at'], run.begun.at.utc)}" if passed else ""
    signed = run.people.get(passed["by"], passed["by"]) if passed else ""
    by = f" {signed}" if signed else ""
    match status:
        case StepStatus.TO_DO.value:
            words = ""
        case StepStatus.BEGUN.value if attempt is not None:
            since = clock_time(attempt["begun"]["at"], run.begun.at.utc) if attempt["begun"] else "no time on record"
            who = run.people.get(attempt["by"], attempt["by"])
            words = f"BEGUN {since} {who}, NOT ENDED ON RECORD: find out how far it is before anybody goes on"
        case StepStatus.LEFT_OUT.value:
            agreed = f", agreed by {row['authority']}" if row["authority"] else ""
            words = f"LEFT OUT: {row['why']}{agreed}{when}{by}"
        case StepStatus.NOT_APPLICABLE.value:
            words = f"DOES NOT APPLY: {row['why']}{when}{by}"
        case StepStatus.TROUBLED.value:
            words = f"ENDED IN TROUBLE: {attempt['how'] if attempt else ''}"
        case StepStatus.AGAIN.value:
            words = "TO BE DONE AGAIN"
        case _:
            words = str(status).upper()
    return words, status in CLOSED


def condition_lines(known: Known, step: Step) -> tuple[tuple[str, ...], bool]:
    """(lines that say when a step applies, whether it is sure that it does not)."""
    if step.when is None:
        return (), False
    values, text = known.usable, step.when.text
    if names_needed(step.when.expr, known.procedure.scope) <= values.keys():
        found = evaluate(step.when.expr, values, known.procedure.scope)
        if found is False:
            return (f"DOES NOT APPLY to this job: {text} is not so",), True
        if found is True:
            return (f"Applies: {text}",), False
    return (f"Only where {text}", f"{BOX}it is so: do this step", f"{BOX}it is not so: leave this step out"), False


def stop_lines(known: Known, step: Step) -> tuple[str, ...]:
    """Why nobody may begin the step: what it goes by is out of limits, or rests on what is."""
    lines = []
    for name in sorted(step.uses & known.bad):
        value = known.values.get(name)
        if value is None or value.verdict in ("in", "accepted"):
            lines.append(f"Do not begin: {known.label(name)} rests on a value that is OUT OF LIMITS")
            continue
        limits = f", limit {value.limits}" if value.limits else ""
        lines.append(
            f"Do not begin: {known.label(name)} is {WORDS.get(value.verdict, value.verdict)} ({value.shown}{limits})"
        )
    return tuple(lines)


def lift_lines(step: Step) -> tuple[str, ...]:
    """With what a step lifts: on paper somebody reads the plates and the days of inspection."""
    return tuple(
        f"{BOX}plates and inspection of {', '.join(name.replace('_', ' ') for name in names)} fit the {load.replace('_', ' ')}"
        for load, names in step.lifts
    )


def state_lines(procedure: Procedure, facts: Facts) -> tuple[str, ...]:
    """Tracked states with the value that they are to have, a box each."""
    return tuple(f"{BOX}{procedure.states[at].label}: {procedure.states[at].of[value]}" for at, value in facts)


def ask_lines(
    known: Known, run: Recorded | None, step: Step, attempt: Row | None, closed: bool
) -> tuple[tuple[str, ...], ...]:
    """For each ask what is on record, else its blanks; a step that is over has no blanks."""
    found = []
    for ask in step.asks:
        on_record = recorded_lines(run, ask, attempt)
        if on_record or closed:
            found.append(on_record)
            continue
        found.append(blank_lines(known, run, step, ask))
    return tuple(lines for lines in found if lines)


def recorded_lines(run: Recorded | None, ask: Ask, attempt: Row | None) -> tuple[str, ...]:
    """What the record has as the answer of an attempt."""
    if run is None or attempt is None:
        return ()
    lines = []
    for answer in attempt["answers"]:
        if answer["name"] == ask.name and answer["verdict"] == "in":
            given = answer["corrected"][-1] if answer["corrected"] else answer
            who = run.people.get(given["by"], given["by"])
            second = "second look: " if answer["second_person"] else ""
            when = clock_time(given["at"], run.begun.at.utc)
            corrected = ", corrected" if answer["corrected"] else ""
            lines.append(f"{second}{ask.ask}: {given['shown']} (on record {when} {who}{corrected})")
    waited = [wait for wait in attempt["waits"] if ask.kind == "wait" and wait["name"] == ask.name and wait["ended"]]
    return (*lines, *(f"{ask.ask}: waited {duration_words(wait['waited_s'])}" for wait in waited))


def blank_lines(known: Known, run: Recorded | None, step: Step, ask: Ask) -> tuple[str, ...]:
    """The question with its blanks, what is unlikely, and where an answer out of limits leads."""
    lines = list(KIND_OF[ask.kind].printed(ask, known.usable, known.procedure.scope))
    if ask.kind == "thread" and run is not None:
        threaded = run.state.record(step.id).threaded
        for at, name in enumerate(threaded[: len(lines) - 1], start=1):
            lines[at] = f"{lines[at].replace(BOX, '[x] ', 1)} ({run.people.get(name, name)})"
    if ask.likely is not None and ask.unit is not None:
        low, high = (show(side, ask.unit) for side in ask.likely)
        lines.append(f"outside {low} to {high}: look once more")
    trouble = next((one for one in step.troubles if ask.otherwise and one.id == ask.otherwise), None)
    if trouble is not None and len(step.troubles) > 1:  # one alone stands beside the step anyway
        lines.append(f"not accepted: {trouble.sign}")
    return tuple(lines)


def after_lines(procedure: Procedure, step: Step) -> tuple[str, ...]:
    """What is so once the step is done, how often it is done again, and that it may be left out."""
    lines = list(state_lines(procedure, step.makes))
    if step.repeat is not None:
        repeat = step.repeat
        boxes = "  ".join(f"{BOX}{number}" for number in range(1, min(repeat.at_most, MOST_BOXES) + 1))
        lines.append(f"Again until {repeat.text}, at most {repeat.at_most} times; passes: {boxes}")
        trouble = next((one for one in step.troubles if repeat.otherwise and one.id == repeat.otherwise), None)
        if trouble is not None:
            lines.append(f"not so after {repeat.at_most} times: {trouble.sign}")
    if step.optional:
        lines.append(f"{BOX}left out, because {LONG_BLANK}{LONG_BLANK}")
    return tuple(lines)


def trouble_form(procedure: Procedure, known: Known, trouble: Trouble) -> TroubleForm:
    """A row of the side table."""
    match trouble.way_on:
        case "back_to":
            number = next((step.number for step in steps_of(procedure) if step.id == trouble.back_to), trouble.back_to)
            way = f"then back to {number}"
        case "go_on":
            way = "then go on with the next step"
        case _:
            way = "then stop: nobody goes on"
    blocking = "; it must be dealt with before the end" if trouble.blocking else ""
    return TroubleForm(trouble.sign, known.filled(trouble.do), way + blocking)


def sign_boxes(
    procedure: Procedure, run: Recorded | None, step: Step, closed: bool, attempt: Row | None
) -> tuple[SignBox, ...]:
    """Who signs for a step, in the order in which they do; for one that is over only what the record has."""
    roles = dict(procedure.people)
    if closed:
        return recorded_signs(roles, run, step, attempt) if run is not None else ()
    boxes = []
    if step.hold is not None:
        boxes.append(SignBox(f"Released, {roles.get(step.hold.release, step.hold.release)}"))
    boxes.append(SignBox(f"Done, {roles.get(step.by, step.by)}"))
    if step.second is not None:
        who = roles.get(step.second.by, step.second.by)
        boxes.append(SignBox(f"{SECOND.get(step.second.how, 'Second look')}, {who}"))
    if step.optional and step.optional != "reason":
        boxes.append(SignBox(f"Left out, agreed by {roles.get(step.optional, step.optional)}"))
    return tuple(boxes)


def recorded_signs(roles: dict[str, str], run: Recorded, step: Step, attempt: Row | None) -> tuple[SignBox, ...]:
    """Times and initials as the record has them."""
    begun, boxes = run.begun.at.utc, []
    released = run.released.get(step.id)
    if released is not None:
        by = run.people.get(released.by, released.by)
        boxes.append(
            SignBox(f"Released, {roles.get(released.role, released.role)}", clock_time(released.at.utc, begun), by)
        )
    if attempt is None:
        return tuple(boxes)
    ended = attempt["ended"]
    if ended is not None:
        by = run.people.get(ended["by"], ended["by"])
        what = "Done" if attempt["how"] == "done" else "Ended"
        boxes.append(SignBox(f"{what}, {roles.get(step.by, step.by)}", clock_time(ended["at"], begun), by))
    if attempt["second_looks"]:
        look = attempt["second_looks"][-1]
        who = roles.get(step.second.by, step.second.by) if step.second is not None else ""
        by = run.people.get(look["by"], look["by"])
        agrees = "" if look["agrees"] else " (does not agree)"
        boxes.append(SignBox(f"Second look, {who}{agrees}", clock_time(look["at"], begun), by))
    return tuple(boxes)
