"""The site file as commands find it, and the hash of a PIN as a user gets it."""

import argparse
import json
import re
from pathlib import Path

import pytest

from runner.cli.commands.serve import command_of
from runner.cli.linting.look import Asked
from runner.cli.site import site_of, site_path
from runner.lint.linter import Options, lint_text
from runner.procedure.reference import whole
from runner.procedure.site import Site, read_site
from runner.record.pins import fits
from tests.cli.command import PROCEDURES, changeover


def options(records: Path, site: Path | None = None) -> argparse.Namespace:
    return argparse.Namespace(records=str(records), site=None if site is None else str(site))


def written(path: Path) -> Path:
    path.write_text(whole.SITE_TEXT, encoding="utf-8")
    return path


def test_the_file_that_is_named_comes_before_the_environment_and_that_before_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CHANGEOVER_SITE", raising=False)
    records = tmp_path / "records"
    assert site_path(options(records)) == ""
    assert site_of(options(records)) is None
    beside = written(tmp_path / "site.yaml")
    assert site_path(options(records)) == str(beside)
    assert isinstance(site_of(options(records)), Site)
    monkeypatch.setenv("CHANGEOVER_SITE", "hall.site.yaml")
    assert site_path(options(records)) == "hall.site.yaml"
    assert site_path(options(records, tmp_path / "named.site.yaml")) == str(tmp_path / "named.site.yaml")


def test_nothing_is_run_with_a_site_file_that_cannot_be_used(tmp_path: Path) -> None:
    broken = tmp_path / "broken.site.yaml"
    broken.write_text("site: 1\npeople: [{name: Eva Roth, roles: [lead], pin: 4711}]\n", encoding="utf-8")
    run = ("run", PROCEDURES / "web-break.procedure.yaml", "--plain", "--records", tmp_path / "records")
    for site, words in ((broken, "cannot be used"), (tmp_path / "none.yaml", "there is no such file")):
        done = changeover(*run, "--site", site)
        assert done.code == 2
        assert words in done.err
    assert not (tmp_path / "records").exists()


def test_a_pin_gives_its_hash_and_is_not_shown() -> None:
    done = changeover("site-pin", given="47-11\n")
    assert done.code == 0
    assert fits("47-11", done.out.strip())
    assert "47-11" not in done.out + done.err


def test_what_is_no_pin_gives_no_hash() -> None:
    for given in ("", "12\n", "1111\n"):
        done = changeover("site-pin", given=given)
        assert (done.code, done.out) == (2, "")
        assert "A PIN" in done.err


def test_every_page_that_is_served_has_the_site_file_that_was_named() -> None:
    command = command_of("procedures", None, "hall/site.yaml")
    assert command[-2:] == ("--site", str(Path("hall/site.yaml").resolve()))
    assert "--site" not in command_of("procedures", None)


def test_lint_reads_a_site_file(tmp_path: Path) -> None:
    site = written(tmp_path / "site.yaml")
    assert changeover("lint", site, "--no-cache").code == 0
    site.write_text("site: 1\n", encoding="utf-8")
    done = changeover("lint", site, "--no-cache")
    assert done.code == 1
    assert "missing-key" in done.out


def test_lint_says_which_days_of_a_site_file_are_past_and_looks_anew_on_another_day(tmp_path: Path) -> None:
    site = written(tmp_path / "site.yaml")
    text = site.read_text(encoding="utf-8")
    site.write_text(text.replace("until: 2027-09-14}\n  lifting", "until: 2026-09-15}\n  lifting"), encoding="utf-8")
    here = lint_text(site.read_text(encoding="utf-8"), "site.yaml", lambda _: None, Options(today="2026-09-16"))
    assert [(f.rule, f.place.line, f.message) for f in here] == [
        ("no-longer-counts", 17, "the inspection of Crane of Line 3 counted until 2026-09-15")
    ]
    assert lint_text(site.read_text(encoding="utf-8"), "site.yaml", lambda _: None, Options(today="2026-09-15")) == ()
    allowed = site.read_text(encoding="utf-8").replace(
        "  crane:", "  # lint: allow no-longer-counts, in the store\n  crane:"
    )
    assert lint_text(allowed, "site.yaml", lambda _: None, Options(today="2026-09-16")) == ()
    keys = {Asked("", day).key("site.yaml") for day in ("2026-09-15", "2026-09-16")}
    assert len(keys | {Asked("x.site.yaml").key("site.yaml"), Asked().key("site.yaml")}) == 4


