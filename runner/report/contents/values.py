"""The numbers of a run: what the job ticket said, what was worked out from it, what was answered.

Each is quoted as it was shown when it counted, with the working that stood beside it; nothing is worked out again.
"""

from runner.engine import events as ev
from runner.report.contents.names import Entries
from runner.report.contents.section import EVENT, STEP, WHEN, Column, Row, Section, stamp
from runner.report.contents.words import joined, moment_words, verdict_words
from runner.report.document import Cell

IN_FORCE = "in force"

NOT_AGAIN = "not entered again"


def job_section(entries: Entries) -> Section:
    """The job as typed and as echoed, how each value came, and what it was corrected to."""
    changed: dict[str, list[Row]] = {}
    for number, event in entries:
        if isinstance(event, ev.AnswerCorrected):
            changed.setdefault(event.name, []).append({"event": number, "by": event.by, "shown": event.shown})
    rows = tuple(
        {
            **stamp(number, event),
            "name": event.name,
            "ask": event.ask,
            "typed": event.typed,
            "shown": event.shown,
            "value": event.value,
            "magnitude": event.magnitude,
            "unit": event.unit,
            "verdict": event.verdict,
            "origin": event.origin,
            "corrected": changed.get(event.name, []),
        }
        for number, event in entries
        if isinstance(event, ev.InputGiven)
    )
    columns = (
        Column("Asked", "ask"),
        Column("As given", lambda row: (row["typed"], row["origin"]) if row["origin"] else row["typed"]),
        Column("Taken as", lambda row: (row["shown"], *corrected_lines(row))),
        Column("Verdict", lambda row: "unlikely, taken as given" if row["verdict"] == "unlikely" else "accepted"),
        WHEN,
        EVENT,
    )
    return Section(
        "job", "Values from the job ticket", columns, rows, "No value was given for the job.",
        mark=lambda row: bool(row["verdict"] == "unlikely" or row["corrected"]),
    )  # fmt: skip


def corrected_lines(row: Row) -> tuple[str, ...]:
    """What a value was corrected to, a line each."""
    return tuple(f"corrected to {c['shown']}, event {c['event']}" for c in row["corrected"])


def worked_out_rows(entries: Entries) -> tuple[Row, ...]:
    """Everything that was worked out, and whether it still held at the end of the record."""
    rows: list[Row] = []
    newest: dict[str, Row] = {}
    for number, event in entries:
        if isinstance(event, ev.WorkedOut):
            if event.name in newest:
                newest[event.name]["status"] = f"worked out again, event {number}"
            newest[event.name] = worked_out_row(number, event)
            rows.append(newest[event.name])
        elif isinstance(event, ev.WentBack):
            for name in event.stale:
                if name in newest:
                    newest[name]["status"] = f"stale since event {number}, not worked out again"
        elif isinstance(event, ev.PiecesAccepted) and event.name in newest:
            newest[event.name]["accepted"] = {**stamp(number, event), "why": event.why}
    return tuple(rows)


def worked_out_row(number: int, event: ev.WorkedOut) -> Row:
    """One result with its working."""
    return {
        **stamp(number, event),
        "name": event.name,
        "formula": event.formula,
        "inputs": [list(pair) for pair in event.inputs],
        "working": event.working,
        "shown": event.shown,
        "value": event.value,
        "magnitude": event.magnitude,
        "unit": event.unit,
        "limits": event.limits,
        "verdict": event.verdict,
        "ends": [[list(piece) for piece in end] for end in event.ends],
        "origins": [list(pair) for pair in event.origins],
        "rough": event.rough,
        "gives": event.gives,
        "accepted": None,
        "status": IN_FORCE,
    }


def working_cell(row: Row) -> Cell:
    """Formula, then the working with the numbers put in, then the numbers by name and where each came from."""
    lines = [line for line in (row["formula"], f"= {row['working']}" if row["working"] else "") if line]
    origins, given = dict(row["origins"]), dict(row["inputs"])
    came = [f"{name}: {shown}{f' ({origins[name]})' if origins.get(name) else ''}" for name, shown in given.items()]
    others = [f"{name}: {where}" for name, where in row["origins"] if name not in given]
    return (*lines, *came, *others, *((row["rough"],) if row["rough"] else ()))


def result_cell(row: Row) -> Cell:
    """The result; for pieces what hangs at each end and what it gives."""
    return (row["shown"], *end_lines(row["ends"]), *((row["gives"],) if row["gives"] else ()))


def end_lines(ends: list[list[list[object]]]) -> tuple[str, ...]:
    """`end 1: 2 × 5, 1 × 2.5`, a line for each end, in the order in which they hang."""
    return tuple(
        f"end {i}: " + (", ".join(f"{count} × {piece}" for piece, count in end) or "no piece")
        for i, end in enumerate(ends, start=1)
    )


