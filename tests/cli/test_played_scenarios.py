"""Every shipped scenario played right and played wrong, as documents: right is passed with every criterion that came, wrong is not.

`NAME.right.answers.yaml` answers what goes wrong as the trade does, `NAME.wrong.answers.yaml` goes on as if all were well;
`NAME.right.resumed.answers.yaml` is the rest after the power was away.
"""

from pathlib import Path

import pytest

from .command import PROCEDURES, Done, changeover

PROC = PROCEDURES / "change-roll.procedure.yaml"
PLAYED = Path(__file__).parents[1] / "training" / "played_scenarios"
SHIPPED = sorted(path.name.removesuffix(".scenario.yaml") for path in (PROCEDURES / "training").glob("*.scenario.yaml"))

NOT_MET = {
    "assessment-mount": {"proud-pin", "chuck-leaks", "gauge", "mounted", "safe"},
    "called-away": {"place-kept", "looked", "latched", "safe"},
    "first-preparation": {"readings"},
    "guard-left-open": {"guard-found", "safe"},
    "leaking-chuck": {"leak-found", "hook-off", "safe"},
    "missing-pieces": {"uneven-found", "clips", "safe"},
    "nobody-to-release": {"waits", "seated", "safe"},
    "revised-meanwhile": {"told", "safe"},
    "wrong-roll": {"found", "looked", "honest"},
    "wrong-side-of-a-roller": {"pass-found", "laid", "safe"},
}
"""What is not met when a scenario is played wrong: the fault, what an assessment does not come to after it, safety."""


def assessed(folder: Path, name: str, how: str) -> Done:
    """An assessment, and its rest where the power fails in it; what it came to."""
    records = ("--records", folder / "r")
    done = changeover(
        "dry-run", PROC, "--scenario", PROCEDURES / "training" / f"{name}.scenario.yaml", "--answers",
        PLAYED / f"{name}.{how}.answers.yaml", "--assess", "--trainee", "Ilka Foss", "--coach", "Mara Quist", "--seed", "3",
        "--json", *records,
    )  # fmt: skip
    assert done.data is not None, done.err
    rest = PLAYED / f"{name}.{how}.resumed.answers.yaml"
    if rest.exists():
        assert "the power fails" in done.err
        changeover("resume", done.data["journal"], "--answers", rest, *records)
    return changeover("assess", done.data["journal"], "--json", *records)


def test_every_shipped_scenario_is_played_right_and_wrong() -> None:
    played = {path.name.removesuffix(".answers.yaml") for path in PLAYED.glob("*.answers.yaml")}
    assert {f"{name}.{how}" for name in SHIPPED for how in ("right", "wrong")} <= played
    assert sorted(NOT_MET) == SHIPPED


@pytest.mark.parametrize("name", SHIPPED)
def test_played_right_it_is_passed_and_every_criterion_has_its_lines(tmp_path: Path, name: str) -> None:
    done = assessed(tmp_path, name, "right")
    came = done.data
    assert (done.code, came["passed"], came["level"]) == (0, True, "simulate"), came["criteria"]
    judged = [one for one in came["criteria"] if one["result"] != "not drawn"]
    assert all(one["result"] == "met" for one in judged)
    assert all(one["lines"] for one in judged if one["note"] != "no unsafe act")


@pytest.mark.parametrize("name", SHIPPED)
def test_played_wrong_it_is_not_passed_and_says_what_to_practise(tmp_path: Path, name: str) -> None:
    done = assessed(tmp_path, name, "wrong")
    came = done.data
    assert (done.code, came["passed"], came["level"]) == (1, False, "")
    missed = {one["id"] for one in came["criteria"] if one["result"] not in ("met", "not drawn")}
    assert missed == NOT_MET[name]
    assert all(one["practise"] for one in came["criteria"] if one["id"] in missed)


def test_an_answer_that_the_coach_found_wanting_is_not_passed(tmp_path: Path) -> None:
    file = tmp_path / "part.answers.yaml"
    right = (PLAYED / "first-preparation.right.answers.yaml").read_text(encoding="utf-8")
    file.write_text(right.replace("whole", "part"), encoding="utf-8")
    scenario = PROCEDURES / "training" / "first-preparation.scenario.yaml"
    done = changeover(
        "dry-run", PROC, "--scenario", scenario, "--answers", file, "--json", "--records", tmp_path / "r", "--seed", "1"
    )
    came = changeover("assess", done.data["journal"], "--json", "--records", tmp_path / "r").data
    (reasons,) = (one for one in came["criteria"] if one["id"] == "reasons")
    assert (reasons["result"], reasons["note"]) == ("not met", "answered in part")


@pytest.mark.parametrize("with_scenario", [True, False])
def test_a_question_that_nobody_asks_is_told_at_its_place(tmp_path: Path, with_scenario: bool) -> None:
    file = tmp_path / "a.answers.yaml"
    act = "{explain: why-weekest, judged: whole}"
    file.write_text(
        f"answers: 1\nprocedure: change-roll\nsteps:\n  - {{step: read-plates, before: [{act}]}}\n", encoding="utf-8"
    )
    scenario = ("--scenario", PROCEDURES / "training" / "first-preparation.scenario.yaml") if with_scenario else ()
    done = changeover("dry-run", PROC, *scenario, "--answers", file, "--records", tmp_path / "r")
    assert done.code == 1
    assert f"{file}:4:44: error unknown-name" in done.err
    assert ("Did you mean `why-weakest`?" if with_scenario else "changeover dry-run --scenario") in done.err


@pytest.mark.parametrize(
    ("name", "step"), [("wrong-side-of-a-roller", "unwind-thread"), ("guard-left-open", "key-for-feeding")]
)
def test_nobody_passes_by_noting_something_of_every_kind_and_going_on(tmp_path: Path, name: str, step: str) -> None:
    notes = ", ".join(
        f"{{note: Something, kind: {kind}}}"
        for kind in ("people", "equipment", "material", "value", "procedure", "other")
    )
    file = tmp_path / "notes.answers.yaml"
    file.write_text(
        f"answers: 1\nprocedure: change-roll\nsteps:\n  - {{step: {step}, before: [{notes}]}}\n", encoding="utf-8"
    )
    done = changeover(
        "dry-run", PROC, "--scenario", PROCEDURES / "training" / f"{name}.scenario.yaml", "--answers", file, "--assess",
        "--trainee", "Ilka Foss", "--coach", "Mara Quist", "--json", "--records", tmp_path / "r",
    )  # fmt: skip
    came = changeover("assess", done.data["journal"], "--json", "--records", tmp_path / "r").data
    assert not came["passed"]
    assert len(came["unsafe"]) == 1
