"""Records in a real PostgreSQL that the tests start: each is there once, whole, whoever sends it how often, whatever dies."""

import gc
import json
import os
import random
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from io import BytesIO, StringIO, TextIOWrapper
from pathlib import Path

import pytest

from runner.cli.main import main
from runner.cli.plant import PLANT
from runner.record.plant.base import COLUMNS, Plant, connected
from runner.record.refused import Refused
from runner.record.register import Known
from runner.record.registering import enter
from runner.record.store import Store
from runner.record.verify import verify_bytes
from tests.bench.written_records import write_records
from tests.cli.command import Done

from .server import Server, programs, server

pytestmark = [
    pytest.mark.plant,
    pytest.mark.skipif(not programs() or sys.platform == "win32", reason="there is no PostgreSQL on this machine"),
]

COUNT = 8


@pytest.fixture(scope="module")
def running() -> Iterator[Server]:
    with server() as one:
        yield one


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("written")
    write_records(str(folder), COUNT)
    return folder


@pytest.fixture
def folder(written: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(written, tmp_path / "records"))


@pytest.fixture
def plant(running: Server, monkeypatch: pytest.MonkeyPatch) -> Iterator[Plant]:
    """The database, empty."""
    monkeypatch.setenv(PLANT, running.where)
    found = connected(running.where)
    assert isinstance(found, Plant), found
    found.base.execute("truncate changeover_run")
    yield found
    found.close()


def changeover(*words: str | Path) -> Done:
    """The command within this process, which saves its start."""
    out, err = TextIOWrapper(BytesIO(), encoding="utf-8"), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(list(map(str, words)))
        gc.enable()  # some commands turn it off
    out.seek(0)
    return Done(code, out.read(), err.getvalue())


def send(folder: Path, *words: str) -> Done:
    return changeover("plant", "send", "--records", folder, "--json", *words)


def there(plant: Plant) -> dict[str, bytes]:
    """All journals, by run; a run that is there twice is an error."""
    rows = plant.all("select run, journal from changeover_run order by run")
    assert len({str(run) for run, _ in rows}) == len(rows)
    return {str(run): content for run, content in rows if isinstance(content, bytes)}


def here(folder: Path) -> dict[str, bytes]:
    return {Path(path).stem: Path(path).read_bytes() for path in Store(str(folder)).paths()}


def test_finished_records_are_sent_whole_and_once(plant: Plant, folder: Path) -> None:
    first = send(folder)
    assert (first.code, first.data["sent"], first.data["there"]) == (0, COUNT, 0)
    assert there(plant) == here(folder)
    again = send(folder)
    assert (again.code, again.data["sent"], again.data["there"]) == (0, 0, COUNT)
    for content in there(plant).values():
        assert verify_bytes(content).whole


def test_what_is_still_open_stays_and_what_is_damaged_is_named(plant: Plant, folder: Path) -> None:
    paths = list(map(Path, Store(str(folder)).paths()))
    lines = paths[0].read_bytes().splitlines(keepends=True)
    paths[0].write_bytes(b"".join(lines[:60]))
    content = paths[1].read_bytes()
    paths[1].write_bytes(content[:40_000] + b"x" + content[40_001:])
    done = send(folder)
    assert (done.code, done.data["sent"], done.data["open"], done.data["not_sent"]) == (5, COUNT - 2, 1, 1)
    assert str(paths[1]) in done.err
    assert set(there(plant)) == set(here(folder)) - {paths[0].stem, paths[1].stem}


def test_status_says_what_is_where_and_sends_nothing(plant: Plant, folder: Path) -> None:
    before = changeover("plant", "status", "--records", folder, "--json")
    assert (before.data["there"], before.data["waiting"], before.data["plant"]) == (0, COUNT, [])
    assert there(plant) == {}
    send(folder)
    after = changeover("plant", "status", "--records", folder, "--json")
    assert (after.data["there"], after.data["waiting"]) == (COUNT, 0)
    assert [(row["procedure"], row["runs"]) for row in after.data["plant"]] == [("web-break", COUNT)]
    assert f"in the plant    {COUNT}" in changeover("plant", "status", "--records", folder).out


