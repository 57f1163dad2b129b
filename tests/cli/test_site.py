"""The site file as commands find it, and the hash of a PIN as a user gets it."""

import argparse
from pathlib import Path

import pytest

from runner.cli.site import site_of, site_path
from runner.procedure.reference import whole
from runner.procedure.site import Site
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


def test_lint_reads_a_site_file(tmp_path: Path) -> None:
    site = written(tmp_path / "site.yaml")
    assert changeover("lint", site, "--no-cache").code == 0
    site.write_text("site: 1\n", encoding="utf-8")
    done = changeover("lint", site, "--no-cache")
    assert done.code == 1
    assert "missing-key" in done.out
