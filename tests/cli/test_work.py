"""`changeover work` as a user has it: sweeps, worst jobs, formats, pipes, and words for what is not understood."""

import csv
import io
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from .command import PROCEDURES, ROOT, Done, changeover

PROCEDURE, JOB = PROCEDURES / "change-roll.procedure.yaml", PROCEDURES / "change-roll.job.yaml"


def work(*arguments: str | Path, encoding: str = "utf-8") -> Done:
    return changeover("work", PROCEDURE, "--job", JOB, *arguments, PYTHONIOENCODING=encoding)


def test_a_sweep_prints_a_table_and_a_plot_without_colour_in_a_pipe() -> None:
    done = work("--sweep", "web_width=400mm..1300mm", "--values", "roll_mass,unwind_pieces")
    assert (done.code, done.err) == (0, "")
    assert "\x1b" not in done.out
    assert max(len(line) for line in done.out.splitlines()) <= 80
    assert any(line.split()[:2] == ["1200", "721"] for line in done.out.splitlines())
    assert "400 mm" in done.out
    assert "⣀" in done.out


def test_a_value_out_of_limits_has_a_word_and_a_sign_and_the_exit_code_says_so() -> None:
    done = work("--sweep", "roll_od=900..1200 mm by 100 mm", "--values", "roll_mass")
    assert done.code == 1
    assert "873 ▲ OUT" in done.out
    assert "roll_mass is out of limits from 1100 mm to 1200 mm" in done.out


def test_an_output_without_unicode_gets_ascii() -> None:
    done = work("--sweep", "roll_od=900..1200 mm by 100 mm", encoding="ascii")
    assert done.out.isascii()
    assert "873 ! OUT" in done.out
    assert work("--ascii").out.isascii()


def test_a_sweep_of_a_reading_works_out_what_needs_it() -> None:
    done = work("--sweep", "sling_angle=30..60 deg by 10 deg", "--values", "sling_leg", "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(done.out)))
    assert [float(row["sling_leg [kg]"]) for row in rows] == sorted(
        (float(row["sling_leg [kg]"]) for row in rows), reverse=True
    )


def test_json_and_format_json_are_the_same() -> None:
    arguments = ("--sweep", "substrate=*")
    assert work(*arguments, "--json").data == work(*arguments, "--format", "json").data


def test_an_output_file_gets_the_page_and_stdout_nothing(tmp_path: Path) -> None:
    path = tmp_path / "sweep.html"
    done = work("--sweep", "caliper=*", "--format", "html", "--output", path)
    assert done.out == ""
    assert path.read_text(encoding="utf-8").count("<svg") > 3
    nowhere = work("--output", tmp_path / "none" / "x.txt")
    assert nowhere.code == 2
    assert "Traceback" not in nowhere.err


def test_worst_names_the_nearest_job_for_each_limit_and_holds_what_is_given() -> None:
    done = changeover("work", PROCEDURE, "--worst", "--set", "roll_od=1000mm", "--json")
    assert done.code == 1
    found = {(near["name"], near["limit"]): near for near in done.data["worst"]}
    heavy = found["roll_mass", "<= 800 kg"]
    assert heavy["broken"] is True
    assert "roll_od" not in heavy["job"]
    assert heavy["reserve"] == pytest.approx(800 - heavy["value"])
    again = changeover(
        "work", PROCEDURE, "--set", "roll_od=1000mm", "--json",
        *(part for name, text in heavy["job"].items() for part in ("--set", f"{name}={text}")),
    )  # fmt: skip
    assert again.data["values"]["roll_mass"]["verdict"] == "out"
    assert again.data["values"]["roll_mass"]["magnitude"] == pytest.approx(heavy["value"], rel=1e-3)
    order = [near["broken"] for near in done.data["worst"]]
    assert order == sorted(order, reverse=True)


def test_a_list_with_spaces_after_its_commas_is_a_list() -> None:
    done = work("--sweep", "job_length=6000, 7400, 8000", "--values", "spare_length")
    assert done.code == 1
    assert "8000 m" in done.out
    assert "-557.948 ▲ OUT" in done.out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--sweep", "web_width=1300mm..400mm"), "write the lower end first"),
        (("--sweep", "web_width=400mm.."), "the range is open"),
        (("--sweep", "web_widht=1..2"), "did you mean web_width?"),
        (("--sweep", "web_width=400..500", "--set", "web_width=450"), "leave one of them out"),
        (("--sweep", "web_width=*", "--sweep", "caliper=*"), "one sweep at a time"),
        (("--sweep", "web_width=*", "--values", "none"), "--values"),
        (("--points", "3"), "goes with --sweep"),
        (("--values", "roll_mass"), "goes with --sweep"),
        (("--sweep", "web_width=400..500 by 50", "--points", "3"), "not both"),
        (("--sweep", "web_width=\x1b[2J..5"), "do not print"),
        (("--set", "roll_mass=3 kg"), "is worked out"),
        (("--set", "named_risk=nonsense"), "is none of"),
    ],
)
def test_what_is_not_understood_is_said_with_what_to_do(arguments: tuple[str, ...], words: str) -> None:
    done = work(*arguments)
    assert done.code == 2
    assert done.out == ""
    assert words in done.err
    assert "\x1b" not in done.err
    assert done.err.startswith("changeover: ")