def test_lint_holds_a_procedure_against_the_site_file_that_is_named_and_else_against_the_one_beside_it(
    tmp_path: Path,
) -> None:
    procedure = tmp_path / "change-roll.procedure.yaml"
    for file in PROCEDURES.glob("*.yaml"):
        if file.name != "site.yaml":
            (tmp_path / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    strict = (PROCEDURES / "site.yaml").read_text(encoding="utf-8").replace("30 min", "20 min")
    strict = strict.replace("rating: 1000 kg", "rating: 700 kg")
    (tmp_path / "hall").mkdir()
    (tmp_path / "hall" / "site.yaml").write_text(strict, encoding="utf-8")
    cache = ("--cache-dir", tmp_path / "cache")
    assert changeover("lint", procedure, *cache).out == ""
    for _ in range(2):  # the second time from the cache
        done = changeover("lint", procedure, "--site", tmp_path / "hall" / "site.yaml", *cache)
        assert "longer-than-site-allows" in done.out
        assert "the site allows 20 min" in done.out
        assert "Crane of Line 3 carries 700 kg by the site file; `hook_load` is" in done.out
    (tmp_path / "site.yaml").write_text(strict, encoding="utf-8")
    assert "longer-than-site-allows" in changeover("lint", procedure, *cache).out
    (tmp_path / "site.yaml").unlink()
    assert changeover("lint", procedure, *cache).out == ""
    broken = changeover("lint", procedure, "--site", tmp_path / "none.yaml", *cache)
    assert (broken.code, "there is no such file" in broken.err) == (2, True)


def test_lint_proves_with_the_pieces_of_the_site(tmp_path: Path) -> None:
    text = (
        "format: 1\nid: hang\ntitle: Hang pieces\nrevision: 1\nequipment: Line 3\npurpose: The bar is loaded.\n"
        "people: {unwind: Operator}\ninputs:\n  mass: {ask: Mass for the bar, unit: kg, within: [10, 20]}\n"
        'pieces:\n  rack: {unit: kg, stock: {"1": 20}}\n'
        "calculations:\n  wanted: {formula: mass, unit: kg}\n  hung: {split: wanted, from: rack, ends: 2, within: 1 kg}\n"
        "make_safe:\n  - {do: Press the stop button of the unwind.}\n"
        'phases:\n  - {phase: Hang, park: after, steps: [{id: hang, do: "Hang {hung}."}]}\n'
    )
    beside = {"site.yaml": whole.SITE_TEXT.replace('"1": 6, "2.5": 8, "5": 6', '"1": 6')}
    found = {finding.rule for finding in lint_text(text, "hang.procedure.yaml", lambda _: None)}
    with_site = [f for f in lint_text(text, "hang.procedure.yaml", beside.get) if f.rule not in found]
    assert len(with_site) == 1
    assert "with `rack` as counted on 2026-11-24 (site file): no choice of pieces" in with_site[0].message


def test_work_uses_the_pieces_of_the_site_and_says_whose_they_are(tmp_path: Path) -> None:
    work = ("work", PROCEDURES / "change-roll.procedure.yaml", "--job", PROCEDURES / "change-roll.job.yaml")
    assert "site file" not in changeover(*work).out
    done = changeover(*work, "--site", PROCEDURES / "site.yaml")
    assert "unwind_rack as counted on 2026-11-24 (site file)" in done.out
    assert (done.code, done.err) == (0, "")
    weak = tmp_path / "weak.site.yaml"
    text = (PROCEDURES / "site.yaml").read_text(encoding="utf-8")
    weak.write_text(text.replace("rating: 900 kg", "rating: 0.6 t"), encoding="utf-8")
    # 80 g/m² of 1.2 m over the ring of 1000 on 106 mm at 104 um are 716.9 kg, the core 3.6 kg, beam and slings 57 kg: by hand
    done = changeover(*work, "--site", weak)
    assert (done.code, done.err) == (1, "changeover: Lifting beam carries 0.6 t (site file); hook_load is 778 kg\n")


def test_a_whole_change_of_the_roll_is_played_with_the_site_of_line_3_and_the_report_says_so(tmp_path: Path) -> None:
    answers = Path(__file__).parents[1] / "answers" / "change-roll.answers.yaml"
    site = tmp_path / "site.yaml"
    text = (PROCEDURES / "site.yaml").read_text(encoding="utf-8")
    site.write_text(re.sub("until: 20..", "until: 2099", text), encoding="utf-8")  # whenever this test is run
    done = changeover(
        "run", PROCEDURES / "change-roll.procedure.yaml", "--job", PROCEDURES / "change-roll.job.yaml",
        "--answers", answers, "--site", site, "--records", tmp_path / "records", "--json",
    )  # fmt: skip
    assert done.code == 0, done.err
    told = json.loads(done.out)
    assert told["outcome"] == "finished"
    assert changeover("verify", told["journal"]).code == 0
    report = changeover("report", told["journal"], "--format", "csv").out
    assert "pieces in unwind_rack" in report
    assert "carries 1000 kg" in report


def test_the_pins_of_the_demo_people_are_those_that_the_file_tells() -> None:
    text = (PROCEDURES / "site.yaml").read_text(encoding="utf-8")
    found = read_site(text, "site.yaml")
    assert found.site is not None
    for person, pin in zip(found.site.people, ("2468", "1357", "8642"), strict=True):
        assert f"{person.name} {pin}" in text
        assert fits(pin, person.pin)


def test_a_paper_form_has_the_pieces_of_the_site_and_one_of_a_run_those_of_its_record(tmp_path: Path) -> None:
    answers, site = tmp_path / "few.answers.yaml", tmp_path / "site.yaml"
    answers.write_text("answers: 1\nprocedure: change-roll\nunlisted: refuse\n", encoding="utf-8")
    text = (PROCEDURES / "site.yaml").read_text(encoding="utf-8")
    site.write_text(re.sub("until: 20..", "until: 2099", text), encoding="utf-8")
    job = ("--job", PROCEDURES / "change-roll.job.yaml")
    procedure, records = PROCEDURES / "change-roll.procedure.yaml", ("--records", tmp_path / "records")
    with_ones = "2 x 5 kg + 1 x 3 kg + 1 x 1 kg at each end"
    assert with_ones not in " ".join(changeover("sheet", procedure, *job, *records[:0]).out.split())
    assert with_ones in " ".join(changeover("sheet", procedure, *job, "--site", site).out.split())
    begun = changeover("run", procedure, *job, "--answers", answers, "--site", site, *records, "--json")
    site.unlink()
    journal = json.loads(begun.out)["journal"]
    assert with_ones in " ".join(changeover("sheet", journal).out.split())
