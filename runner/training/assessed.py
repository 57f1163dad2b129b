"""The result of a dry run with a scenario as a document: for the trainee what to practise, for the file all of it.

It quotes the record by its lines, and says on its first and last line that this was practice and no work at a press.
"""

from dataclasses import asdict

from runner.report.contents.marks import DRY
from runner.report.document import Block, Document, Facts, Heading, Listing, Note, Table
from runner.training.assess import MET, NOT_DRAWN, Result
from runner.training.hints import LEVELS

ENDED = {
    "finished": "the run was finished",
    "over": "the scenario came to its end",
    "stopped": "it was stopped",
    "abandoned": "the run was abandoned",
    "open": "it is not ended yet",
}


def document(result: Result, for_whom: str, signed: tuple[tuple[str, str], ...] = ()) -> Document:
    """For the `trainee` or for the `file`; `signed` are facts of a sign-off that there is."""
    mark = f"{DRY.words}, {'assessment' if result.assessed else 'practice'}"
    title = f"{result.title}: {outcome(result)}"
    blocks: list[Block] = [Note(DRY.sentence, "caution"), Facts(facts(result))]
    practise = tuple(dict.fromkeys(one.practise for one in result.criteria if one.practise))
    if for_whom == "trainee":
        blocks += [Heading("What went well"), listing(tuple(one.words for one in result.criteria if one.result == MET))]
        blocks += [Heading("What to practise"), listing(practise)]
    blocks += [Heading("Criteria"), criteria_table(result)]
    if result.unsafe:
        rows = tuple((act, str(line)) for line, act in result.unsafe)
        blocks += [Heading("Unsafe acts"), Table("Unsafe acts", ("Act", "Event"), rows, frozenset(range(len(rows))))]
    if result.tried:
        lines = ", ".join(map(str, result.tried))
        words = (
            f"Somebody who was not there was named as if they were, and refused: events {lines}. The coach judges it."
        )
        blocks += [Heading("Tried and refused"), Note(words, "caution")]
    if for_whom == "file":
        blocks += [Heading("Hints"), hints_block(result), Heading("What to practise"), listing(practise)]
        blocks += [Heading("Sign-off"), Facts(signed) if signed else Note("Not signed off.")]
    data = {
        **asdict(result),
        "document": "assessment",
        "mark": mark,
        "signed": dict(signed),
        "practise": list(practise),
    }
    return Document(title, tuple(blocks), data, mark, DRY.sentence, f"Run {result.run}")


def outcome(result: Result) -> str:
    """Passed, not passed, or practice."""
    if not result.assessed:
        return "practice"
    return f"passed, level {result.level}" if result.passed and result.level else "not passed"


def facts(result: Result) -> tuple[tuple[str, str], ...]:
    """The head of it."""
    rows = [
        ("Result", outcome(result)),
        ("Trainee", result.trainee or "not named"),
        ("Coach", result.coach or "not named"),
        ("Procedure", f"{result.procedure}, revision {result.revision}"),
        ("Scenario", f"{result.scenario} ({result.digest[:12]})"),
        ("Run", result.run),
        ("Began", result.began),
        ("How it ended", ended_words(result)),
        (
            "Hints",
            f"{len(result.hint_lines)}, the highest: {LEVELS[max((level for _, level in result.hints), default=0)]}",
        ),
    ]
    if result.lowered:
        rows.append(("Level", f"{result.level or 'none'}: {result.lowered}"))
    if result.played_to:
        rows.append(("Played", f"the steps before {result.played_to} were played by the program"))
    if result.stepped_s >= 0.5:
        rows.append(("Time", f"stepped by {result.stepped_s:.0f} s in all: the times measure nothing"))
    return tuple(rows)


def ended_words(result: Result) -> str:
    """How it ended; an unsafe act ends an assessment."""
    if result.assessed and result.unsafe and result.ended == "abandoned":
        return "an unsafe act ended it"
    return f"{ENDED[result.ended]}{': ' + result.ended_words if result.ended_words else ''}"


def criteria_table(result: Result) -> Table:
    """Each criterion with its evidence."""
    rows = tuple(
        (one.words, one.result, one.note or "-", ", ".join(map(str, one.lines)) or "-") for one in result.criteria
    )
    marks = frozenset(at for at, one in enumerate(result.criteria) if one.result not in (MET, NOT_DRAWN))
    return Table(
        "Criteria, as they were shown beforehand", ("Criterion", "Result", "What was seen", "Events"), rows, marks
    )


def hints_block(result: Result) -> Block:
    """Hints by step."""
    if not result.hints:
        return Note("None was taken.")
    rows = tuple((step, LEVELS[level]) for step, level in result.hints)
    return Table("Hints taken", ("Step", "Highest level"), rows)


def listing(points: tuple[str, ...]) -> Block:
    """Points, or that there are none."""
    return Listing(points) if points else Note("Nothing.")
