"""What other programs rely on: output shapes and exit codes of the commands."""

import json
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from runner.cli.exits import EXITS
from runner.cli.main import COMMANDS

from .command import PROCEDURES, ROOT, changeover, play

BROKEN = """\
format: 1
id: broken
title: Broken
revision: 1
equipment: Line 3
purpose: Try the messages
people: {unwind: Operator}
states: {drive: {of: [stopped, running]}}
phases:
  - phase: One
    steps:
      - {id: open, by: unwind, do: Open the guard., needs: {drive: stopped}}
      - {id: shut, by: unwind, neds: {drive: stopped}}
"""


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> dict:
    """A finished run of web-break, and its folder."""
    records = tmp_path_factory.mktemp("records")
    done = play("web-break", records)
    assert done.code == 0, done.err
    return {**done.data, "records": records}


def broken(tmp_path: Path) -> Path:
    path = tmp_path / "broken.procedure.yaml"
    path.write_text(BROKEN, encoding="utf-8")
    return path


def test_lint_json_is_an_array_of_findings_with_place_rule_and_severity(tmp_path: Path) -> None:
    done = changeover("lint", broken(tmp_path), "--format", "json", "--no-cache")
    assert done.code == 1
    for finding in done.data:
        assert list(finding)[:6] == ["path", "line", "column", "rule", "severity", "message"]
        assert finding["severity"] in ("error", "warning", "note")
    messages = {(f["line"], f["column"], f["message"]) for f in done.data}
    assert any(line == 13 and "`neds`" in message and "`needs`?" in message for line, _, message in messages), messages
    assert any(line == 13 and "needs `do`" in message for line, _, message in messages), messages


def test_lint_of_a_clean_procedure_prints_an_empty_array_and_ends_with_0() -> None:
    done = changeover("lint", PROCEDURES / "change-roll.procedure.yaml", "--format", "json")
    assert (done.code, done.data) == (0, [])


def test_lint_reads_standard_input_under_a_name() -> None:
    done = changeover("lint", "-", "--stdin-filename", "desk.procedure.yaml", "--json", given=BROKEN)
    assert {finding["path"] for finding in done.data} == {"desk.procedure.yaml"}


def test_a_need_that_plain_order_leaves_unmet_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "order.procedure.yaml"
    path.write_text(BROKEN.replace("neds", "needs").replace("id: shut,", "id: shut, do: Shut it.,"), encoding="utf-8")
    done = changeover("lint", path, "--json")
    assert [f["rule"] for f in done.data if f["severity"] == "error"] == ["needs-unmet"]
    refused = changeover("run", path, "--plain", "--records", tmp_path)
    assert refused.code == 1
    assert "needs-unmet" in refused.err


def test_work_gives_magnitude_unit_and_si_of_every_value() -> None:
    job = PROCEDURES / "change-roll.job.yaml"
    done = changeover("work", PROCEDURES / "change-roll.procedure.yaml", "--job", job, "--json")
    assert done.code == 0, done.err
    values = done.data["values"]
    numbers = [value for value in values.values() if "ends" not in value]
    pieces = [value for value in values.values() if "ends" in value]
    assert len(numbers) >= 6
    assert all(isinstance(value["si"], float) and value["unit"] for value in numbers)
    assert pieces
    for value in pieces:
        masses = [sum(float(piece) * count for piece, count in end.items()) for end in value["ends"]]
        assert sum(masses) == pytest.approx(value["si"])
        assert max(masses) == min(masses)


def test_work_takes_values_by_set_and_refuses_what_it_does_not_know() -> None:
    procedure, job = PROCEDURES / "change-roll.procedure.yaml", PROCEDURES / "change-roll.job.yaml"
    base = changeover("work", procedure, "--job", job, "--json").data["values"]
    wider = changeover("work", procedure, "--job", job, "--set", "web_width=1000 mm", "--json").data["values"]
    assert base["roll_mass"]["si"] != wider["roll_mass"]["si"]
    unknown = changeover("work", procedure, "--job", job, "--set", "width=1", "--json")
    assert unknown.code == 2
    assert "width" in unknown.err
    comma = changeover("work", procedure, "--job", job, "--set", "web_width=1,2 m", "--json")
    assert comma.code == 2
    assert "," in comma.err


def test_run_with_answers_says_run_journal_and_outcome(played: dict) -> None:
    assert set(played) - {"records"} == {"run", "journal", "outcome"}
    assert played["outcome"] == "finished"
    assert Path(played["journal"]).is_file()


