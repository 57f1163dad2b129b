"""Steps as people read them: a table for each phase, a row for each attempt, in the order of the procedure.

An act is shown as it was shown to the person who did it. A step to which nothing happened has a row that says so.
"""

from collections.abc import Mapping

from runner.report.contents.section import Column, Row, Section, blocks_of
from runner.report.contents.words import (
    NOTHING,
    duration_words,
    joined,
    moment_words,
    pairs_words,
    terminal_words,
    verdict_words,
)
from runner.report.document import Block, Cell

ENDS_WELL = ("done", "does not apply")

EMPTY_ROW: Row = {"attempt": None, "act": "", "by": "", "begun": None, "ended": None, "how": "", "seconds": None}


def shown_rows(steps: tuple[Row, ...]) -> tuple[Row, ...]:
    """A row for each attempt, one for a step without any, one more for a step passed after its attempts."""
    rows: list[Row] = []
    for step in steps:
        last = len(step["attempts"]) - 1
        for i, attempt in enumerate(step["attempts"]):
            rows.append({**step, **attempt, "newest": i == last and step["passed"] is None})
        if last < 0 or step["passed"] is not None:
            rows.append({**step, **EMPTY_ROW, "newest": True})
    return tuple(rows)


def act_cell(row: Row) -> Cell:
    """The act, then all that went with it."""
    if row["attempt"] is None and not row["act"]:
        why = row["why"]
        authority = f"on the authority of {row['authority']}" if row["authority"] else ""
        return tuple(line for line in (row["step"], why, authority) if line)
    lines = [row["act"]]
    lines += [f"read before: {caution}" for caution in row["cautions_read"]]
    lines += [answer_line(answer) for answer in row["answers"]]
    lines += [wait_line(wait) for wait in row["waits"]]
    lines += [look_line(look) for look in row["second_looks"]]
    return (*lines, *(f"now {line}" for line in pairs_words(row["made"])))


def answer_line(answer: Row) -> str:
    """Question, answer, limits and verdict in a line."""
    corrected = "".join(f"; corrected to {c['shown']} ({c['reason']})" for c in answer["corrected"])
    second = "second person: " if answer["second_person"] else ""
    verdict = verdict_words(answer["verdict"], answer["limits"], answer["magnitude"] is not None)
    late = f"; LATE: done on paper {moment_words(answer['on_paper'])}" if "on_paper" in answer else ""
    return f"{second}{answer['ask']} → {answer['shown']} ({joined((answer['limits'], verdict))}){corrected}{late}"


def wait_line(wait: Row) -> str:
    """How long was to be waited, and was."""
    wanted = "" if wait["at_least_s"] is None else f"at least {wait['at_least_s']:g} s"
    waited = "not ended" if wait["ended"] is None else f"waited {wait['waited_s']:g} s"
    return f"wait: {joined((wanted, waited, 'LATE' if wait['late'] else ''))}"


def look_line(look: Row) -> str:
    """What the second person said."""
    agrees = "agrees" if look["agrees"] else "DOES NOT AGREE"
    return f"second look, {look['how']}: {joined((look['by'], agrees, look['words']))}"


def begun_cell(row: Row) -> Cell:
    """When it began and ended, and how long it took."""
    if row["passed"] is not None and not row["begun"]:
        return moment_words(row["passed"]["at"])
    if not row["begun"]:
        return NOTHING
    begun = moment_said(row["begun"])
    if row["ended"] is None:
        return (begun, "not ended")
    return (begun, f"to {moment_said(row['ended'])}")


def moment_said(row: Row) -> str:
    """When it was; from paper, what the paper says and when it was entered."""
    if "on_paper" not in row:
        return moment_words(row["at"])
    return f"{moment_words(row['on_paper'])} on paper, entered {moment_words(row['at'])}"


def who_cell(row: Row) -> Cell:
    """Who began it, and who ended it where that was somebody else; each with the terminal, if it was another one."""
    if not row["begun"]:
        passed = row["passed"] or {}
        return lines_of(str(passed.get("by", row["by"])), place_of(passed))
    ended, begun_at = row["ended"] or {}, place_of(row["begun"])
    by, ended_at = ended.get("by", ""), place_of(ended)
    if not by or (by == row["by"] and ended_at == begun_at):
        return lines_of(row["by"], begun_at)
    return lines_of(row["by"], begun_at, f"ended by {by}", ended_at or (KEEPING if begun_at else ""))


KEEPING = "at the terminal that keeps the record"


def lines_of(*lines: str) -> Cell:
    """A cell of those lines that say something."""
    said = tuple(line for line in lines if line)
    return said if len(said) > 1 else "".join(said) or NOTHING


def place_of(row: Row) -> str:
    """The other terminal of a stamp, in words."""
    return terminal_words(row.get("terminal", ""))


def status_cell(row: Row) -> Cell:
    """How the attempt ended; for the newest also where the step stands."""
    attempt = f"attempt {row['attempt']}" if row["attempt"] is not None and row["attempt"] > 1 else ""
    standing = row["status"] if row["newest"] and row["status"] != row["how"] else ""
    return tuple(line for line in (row["how"], standing, attempt) if line)


def took_cell(row: Row) -> Cell:
    """The duration of an attempt that has ended."""
    if row["begun"] and row["ended"] and "on_paper" in {**row["begun"], **row["ended"]}:
        return "by the paper"
    return duration_words(row["seconds"]) if row["begun"] and row["ended"] else NOTHING


STEP_COLUMNS = (
    Column("Step", lambda row: row["step_number"] or row["step"]),
    Column("Act, as shown", act_cell),
    Column("Who", who_cell),
    Column("Begun, ended (UTC)", begun_cell),
    Column("Took", took_cell, numeric=True),
    Column("Status", status_cell),
)


def not_plain(row: Row) -> bool:
    """Ended otherwise than done, after begun or passed over."""
    if not row["begun"]:
        return bool(row["status"] == "left out")
    return bool(row["how"] not in ENDS_WELL)


def step_blocks(steps: tuple[Row, ...], drawn: Mapping[str, tuple[Block, ...]]) -> tuple[Block, ...]:
    """A table for each phase, and below it what is drawn for the phase."""
    blocks: list[Block] = []
    rows = shown_rows(steps)
    for phase in dict.fromkeys(row["phase"] for row in rows):
        of_phase = tuple(row for row in rows if row["phase"] == phase)
        press = f" (press {of_phase[0]['press']})" if of_phase[0]["press"] else ""
        title = f"{phase or 'In no known phase'}{press}"
        blocks += blocks_of(Section("", title, STEP_COLUMNS, of_phase, "", mark=not_plain))
        blocks += drawn.get(phase, ())
    return tuple(blocks)
