"""Dry runs with scenarios as a trainer has them: begun, played, led line by line, judged, signed, and never taken for live."""

import json
from pathlib import Path

import pytest

from .command import PROCEDURES, Done, changeover

TRAINING = PROCEDURES / "training"
PROC = PROCEDURES / "change-roll.procedure.yaml"
SCENARIOS = sorted(path.name.removesuffix(".scenario.yaml") for path in TRAINING.glob("*.scenario.yaml"))
NO_ANSWERS = "answers: 1\nprocedure: change-roll\n"
NAMED = ("--trainee", "Ilka Foss", "--coach", "Mara Quist")
CHUCK = Path(__file__).parent.parent / "lint" / "scenario_documents"


def played(folder: Path, name: str, answers: str = NO_ANSWERS, *more: str) -> Done:
    file = folder / "a.answers.yaml"
    file.write_text(answers, encoding="utf-8")
    return changeover(
        "dry-run", PROC, "--scenario", TRAINING / f"{name}.scenario.yaml", "--answers", file, "--records", folder / "r",
        "--seed", "3", "--json", *more,
    )  # fmt: skip


def judged(folder: Path, journal: str, *more: str) -> Done:
    return changeover("assess", journal, "--records", folder / "r", *more)


@pytest.mark.parametrize(
    ("name", "answers"),
    [
        ("leaking-chuck", NO_ANSWERS),
        ("called-away", NO_ANSWERS + "steps:\n  - {step: tell-load, before: [{pause: Raise the roll}, {resume: true}, "
         "{look: {crane: carrying, unwind_drive: stopped, press_drive: stopped, unwind_guard: open, brake: holding, "
         "unwind_latch: open, unwind_chucks: vented}}]}\n"),
        ("revised-meanwhile", NO_ANSWERS + "steps:\n  - {step: take-key, before: [{note: Revision 2 is out, kind: procedure}]}\n"),
        ("guard-left-open", NO_ANSWERS + "steps:\n  - {step: key-for-feeding, before: [{look: {rewind_guard: open}}, "
         "{look: {rewind_guard: closed}}]}\n"),
    ],
)  # fmt: skip
def test_who_answers_what_is_shown_and_does_the_right_thing_does_nothing_unsafe(
    tmp_path: Path, name: str, answers: str
) -> None:
    done = played(tmp_path, name, answers)
    found = judged(tmp_path, done.data["journal"], "--json").data
    assert found["unsafe"] == [], done.err
    first = next(one for one in found["criteria"] if one["id"] not in ("safe", "reasons"))
    assert first["result"] == "met", (done.err, found)


@pytest.mark.parametrize("name", ["guard-left-open", "revised-meanwhile", "wrong-side-of-a-roller"])
def test_who_goes_on_as_if_nothing_had_happened_ends_an_assessment(tmp_path: Path, name: str) -> None:
    done = played(tmp_path, name, NO_ANSWERS, "--assess", *NAMED)
    result = judged(tmp_path, done.data["journal"], "--json")
    assert result.code == 1
    assert len(result.data["unsafe"]) == 1
    assert result.data["ended"] != "over"
    assert not result.data["passed"]


def test_a_power_cut_ends_the_session_and_the_run_is_resumed_with_its_scenario(tmp_path: Path) -> None:
    done = played(tmp_path, "called-away")
    assert done.code == 4
    assert "the power fails" in done.err
    states = "crane: carrying, unwind_drive: stopped, press_drive: stopped, unwind_guard: open, brake: holding"
    looks = f"[{{look: {{{states}, unwind_latch: open, unwind_chucks: vented}}}}]"
    more = tmp_path / "b.answers.yaml"
    more.write_text(f"{NO_ANSWERS}steps:\n  - {{step: seat-new-roll, before: {looks}}}\n", encoding="utf-8")
    resumed = changeover("resume", done.data["journal"], "--answers", more, "--records", tmp_path / "r", "--json")
    found = judged(tmp_path, done.data["journal"], "--json").data
    assert next(one["result"] for one in found["criteria"] if one["id"] == "looked") == "met", resumed.err
    assert found["ended"] == "over"


def test_a_dry_run_lies_apart_and_says_so_on_every_report(tmp_path: Path) -> None:
    journal = Path(played(tmp_path, "leaking-chuck").data["journal"])
    assert journal.relative_to(tmp_path / "r").parts[0] == "dry"
    for form in ("text", "html", "markdown"):
        out = changeover("report", journal, "--records", tmp_path / "r", "--format", form).out
        assert "DRY RUN" in out
        assert "Air hisses softly" in out
    assert changeover("verify", journal, "--records", tmp_path / "r").code == 0


