"""Events folded to one row a step, with its attempts: what was done, by whom, from when to when, and what was answered.

The fold only sorts what events say. An attempt ends when its step is done, repeated, met by a trouble or gone back
from; one that has no end is still open. Durations come from ticks of the same boot.
"""

from runner.engine import events as ev
from runner.engine.moment import Moment, seconds_between
from runner.engine.state import StepStatus
from runner.report.contents.names import Entries, Names, StepName
from runner.report.contents.section import Row, stamp
from runner.report.contents.words import WAYS_ON

OPEN = "not ended"
"""How an attempt ends that has no end."""


class StepFold:
    """Rows by step while events come in; a step that the procedure does not know gets a row when it is named."""

    def __init__(self, names: Names) -> None:
        self.rows: dict[str, Row] = {}
        self.begun: dict[str, Moment] = {}
        """When the attempt that is on began, by step."""
        self.read: dict[str, list[str]] = {}
        """Cautions read for the attempt that comes next, by step."""
        self.names = names
        for step, name in names.steps.items():
            self.rows[step] = blank_row(step, name)

    def row(self, step: str) -> Row:
        """The row of a step."""
        if step not in self.rows:
            self.rows[step] = blank_row(step, StepName("", "", ""))
        return self.rows[step]

    def attempt(self, step: str) -> Row:
        """The newest attempt of a step; one without a beginning where the record holds none."""
        attempts = self.row(step)["attempts"]
        if not attempts:
            attempts.append(blank_attempt())
        newest: Row = attempts[-1]
        return newest

    def begin(self, number: int, event: ev.StepBegun) -> None:
        """An attempt begins."""
        row = self.row(event.step)
        row["status"] = StepStatus.BEGUN.value
        attempt = blank_attempt()
        attempt.update(
            attempt=event.attempt,
            act=event.act,
            begun=stamp(number, event),
            by=event.by,
            cautions_read=self.read.pop(event.step, []),
        )
        row["attempts"].append(attempt)
        self.begun[event.step] = event.at

    def end(self, number: int, event: ev.Event, step: str, how: str, status: StepStatus) -> None:
        """The attempt that is on ends; without one only the status changes."""
        self.row(step)["status"] = status.value
        began = self.begun.pop(step, None)
        if began is None:
            return
        attempt = self.attempt(step)
        attempt.update(ended=stamp(number, event), how=how, seconds=seconds_between(began, event.at))


def blank_row(step: str, name: StepName) -> Row:
    """A step to which nothing has happened."""
    return {
        "step": step,
        "step_number": name.number,
        "phase": name.phase,
        "press": name.press,
        "status": StepStatus.TO_DO.value,
        "why": "",
        "authority": "",
        "passed": None,
        "attempts": [],
    }


def blank_attempt() -> Row:
    """An attempt of which nothing is known yet."""
    return {
        "attempt": None,
        "act": "",
        "by": "",
        "begun": None,
        "ended": None,
        "how": OPEN,
        "seconds": None,
        "made": [],
        "cautions_read": [],
        "answers": [],
        "waits": [],
        "second_looks": [],
    }


def step_rows(entries: Entries, names: Names) -> tuple[Row, ...]:
    """One row a step, in the order of the procedure; see `blank_row` and `blank_attempt` for what stands in them."""
    fold = StepFold(names)
    for number, event in entries:
        place_step(fold, number, event)
        place_answer(fold, number, event)
    return tuple(fold.rows.values())