def limits_cell(row: Row) -> Cell:
    """Limits, the verdict on them, and who accepted what misses them."""
    accepted = row.get("accepted")
    lines = (
        row["limits"],
        verdict_words(row["verdict"], row["limits"], row["magnitude"] is not None),
        f"accepted by {accepted['by']}, event {accepted['event']}" if accepted else "",
    )
    return tuple(line for line in lines if line)


def broken(row: Row) -> bool:
    """The verdict is anything but in limits."""
    return bool(row["verdict"] != "in")


RESULT_COLUMNS = (
    Column("Value", "name"),
    Column("Result", result_cell),
    Column("Limits, verdict", limits_cell),
    Column("Working", working_cell),
    Column("Standing", lambda row: (row["status"], moment_words(row["at"]))),
    EVENT,
)


def worked_out_section(rows: tuple[Row, ...]) -> Section:
    """All results."""
    return Section(
        "worked_out", "Values worked out, with their working", RESULT_COLUMNS, rows, "Nothing was worked out.",
        mark=lambda row: (broken(row) and not row["accepted"]) or bool(row["status"].startswith("stale")),
    )  # fmt: skip


def over_limits_section(rows: tuple[Row, ...]) -> Section:
    """Results that broke a limit or could not be had."""
    return Section(
        "values_over_limits", "Worked-out values over their limits, or without a result", RESULT_COLUMNS,
        tuple(row for row in rows if broken(row)), "No worked-out value broke a limit.",
        mark=lambda row: bool(row["status"] == IN_FORCE and not row["accepted"]), marked="in force at the end",
    )  # fmt: skip


def answer_cell(row: Row) -> Cell:
    """The answer as shown, which try it was, and what became of it."""
    notes = [] if f"{row['typed']} {row['unit']}".strip() == row["shown"] else [f"typed “{row['typed']}”"]
    if row["second_person"]:
        notes.append("second person's answer")
    notes += [f"corrected to {c['shown']}, event {c['event']}" for c in row["corrected"]]
    attempt = f"attempt {row['attempt']}" if row["attempt"] else ""
    return (row["shown"], joined((attempt, f"entry {row['entry']}")), *notes)


ANSWER_COLUMNS = (
    STEP,
    Column("Asked", "ask"),
    Column("Answer", answer_cell),
    Column("Limits, verdict", limits_cell),
    WHEN,
    EVENT,
)


def answers_section(rows: tuple[Row, ...]) -> Section:
    """All answers, as they came."""
    return Section(
        "answers", "Answers in the order in which they came", ANSWER_COLUMNS, rows, "No step was answered.", mark=broken
    )


def out_of_limits_section(entries: Entries, rows: tuple[Row, ...]) -> Section:
    """Answers that did not count, each with what came after it."""
    out = tuple({**row, "then": what_came_after(entries, row)} for row in rows if broken(row))
    columns = (*ANSWER_COLUMNS[:-2], Column("Then", "then"), WHEN, EVENT)
    return Section(
        "answers_out_of_limits", "Answers out of limits or unlikely, and what came after them", columns, out,
        "No answer was out of limits.", mark=lambda row: bool(row["then"] == NOT_AGAIN), marked="not entered again",
    )  # fmt: skip


def what_came_after(entries: Entries, answer: Row) -> str:
    """The next entry of the same question, or how the step went on without one."""
    for number, event in entries:
        if number <= answer["event"] or getattr(event, "step", "") != answer["step"]:
            continue
        match event:
            case ev.Answered() if event.name == answer["name"] and event.hidden == answer["second_person"]:
                words = verdict_words(event.verdict, event.limits, event.magnitude is not None)
                return f"entered again: {event.shown}, {words}, event {number}"
            case ev.TroubleMet():
                return f"trouble: {event.sign}, event {number}"
            case ev.StepDone() | ev.StepBegun() | ev.StepLeftOut():
                break
            case _:
                pass
    return NOT_AGAIN


def corrections_section(entries: Entries, number_of: dict[str, str]) -> Section:
    """Answers that were changed after they counted: the old, the new and why."""
    rows = tuple(
        {
            **stamp(number, event),
            "step": event.step,
            "step_number": number_of.get(event.step, ""),
            "name": event.name,
            "old": event.old,
            "typed": event.typed,
            "shown": event.shown,
            "value": event.value,
            "magnitude": event.magnitude,
            "unit": event.unit,
            "reason": event.reason,
        }
        for number, event in entries
        if isinstance(event, ev.AnswerCorrected)
    )
    columns = (
        STEP,
        Column("Answer", "name"),
        Column("Was", "old"),
        Column("Is now", "shown"),
        Column("Why", "reason"),
        WHEN,
        EVENT,
    )
    return Section("answers_corrected", "Answers corrected", columns, rows, "No answer was corrected.")