def test_a_dry_record_put_among_the_live_ones_is_neither_resumed_nor_taken_for_live(tmp_path: Path) -> None:
    dry = Path(played(tmp_path, "called-away").data["journal"])
    live = tmp_path / "r" / "live" / dry.parent.parent.name / dry.parent.name / dry.name
    live.parent.mkdir(parents=True)
    live.write_bytes(dry.read_bytes())
    refused = changeover("resume", live, "--plain", "--records", tmp_path / "r")
    assert refused.code != 0
    assert "is the record of a dry run, but lies among the live runs" in refused.err


def test_a_live_run_takes_no_scenario(tmp_path: Path) -> None:
    refused = changeover("run", PROC, "--scenario", TRAINING / "leaking-chuck.scenario.yaml", "--records", tmp_path)
    assert refused.code == 2


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--assess",), "needs --trainee NAME and --coach NAME"),
        (("--assess", "--trainee", "Ilka Foss", "--coach", "ilka  foss"), "nobody assesses themselves"),
    ],
)
def test_an_assessment_has_two_people(tmp_path: Path, options: tuple[str, ...], words: str) -> None:
    refused = played(tmp_path, "leaking-chuck", NO_ANSWERS, *options)
    assert refused.code == 2
    assert words in refused.err
    assert not (tmp_path / "r").exists()


def test_a_scenario_that_lint_refuses_is_not_run(tmp_path: Path) -> None:
    refused = changeover(
        "dry-run",
        CHUCK / "chuck.procedure.yaml",
        "--scenario",
        CHUCK / "no-response.scenario.yaml",
        "--plain",
        "--records",
        tmp_path,
    )
    assert refused.code == 1
    assert "response-missing" in refused.err


def assessment(folder: Path, *words: str) -> Done:
    """Led line by line, with the coach at the same keyboard."""
    scenario = folder / "good.scenario.yaml"
    text = (CHUCK / "good.scenario.yaml").read_text(encoding="utf-8")
    scenario.write_text(text.replace("{release: fill}, ", "").replace("finished: true", "safe: true"), encoding="utf-8")
    procedure = folder / "chuck.procedure.yaml"
    written = (CHUCK / "chuck.procedure.yaml").read_text(encoding="utf-8")
    procedure.write_text(written.replace("phases:", "make_safe: [{do: Press stop.}]\nphases:"), encoding="utf-8")
    return changeover(
        "dry-run", procedure, "--scenario", scenario, "--plain", "--assess", *NAMED, "--records", folder / "r",
        given="\n".join(words) + "\n",
    )  # fmt: skip


GOOD_WAY = (
    "read", "begin", "done", "hold", "/name", "Mara Quist", "1", "release", "begin", "4 bar", "4 bar",
    "hold", "Mara Quist", "1", "release", "begin", "6.2 bar", "done", "begin", "coach", "1", "3", "All of it", "1", "done", "finish",
)  # fmt: skip


def test_the_criteria_come_first_and_the_screen_says_dry_run(tmp_path: Path) -> None:
    done = assessment(tmp_path, "read", "begin", "done")
    pages = [page for page in done.out.split("\nDRY RUN") if page.strip()]
    assert "What is judged" in pages[1]
    assert "an assessment: no hints" in pages[1]
    assert "Air hisses." in done.out
    assert "LIVE" not in done.out
    assert all(page.startswith(", ASSESSMENT, ") for page in pages[1:])


def test_there_is_no_hint_in_an_assessment(tmp_path: Path) -> None:
    done = assessment(tmp_path, "read", "hint")
    assert "An assessment: there are no hints." in done.out
    assert "The next hint" not in done.out


def test_the_coach_stops_it(tmp_path: Path) -> None:
    done = assessment(tmp_path, "read", "coach", "2", "Too tired to go on")
    journal = next((tmp_path / "r").rglob("*.journal"))
    found = judged(tmp_path, str(journal), "--json").data
    assert (found["ended"], found["ended_words"]) == ("stopped", "Too tired to go on"), done.out