def place_step(fold: StepFold, number: int, event: ev.Event) -> None:
    """Events that begin or end a step."""
    match event:
        case ev.CautionsRead():
            fold.read.setdefault(event.step, []).extend(fold.names.caution(caution) for caution in event.cautions)
        case ev.StepBegun():
            fold.begin(number, event)
        case ev.StepDone():
            fold.end(number, event, event.step, "done", StepStatus.DONE)
            fold.attempt(event.step)["made"] = fold.names.states_said(event.made)
        case ev.StepRepeated():
            how = f"done again, pass {event.passes}: until {event.until}"
            fold.end(number, event, event.step, how, StepStatus.AGAIN)
        case ev.StepNotApplicable() | ev.StepLeftOut():
            row = fold.row(event.step)
            row["passed"] = stamp(number, event)
            if isinstance(event, ev.StepLeftOut):
                row.update(status=StepStatus.LEFT_OUT.value, why=event.reason, authority=event.authority)
            else:
                row.update(status=StepStatus.NOT_APPLICABLE.value, why=event.why, authority="")
        case ev.TroubleMet():
            way = WAYS_ON.get(event.way_on, event.way_on)
            went_on = event.way_on == "go_on"
            how = f"trouble: {event.sign} ({way}{' ' + fold.names.step(event.to) if event.to else ''})"
            fold.end(number, event, event.step, how, StepStatus.TROUBLED if went_on else StepStatus.AGAIN)
        case ev.WentBack():
            for step in event.again:
                fold.end(number, event, step, f"gone back to {fold.names.step(event.step)}", StepStatus.AGAIN)
        case _:
            pass


def place_answer(fold: StepFold, number: int, event: ev.Event) -> None:
    """Events that belong to the attempt that is on."""
    match event:
        case ev.Answered():
            fold.attempt(event.step)["answers"].append(answer_row(fold, number, event))
        case ev.AnswerCorrected():
            correct_answer(fold, number, event)
        case ev.LookedTwice():
            look = {**stamp(number, event), "how": event.how, "agrees": event.agrees, "words": event.words}
            fold.attempt(event.step)["second_looks"].append(look)
        case ev.WaitBegun():
            fold.attempt(event.step)["waits"].append({
                "name": event.name, "begun": stamp(number, event), "at_least_s": event.at_least_s,
                "ended": None, "waited_s": None, "late": False,
            })  # fmt: skip
        case ev.WaitEnded():
            waits: list[Row] = fold.attempt(event.step)["waits"]
            open_waits = [wait for wait in waits if wait["name"] == event.name and wait["ended"] is None]
            if not open_waits:
                open_waits.append({"name": event.name, "begun": None, "at_least_s": None})
                waits.append(open_waits[0])
            open_waits[-1].update(ended=stamp(number, event), waited_s=event.waited_s, late=event.late)
        case _:
            pass


def answer_row(fold: StepFold, number: int, event: ev.Answered) -> Row:
    """An answer as it was given."""
    return {
        **stamp(number, event),
        "step": event.step,
        "step_number": fold.names.number(event.step),
        "attempt": fold.attempt(event.step)["attempt"],
        "name": event.name,
        "kind": event.kind,
        "ask": event.ask,
        "typed": event.typed,
        "shown": event.shown,
        "value": event.value,
        "magnitude": event.magnitude,
        "unit": event.unit,
        "limits": event.limits,
        "verdict": event.verdict,
        "entry": event.entry,
        "second_person": event.hidden,
        "corrected": [],
    }


def correct_answer(fold: StepFold, number: int, event: ev.AnswerCorrected) -> None:
    """The newest answer of that name keeps what it was and gains the correction."""
    correction = {
        **stamp(number, event), "old": event.old, "typed": event.typed, "shown": event.shown,
        "value": event.value, "magnitude": event.magnitude, "unit": event.unit, "reason": event.reason,
    }  # fmt: skip
    for attempt in reversed(fold.row(event.step)["attempts"]):
        for answer in reversed(attempt["answers"]):
            if answer["name"] == event.name and not answer["second_person"]:
                answer["corrected"].append(correction)
                return


def answers_in(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """All answers, as they came."""
    answers = [answer for row in rows for attempt in row["attempts"] for answer in attempt["answers"]]
    return tuple(sorted(answers, key=lambda answer: int(answer["event"])))
