"""The command: what it arranges, which times it takes, and what it refuses."""

from pathlib import Path

import pytest

from tests.cli.command import PROCEDURES, changeover, play

ROLL = PROCEDURES / "change-roll.procedure.yaml"
WEB = PROCEDURES / "web-break.procedure.yaml"


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("records")
    assert play("web-break", folder).code == 0
    return folder


def test_it_tells_what_one_and_two_people_need() -> None:
    told = changeover("schedule", ROLL, "--json").data
    total = told["total_s"]
    assert total["bound"] <= total["two"] <= total["comes"] <= total["one"]
    phases = {one["phase"]: one for one in told["phases"]}
    crane = phases["Take both old rolls off"]
    assert crane["seconds"]["two"] == crane["seconds"]["one"]  # one crane, so nobody saves anything
    bars = phases["Set the tension bars"]
    assert bars["seconds"]["two"] == bars["seconds"]["one"] / 2  # two bars, each with its own person
    assert {step["person"] for step in bars["plan_for_two"]} == {0, 1}


def test_the_text_is_no_wider_than_80_columns() -> None:
    done = changeover("schedule", ROLL)
    assert done.code == 0
    assert max(map(len, done.out.splitlines())) <= 80
    assert "None of this says that a hold" in " ".join(done.out.split())


def test_recorded_times_take_the_place_of_expected_ones(records: Path) -> None:
    expected = changeover("schedule", WEB, "--json").data
    known = changeover("schedule", WEB, "--recorded", "--played", "--records", records, "--json").data
    assert known["recorded"]["runs"] == 1
    assert known["times"]["median of the records"] > 40
    assert known["total_s"]["comes"] != expected["total_s"]["comes"]
    page = changeover("schedule", WEB, "--recorded", "--played", "--records", records, "--format", "html").out
    assert "as recorded</title>" in page
    assert "<script" not in page


def test_without_records_it_says_that_times_are_the_authors(tmp_path: Path) -> None:
    done = changeover("schedule", WEB, "--recorded", "--records", tmp_path, "--json")
    assert "no finished run" in done.err
    assert done.data["recorded"] == {"runs": 0, "stopped_s": None}


def test_a_step_that_is_not_there_cannot_be_left_out() -> None:
    done = changeover("schedule", WEB, "--without", "no-such-step")
    assert done.code == 2
    assert "no step no-such-step" in done.err
