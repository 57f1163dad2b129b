"""`changeover verify` and `terminal-key` as a user has them: whole, damaged, cut, gone, signed and not, codes from paper."""

import errno
import os
import shutil
from pathlib import Path

import pytest

from runner.cli.main import main

from .command import ANSWERS, PROCEDURES, changeover, play
from .test_review import decisions


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of records with an unsigned and a signed run; the key lies beside it."""
    place = tmp_path_factory.mktemp("place")
    play("web-break", place / "records")
    key = changeover("terminal-key", "--records", place / "records")
    assert key.code == 0
    (place / "site.yaml").write_text(
        'site: 1\npeople:\n  - {name: Eva Roth, roles: [lead], pin: "$argon2id$v=19$m=19456,t=2,p=1'
        '$Y2hhbmdlb3Zlci1zYWx0$V0pTcGE2d0N3b2RlbW9vbmx5MDEyMzQ1Njc4OTBhYmM"}\n'
        f'terminals: {{line_3: "{key.out.strip()}"}}\n',
        encoding="utf-8",
    )
    (place / "public").write_text(f"{key.out.strip()} line 3\n", encoding="utf-8")
    shutil.move(place / "site.yaml", place / "later.yaml")  # the run itself is played without a site
    play("web-break", place / "records")
    shutil.move(place / "later.yaml", place / "site.yaml")
    return place


@pytest.fixture
def place(made: Path, tmp_path: Path) -> Path:
    """A copy to do harm to."""
    return Path(shutil.copytree(made, tmp_path / "place"))


def runs(place: Path) -> list[Path]:
    """The journals; the signed one last."""
    return sorted(place.glob("records/live/*/*/*.journal"), key=lambda path: b'"signature":""' not in path.read_bytes())


def test_a_key_is_made_once_and_nobody_else_reads_it(place: Path) -> None:
    first = changeover("terminal-key", "--records", place / "records", "--show")
    again = changeover("terminal-key", "--records", place / "records")
    assert (first.code, first.out) == (0, again.out)
    assert len(again.out.strip()) == 64
    assert (place / "terminal.key").stat().st_mode & 0o777 == 0o600
    assert changeover("terminal-key", "--records", place / "elsewhere" / "records", "--show").code == 2


def test_a_folder_that_agrees_is_in_order(place: Path) -> None:
    done = changeover("verify", "--records", place / "records")
    assert (done.code, done.err) == (0, "")
    assert "2 records: 2 in order, 0 not; 2 ended, 1 signed" in done.out


def test_all_that_vouches_for_a_run_is_said_in_words_and_as_data(place: Path) -> None:
    plain, signed = runs(place)
    words = changeover("verify", signed)
    assert words.code == 0
    for said in ("whole;", "head code", "signed by line_3", "register: agrees"):
        assert said in words.out
    assert "not signed" in changeover("verify", plain).out
    data = changeover("verify", signed, "--json").data
    assert (data["whole"], data["good"], data["findings"]) == (True, True, [])
    assert data["seals"][0]["terminal"] == "line_3"
    assert data["seals"][0]["signature_fits"] is True
    code = data["code"]
    assert changeover("verify", signed, "--head", code.lower()).code == 0
    assert changeover("verify", plain, "--head", code).code == 5
    mistyped = changeover("verify", signed, "--head", code[:-1] + ("0" if code[-1] != "0" else "1"))
    assert mistyped.code == 2
    assert "symbol by symbol" in mistyped.err


def test_with_keys_named_a_record_is_to_be_signed_by_one_of_them(place: Path) -> None:
    plain, signed = runs(place)
    assert changeover("verify", signed, "--key", place / "public").code == 0
    done = changeover("verify", plain, "--key", place / "public")
    assert done.code == 5
    assert "not by a trusted key" in done.out
    assert changeover("verify", plain, "--key", place / "site.yaml").code == 2


def test_cut_gone_doubled_and_put_in_records_show(place: Path) -> None:
    one, other = runs(place)
    whole = one.read_bytes()
    lines = whole.splitlines(keepends=True)
    first = next(at for at, line in enumerate(lines, start=1) if b'"left":0' in line)
    one.write_bytes(b"".join(lines[:first]))
    done = changeover("verify", one)
    assert done.code == 5
    assert "cut: line" in done.out
    assert "whole in itself, and contradicted" in done.err
    one.unlink()
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert f"{one.stem}: gone" in done.out
    one.write_bytes(whole)
    month = other.parent.with_name("01")
    month.mkdir()
    shutil.copy(other, month / other.name)
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert f"{other.stem}: doubled" in done.out


def test_a_lost_register_is_said_and_rebuilt_with_a_mark(place: Path) -> None:
    register = place / "records" / "heads.register"
    register.unlink()
    done = changeover("verify", place / "records")
    assert done.code == 0
    assert "there is no register of heads" in done.out
    done = changeover("verify", place / "records", "--rebuild")
    assert done.code == 0
    assert "the register was lost and rebuilt" in done.out
    assert register.exists()


def test_a_changed_register_is_named_by_its_line(place: Path) -> None:
    register = place / "records" / "heads.register"
    register.write_bytes(register.read_bytes().replace(b'"kind":"opened"', b'"kind":"closed"', 1))
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert "heads.register: damaged: line 2" in done.out
    data = changeover("verify", place / "records", "--json").data
    assert "line 2" in data["register"][0]


def test_records_that_changed_places_are_named_and_not_gone_on_with(place: Path) -> None:
    one, other = runs(place)
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert done.out.count("misplaced") == 2
    assert changeover("review", one, "--json").code != 0
    report = changeover("report", one)
    assert report.code == 5
    assert "THE RECORD IS CONTRADICTED" in report.out


def test_a_dry_run_among_the_live_ones_is_named(place: Path) -> None:
    dry_run = changeover(
        "dry-run", PROCEDURES / "web-break.procedure.yaml", "--job", PROCEDURES / "web-break.job.yaml",
        "--answers", ANSWERS / "web-break.answers.yaml", "--records", place / "records",
    )  # fmt: skip
    assert dry_run.code == 0
    dry = next(place.glob("records/dry/*/*/*.journal"))
    lies = dry.rename(runs(place)[0].parent / dry.name)
    for named in (place / "records", lies):
        done = changeover("verify", named)
        assert done.code == 5
        assert "is the record of a dry run, but lies among the live runs" in done.out


def test_a_journal_where_no_record_lies_is_named(place: Path) -> None:
    shutil.copy(runs(place)[0], place / "records" / "copy.journal")
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert "copy.journal: no record lies here" in done.out


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_a_register_that_cannot_be_read_is_no_good_register(place: Path) -> None:
    register = place / "records" / "heads.register"
    register.unlink()
    os.mkfifo(register)
    for named in (place / "records", runs(place)[0]):
        done = changeover("verify", named)
        assert done.code == 5
        assert "it is no ordinary file" in done.out


def test_where_a_site_names_its_terminals_another_key_does_not_count(place: Path) -> None:
    plain, signed = runs(place)
    assert changeover("verify", signed).code == 0
    site = place / "site.yaml"
    text = site.read_text(encoding="utf-8")
    site.write_text(text[: text.index("line_3")] + f'line_3: "{"ab" * 32}"}}\n', encoding="utf-8")
    done = changeover("verify", signed)
    assert done.code == 5
    assert "not by a trusted key" in done.out
    assert changeover("verify", plain).code == 0  # a seal without a signature is no flaw


def test_what_was_added_without_the_key_is_said(place: Path) -> None:
    signed = runs(place)[1]
    (place / "terminal.key").unlink()
    site = place / "site.yaml"
    site.write_text(
        "site: 1\n" + site.read_text(encoding="utf-8")[site.read_text().index("terminals") :], encoding="utf-8"
    )
    done = changeover("review", signed, "--plain", given=decisions(signed))
    assert "reviewed and signed" in done.err
    done = changeover("verify", signed)
    assert done.code == 0
    assert "is not signed, and one before it is" in done.out


def test_nothing_in_the_name_of_a_file_acts_on_the_terminal(place: Path) -> None:
    shutil.copy(runs(place)[0], runs(place)[0].with_name("a\x1b[2J.journal"))
    done = changeover("verify", place / "records")
    assert done.code == 5
    assert "\x1b" not in done.out + done.err


def test_a_report_says_what_the_register_says(place: Path) -> None:
    signed = runs(place)[1]
    register = place / "records" / "heads.register"
    assert changeover("report", signed).code == 0
    register.write_bytes(b"".join(register.read_bytes().splitlines(keepends=True)[:2]))
    for form in ("text", "html", "markdown"):
        done = changeover("report", signed, "--format", form)
        assert done.code == 5
        assert "THE RECORD IS CONTRADICTED" in done.out
        assert "not registered" in done.out
        assert "contradicted" in done.err
    assert changeover("report", signed, "--json").data["record"]["contradicted"]


def test_a_folder_that_may_not_be_read_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refused(path: str) -> list[str]:
        raise PermissionError(errno.EACCES, "Permission denied", path)

    monkeypatch.setattr("os.listdir", refused)
    assert main(["verify", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert said.startswith(f"changeover: {tmp_path}")
    assert said.endswith(": Permission denied. Its owner must allow it.\n")


def test_a_record_that_was_taken_away_on_purpose_is_told_as_that_and_nothing_is_wrong(place: Path) -> None:
    plain, signed = runs(place)
    records = place / "records"
    run = plain.name.removesuffix(".journal")
    said = ("--removed", run, "--by", "Lena Fictive", "--why", "ten years\x1b[31m are over")
    refused = changeover("verify", records, *said)
    assert refused.code == 2
    assert "Take it away first" in refused.err
    plain.unlink()
    assert changeover("verify", records).code == 5
    assert changeover("verify", records, "--removed", run).code == 2
    assert changeover("verify", signed, *said).code == 2
    entered = changeover("verify", records, *said)
    assert (entered.code, entered.err) == (0, "")
    assert f"{run}: removed: Lena Fictive said 2" in entered.out
    after = changeover("verify", records)
    assert after.code == 0
    assert entered.out.strip() in after.out
    assert "\x1b" not in after.out
    assert "1 record: 1 in order, 0 not; 1 ended, 1 signed\n" in after.out
    data = changeover("verify", records, "--json").data
    assert (data["wrong"], len(data["removed"])) == ([], 1)
    signed.unlink()
    assert "gone" in changeover("verify", records).out