def test_a_reader_that_goes_away_is_no_fault() -> None:
    command = [
        sys.executable,
        "-m",
        "runner",
        "work",
        str(PROCEDURE),
        "--job",
        str(JOB),
        "--sweep",
        "web_width=*",
        "--points",
        "1000",
    ]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(10)
        process.stdout.close()
        told = process.stderr.read()
        process.wait(60)
    assert told == b""


@pytest.mark.parametrize(
    ("environment", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)]
)
def test_a_terminal_has_colour_unless_it_is_unwanted(environment: dict[str, str], coloured: bool) -> None:
    # no-color.org: NO_COLOR, present and not empty, whatever its value (from memory).
    above, below = pty.openpty()
    known = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    command = [
        sys.executable,
        "-m",
        "runner",
        "work",
        str(PROCEDURE),
        "--job",
        str(JOB),
        "--sweep",
        "roll_od=*",
        "--values",
        "roll_mass",
    ]
    process = subprocess.Popen(command, stdout=below, cwd=ROOT, env={**known, "TERM": "xterm", **environment})
    os.close(below)
    shown = b""
    while True:
        try:
            part = os.read(above, 65536)
        except OSError:  # the other end is closed
            break
        if not part:
            break
        shown += part
    os.close(above)
    assert process.wait(60) == 1
    assert (b"\x1b[" in shown) is coloured
    assert "▲ OUT".encode() in shown


def test_paths_are_drawn_and_told_roller_by_roller() -> None:
    done = work("--paths")
    assert done.code == 0, done.err
    assert "web path unwind_path" in done.out
    assert "tension bar" in done.out
    assert max(len(line) for line in done.out.splitlines()) <= 80
    assert work("--paths", "--ascii").out.isascii()
    found = {path["name"]: path for path in work("--paths", "--json").data["paths"]}
    # an open pass from under the bar up to two idlers of one height: the web turns by nearly half a turn there
    (bar,) = [roller for roller in found["unwind_path"]["rollers"] if roller["roller"] == "tension bar"]
    assert 150 < bar["wrap_deg"] < 180
    assert work("--paths", "--format", "html").out.count("<svg") == 2


def test_a_path_that_lacks_a_value_says_so() -> None:
    done = changeover("work", PROCEDURE, "--paths")
    assert done.code == 1
    assert "cannot be worked out" in done.out
    assert "roll_od" in done.out


def test_help_has_an_example_of_each_and_fits_80_columns() -> None:
    done = changeover("work", "--help")
    for option in ("--job", "--set", "--sweep", "--points", "--values", "--worst", "--paths", "--format"):
        assert f" {option}" in done.out.partition("examples")[2], option
    assert max(len(line) for line in done.out.splitlines()) <= 80