def test_many_terminals_that_send_the_same_at_once_keep_each_once(plant: Plant, written: Path, tmp_path: Path) -> None:
    """Even the tables are made by one of them alone."""
    for table in ("changeover_run", "changeover_about"):
        plant.base.execute(f"drop table {table}".encode())
    folders = [Path(shutil.copytree(written, tmp_path / str(at))) for at in range(4)]
    words = [sys.executable, "-m", "runner", "plant", "send", "--records"]
    running = [subprocess.Popen([*words, str(one)], stdout=subprocess.PIPE, stderr=subprocess.PIPE) for one in folders]
    ends = [(one.wait(), one.communicate()) for one in running]
    assert [code for code, _ in ends] == [0] * 4, ends
    assert there(plant) == here(written)


def test_a_terminal_that_was_away_sends_later(plant: Plant, folder: Path, running: Server) -> None:
    away = changeover(
        "plant", "send", "--records", folder, "--plant-at", "host=/nowhere user=plant password=secret-word"
    )
    assert away.code == 2
    assert "does not answer" in away.err
    assert "secret-word" not in away.err + away.out
    assert send(folder).data["sent"] == COUNT
    assert there(plant) == here(folder)


def test_no_connection_is_said(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(PLANT, raising=False)
    done = changeover("plant", "status", "--records", folder)
    assert done.code == 2
    assert PLANT in done.err


def test_times_and_report_read_the_same_from_there(plant: Plant, folder: Path, tmp_path: Path) -> None:
    send(folder)
    assert changeover("times", "--plant", "--json").out == changeover("times", "--json", "--records", folder).out
    assert changeover("times", "--plant", "--last", "3", "--csv").out == changeover(
        "times", "--last", "3", "--csv", "--records", folder).out  # fmt: skip
    run = sorted(here(folder))[2]
    for form in ("text", "json"):
        ours = changeover("report", run, "--records", folder, "--format", form)
        assert changeover("report", "--plant", run, "--format", form).out == ours.out
    assert changeover("report", "--plant", "no-such-run").code == 2


def test_figures_of_another_version_are_worked_out_from_the_journals(plant: Plant, folder: Path) -> None:
    send(folder)
    wanted = changeover("times", "--plant", "--json").out
    plant.base.execute("update changeover_run set kind = 'older', extract = 'nonsense'")
    assert changeover("times", "--plant", "--json").out == wanted


def test_a_journal_that_was_changed_in_the_database_is_found(plant: Plant, folder: Path) -> None:
    send(folder)
    run = sorted(here(folder))[0]
    plant.base.execute("update changeover_run set journal = set_byte(journal, 40000, 120) where run = %s", (run,))
    done = changeover("report", "--plant", run)
    assert done.code == 5
    assert "changed: its hash does not fit" in done.err


def test_a_run_that_grew_after_its_end_is_there_in_its_longer_form(plant: Plant, folder: Path) -> None:
    """As after a review: the plant then has both, and reads the longer one; a record written anew is told."""
    send(folder)
    path = Path(next(Store(str(folder)).paths()))
    run = path.stem
    plant.base.execute("update changeover_run set head = repeat('0', 64) where run = %s", (run,))
    done = send(folder)
    assert (done.code, done.data["sent"], done.data["two_records"]) == (5, 1, [run])
    status = changeover("plant", "status", "--records", folder, "--json")
    assert (status.code, status.data["two_records"]) == (5, [run])
    assert changeover("times", "--plant", "--json").data["procedures"][0]["finished"] == COUNT
    report = changeover("report", run, "--plant")
    assert report.code == 5
    assert "THE RECORD IS CONTRADICTED" in report.out
    assert "another record of this run" in report.out


def test_a_record_that_has_grown_is_no_second_one(plant: Plant, folder: Path) -> None:
    send(folder)
    run = Path(next(Store(str(folder)).paths())).stem
    grown = "journal || convert_to(' as if lines had been added', 'UTF8')"
    names = [name for name in COLUMNS if name not in ("head", "events", "journal")]
    plant.base.execute(
        f"insert into changeover_run(head, events, journal, {', '.join(names)}) "
        f"select repeat('a', 64), events + 2, {grown}, {', '.join(names)} from changeover_run where run = %s",
        (run,),
    )
    assert plant.forked() == []
    plant.base.execute("update changeover_run set journal = 'other' where head = repeat('a', 64)")
    assert plant.forked() == [run]


def test_what_the_register_of_heads_contradicts_is_not_sent(plant: Plant, folder: Path) -> None:
    first, other = map(Path, list(Store(str(folder)).paths())[:2])
    right, wrong = verify_bytes(first.read_bytes()), verify_bytes(other.read_bytes())
    entries = [
        Known("closed", first.stem, "live", right.head, right.events, "2024-01-02T06:00:00.000Z"),
        Known("closed", other.stem, "live", "f" * 64, wrong.events, "2024-01-02T06:00:00.000Z"),
    ]
    assert enter(str(folder), tuple(entries)) is None
    done = send(folder)
    assert (done.code, done.data["sent"], done.data["not_sent"]) == (5, COUNT - 1, 1)
    assert f"{other}: the record is contradicted: the register of heads knows another line" in done.err
    assert other.stem not in there(plant)


def test_a_newer_database_is_left_alone(plant: Plant, folder: Path) -> None:
    plant.base.execute("update changeover_about set version = 99")
    try:
        done = send(folder)
        assert done.code == 2
        assert "version 99" in done.err
    finally:
        plant.base.execute("update changeover_about set version = 1")
    assert there(plant) == {}


def test_a_server_killed_in_the_middle_loses_and_doubles_nothing(written: Path, tmp_path: Path) -> None:
    """Several times, at chance moments of sending; what the sender was told is kept by then, and the rest comes later."""
    folder = tmp_path / "many"
    write_records(str(folder), 60)
    chance = random.Random(5)
    environment = dict(os.environ)
    with server() as one:
        environment[PLANT] = one.where
        words = [sys.executable, "-m", "runner", "plant", "send", "--json", "--records", str(folder)]
        subprocess.run(words, env={**environment, PLANT: "host=/nowhere"}, capture_output=True, check=False)
        told = killed = 0
        for _ in range(3):
            sending = subprocess.Popen(words, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
            watch(one, told, chance)
            one.kill()
            killed += sending.wait() != 0
            out = sending.communicate()[0]
            told += changed_by(out)
            one.start()
            found = connected(one.where)
            assert isinstance(found, Plant), found
            kept = there(found)
            found.close()
            assert len(kept) >= told, "what was told is there"
            assert kept.items() <= here(folder).items()
        assert killed, "it was killed while it was being sent to, at least once"
        last = subprocess.run(words, env=environment, capture_output=True, check=True)
        assert changed_by(last.stdout) == 60 - len(kept)
        found = connected(one.where)
        assert isinstance(found, Plant), found
        assert there(found) == here(folder)
        found.close()


def watch(one: Server, told: int, chance: random.Random) -> None:
    """Wait until some more records than before are there."""
    found = connected(one.where)
    if isinstance(found, Refused):
        return
    until = time.monotonic() + 5
    wanted = told + chance.randint(3, 15)
    while time.monotonic() < until:
        rows = found.all("select count(*) from changeover_run")
        if int(str(rows[0][0])) >= wanted:
            break
        time.sleep(0.002)
    threading.Thread(target=found.close).start()


def changed_by(out: bytes) -> int:
    """How many were sent, as the command told."""
    return int(json.loads(out)["sent"]) if out.strip() else 0
