"""What of a dry run with a scenario no run at a press has: the scenario, what came, was shown, hinted, asked, and stepped."""

from runner.engine import events as ev
from runner.engine.events.training import TRAINING
from runner.report.contents.names import Entries, Names
from runner.report.contents.section import EVENT, STEP, WHEN, Column, Row, Section, stamp


def rows_of(entries: Entries, names: Names) -> tuple[Row, ...]:
    """A row for the scenario, and one for each thing that was noted."""
    rows: list[Row] = []
    for number, event in entries:
        match event:
            case ev.ScenarioTaken():
                kind = "assessment" if event.assessed else "practice"
                faults = [f"{fault} at {names.number(step)}" for fault, step in event.faults]
                what = f"{event.title} ({event.scenario}, {event.digest[:12]}), {kind}; seed {event.seed}"
                rows.append(
                    {
                        **stamp(number, event), "step": "", "step_number": "", "kind": "scenario", "about": event.scenario,
                        "words": f"{what}; trainee {event.trainee}, coach {event.coach or 'nobody'}", "number": 0.0,
                        "faults": faults, "criteria": [words for _, words in event.criteria],
                    }
                )  # fmt: skip
            case ev.TrainingNoted():
                rows.append(
                    {
                        **stamp(number, event), "step": event.step,
                        "step_number": names.number(event.step) if event.step else "", "kind": event.kind,
                        "about": event.about, "words": event.words, "number": event.number, "faults": [], "criteria": [],
                    }
                )  # fmt: skip
            case _:
                pass
    return tuple(rows)


def said(row: Row) -> tuple[str, ...]:
    """What a row says, a line each."""
    lines = [str(row["words"])]
    if row["faults"]:
        lines.append(f"faults: {', '.join(row['faults'])}")
    if row["kind"] in ("hint", "question", "time") and row["number"]:
        unit = {"hint": "level", "question": "share", "time": "seconds"}[row["kind"]]
        lines.append(f"{unit} {row['number']:g}")
    return tuple(lines)


def training_section(entries: Entries, names: Names) -> Section:
    """All of it in the order of time; what is unsafe is marked."""
    columns = (
        STEP,
        Column("What", lambda row: str(TRAINING.get(row["kind"], row["kind"]))),
        Column("About", "about"),
        Column("Words", said),
        WHEN,
        EVENT,
    )
    return Section(
        "training", "Scenario, faults, hints and questions", columns, rows_of(entries, names), "It had no scenario.",
        mark=lambda row: row["kind"] in ("unsafe", "stopped"),
    )  # fmt: skip