def test_a_run_that_is_not_finished_ends_with_4(tmp_path: Path) -> None:
    answers = tmp_path / "none.answers.yaml"
    answers.write_text("answers: 1\nprocedure: web-break\nunlisted: refuse\n", encoding="utf-8")
    done = changeover(
        "run", PROCEDURES / "web-break.procedure.yaml", "--job", PROCEDURES / "web-break.job.yaml",
        "--answers", answers, "--records", tmp_path, "--json",
    )  # fmt: skip
    assert done.code == 4
    assert done.data["outcome"] == "unfinished"
    assert "no entry" in done.err


def test_verify_ends_with_0_or_names_the_line_and_ends_with_5(played: dict, tmp_path: Path) -> None:
    journal = Path(played["journal"])
    assert changeover("verify", played["run"], "--records", played["records"]).code == 0
    assert changeover("verify", journal).code == 0
    lines = journal.read_bytes().splitlines(keepends=True)
    lines[6] = lines[6].replace(b'"by":"', b'"by":"X', 1)
    damaged = tmp_path / "damaged.journal"
    damaged.write_bytes(b"".join(lines))
    done = changeover("verify", damaged)
    assert done.code == 5
    assert f"{damaged}:7:" in done.out
    assert changeover("verify", damaged, "--json").data["flaws"][0]["line"] == 7


def test_report_comes_in_every_format_and_says_that_a_record_is_damaged(played: dict, tmp_path: Path) -> None:
    for form in ("html", "text", "json"):
        done = changeover("report", played["run"], "--records", played["records"], "--format", form)
        assert done.code == 0, done.err
        assert played["run"] in done.out
    damaged = tmp_path / "damaged.journal"
    damaged.write_bytes(Path(played["journal"]).read_bytes()[:-200])
    assert changeover("report", damaged, "--format", "text").code == 5


def test_a_draft_and_a_played_run_say_so_in_the_report(played: dict) -> None:
    text = changeover("report", played["run"], "--records", played["records"]).out
    assert "PLAYED" in text
    assert "DRAFT" in text


def test_resume_without_a_terminal_asks_for_plain(played: dict) -> None:
    done = changeover("resume", played["run"], "--records", played["records"])
    assert done.code == 2
    assert "--plain" in done.err


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str) -> None:
    done = changeover(name, "--help")
    assert done.code == 0
    assert f"changeover {name}" in done.out


def test_help_lists_every_command_and_exit_code() -> None:
    done = changeover("--help")
    assert all(name in done.out for name in COMMANDS)
    assert all(words in done.out for _, words in EXITS)


def test_a_mistyped_command_is_named_with_the_nearest(tmp_path: Path) -> None:
    done = changeover("repot")
    assert done.code == 2
    assert "report" in done.err
    assert changeover("lint", tmp_path / "nowhere.procedure.yaml").code == 2


def test_rules_and_explain_come_from_the_rules_themselves() -> None:
    rules = changeover("rules", "--json").data
    assert len({rule["rule"] for rule in rules}) == len(rules) > 40
    page = changeover("explain", "needs-unmet").out
    assert "Why:" in page
    assert "Wrong:" in page
    assert changeover("explain", "needs-unmett").code == 2


def test_no_traceback_reaches_a_user_from_any_odd_file(tmp_path: Path) -> None:
    odd = {
        "empty": b"",
        "bytes": b"\xff\xfe\x00",
        "list": b"- 1\n",
        "deep": b"[" * 100_000,
        "tab": b"format: 1\n\tid: x\n",
        "tag": b"format: !!python/object/apply:os.system [ls]\n",
    }
    for name, content in odd.items():
        path = tmp_path / f"{name}.procedure.yaml"
        path.write_bytes(content)
        for arguments in (("lint", path, "--json"), ("work", path), ("run", path, "--plain", "--records", tmp_path)):
            done = changeover(*arguments)
            assert done.code in (1, 2), (name, arguments, done.err)
            assert "Traceback" not in done.err
        if name != "bytes":
            assert json.loads(changeover("lint", path, "--json").out)


@pytest.mark.skipif(sys.platform == "win32", reason="pipes of Unix")
def test_a_reader_that_goes_away_is_no_fault() -> None:
    for command in ("--help", "rules"):
        line = f"{shlex.quote(sys.executable)} -m runner {command} | true"
        done = subprocess.run(["bash", "-c", line], capture_output=True, text=True, cwd=ROOT, check=False, timeout=60)
        assert done.stderr == ""