def test_time_stepped_through_a_wait_is_kept_when_the_run_is_taken_up_again(tmp_path: Path) -> None:
    text = (
        (TRAINING / "leaking-chuck.scenario.yaml")
        .read_text(encoding="utf-8")
        .replace("start_at: bring-hook", "start_at: unwind-leak-wait")
        .replace("  - {id: reads-gauge, words: Reads the gauge as it stands., read: unwind_pressure}\n", "")
    )
    (tmp_path / "procedures" / "training").mkdir(parents=True)
    for path in PROCEDURES.glob("*.yaml"):
        (tmp_path / "procedures" / path.name).write_bytes(path.read_bytes())
    scenario = tmp_path / "procedures" / "training" / "wait.scenario.yaml"
    scenario.write_text(text, encoding="utf-8")
    begun = changeover(
        "dry-run", tmp_path / "procedures" / PROC.name, "--scenario", scenario, "--plain", *NAMED, "--records", tmp_path / "r",
        given="read\nbegin\nhint\n2\ndone\nbegin\n",
    )  # fmt: skip
    assert "The pointer stands 3 small marks past the large mark 5" in begun.out, begun.out[-1500:]
    journal = next((tmp_path / "r").rglob("*.journal"))
    changeover("resume", journal, "--plain", "--records", tmp_path / "r", given="resume\n1\n")
    found = judged(tmp_path, str(journal), "--json").data
    assert found["stepped_s"] > 118
    report = changeover("report", journal, "--records", tmp_path / "r", "--format", "json").data
    assert any(row["kind"] == "time" and "stepped by" in row["words"] for row in report["training"])
    assert not [row for key, rows in report.items() if key == "clock_steps" for row in rows]


def test_what_came_from_a_file_is_not_signed_off(tmp_path: Path) -> None:
    done = played(tmp_path, "leaking-chuck", NO_ANSWERS, "--assess", *NAMED)
    signed = judged(tmp_path, done.data["journal"], "--sign")
    assert signed.code == 2
    assert "answers came from a file" in signed.err
    assert not list(tmp_path.glob("*.register"))


def enter(folder: Path, act: str, *more: str) -> Done:
    return changeover("qualifications", act, "--procedure", PROC, "--records", folder / "r", *more)


def test_the_register_is_entered_shown_and_withdrawn(tmp_path: Path) -> None:
    who = ("--person", "Ilka Foss", "--assessor", "Mara Quist")
    assert enter(tmp_path, "enter", *who, "--level", "perform", "--until", "2099-12-31").code == 0
    listed = changeover("qualifications", "--procedure", PROC, "--records", tmp_path / "r", "--json")
    assert listed.code == 0
    assert listed.data["today"] == {"Ilka Foss": "qualified"}
    assert listed.data["entries"][0]["identity"] == "identity not verified"
    assert enter(tmp_path, "withdraw", *who, "--words", "A hold was released by the one who lifted").code == 0
    after = changeover("qualifications", "--procedure", PROC, "--records", tmp_path / "r", "--json")
    assert after.code == 1
    assert len(after.data["entries"]) == 2


def test_nobody_enters_themselves_and_a_withdrawal_says_why(tmp_path: Path) -> None:
    own = ("--person", "Ilka Foss", "--assessor", "Ilka Foss")
    assert enter(tmp_path, "enter", *own, "--level", "perform").code == 2
    assert enter(tmp_path, "withdraw", "--person", "Ilka Foss", "--assessor", "Mara Quist").code == 2


def test_a_damaged_register_says_where_and_exits_5(tmp_path: Path) -> None:
    enter(tmp_path, "enter", "--person", "Ilka Foss", "--assessor", "Mara Quist", "--level", "perform")
    register = next(tmp_path.glob("*.register"))
    register.write_bytes(register.read_bytes().replace(b"perform", b"observe"))
    listed = changeover("qualifications", "--records", tmp_path / "r")
    assert listed.code == 5
    assert "line 1" in listed.err


def test_a_passed_assessment_is_signed_and_enters_the_register(tmp_path: Path) -> None:
    done = assessment(tmp_path, *GOOD_WAY)
    journal = next((tmp_path / "r").rglob("*.journal"))
    found = judged(tmp_path, str(journal), "--sign", "--words", "Read the gauge well")
    assert found.code == 0, done.out[-3000:] + done.err + found.out
    assert "Mara Quist (identity not verified)" in found.out
    listed = json.loads(changeover("qualifications", "--records", tmp_path / "r", "--json").out)
    (entry,) = listed["entries"]
    assert (entry["person"], entry["level"], entry["assessor"]) == ("Ilka Foss", "simulate", "Mara Quist")
    whole = changeover("verify", journal, "--records", tmp_path / "r", "--json").data
    assert (entry["head"], entry["count"]) == (whole["head"], whole["events"])
