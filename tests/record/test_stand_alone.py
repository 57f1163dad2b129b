"""The verifier in `schemas/`, which shares nothing with the program, agrees with it on vectors and on whatever is done to a journal."""

import ast
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.cli.vouching import Trust, look
from runner.engine.events import AFTER_SEAL
from runner.record.fields import WORDS
from runner.record.head_code import head_code
from runner.record.line import ROOM
from runner.record.refused import Refused
from runner.record.register import NAME, Register, gone, read_register
from runner.record.registering import runs_there
from runner.record.verify import verify_bytes
from tests.record import make_vectors
from tests.record.sample import actions, content, lines

SCHEMAS = Path(__file__).parents[2] / "schemas"
SCRIPT = SCHEMAS / "verify_record.py"
VECTORS = SCHEMAS / "vectors"
EXPECTED = json.loads((VECTORS / "expected.json").read_text(encoding="utf-8"))
FIELDS_ONLY = {"malformed", "unknown event"}
"""Kinds that only who knows the events can find."""


def loaded() -> ModuleType:
    """The script as a module."""
    spec = importlib.util.spec_from_file_location("verify_record", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


ALONE = loaded()


def run_alone(*arguments: str) -> tuple[int, list[str]]:
    """Exit code and lines of the script as a program, without anything that is installed."""
    done = subprocess.run(
        [sys.executable, "-I", "-S", str(SCRIPT), *arguments], capture_output=True, text=True, timeout=60, check=False
    )
    assert "Traceback" not in done.stderr
    return done.returncode, done.stdout.splitlines()


def test_it_is_short_and_imports_the_standard_library_alone() -> None:
    text = SCRIPT.read_text(encoding="utf-8")
    assert len(text.splitlines()) < 200
    names = {
        name.name.split(".")[0]
        for node in ast.walk(ast.parse(text, feature_version=(3, 8)))
        if isinstance(node, ast.Import)
        for name in node.names
    }
    assert not any(isinstance(node, ast.ImportFrom) for node in ast.walk(ast.parse(text)))
    assert names <= set(sys.stdlib_module_names)


def test_it_lets_the_same_events_follow_a_seal() -> None:
    assert set(ALONE.AFTER_SEAL) == {WORDS[event] for event in AFTER_SEAL}


def test_the_vectors_are_those_that_are_made() -> None:
    made = make_vectors.journals()
    assert set(made) == set(EXPECTED["journals"])
    for name, (there, line, kind) in made.items():
        assert (VECTORS / "journals" / f"{name}.journal").read_bytes() == there, name
        assert EXPECTED["journals"][name] == {"line": line, "kind": kind}
    for name, (files, shows) in make_vectors.folders().items():
        for place, there in files.items():
            assert (VECTORS / "folders" / name / place).read_bytes() == there, (name, place)
        assert EXPECTED["folders"][name] == shows


def test_as_a_program_it_finds_what_is_expected_in_every_journal() -> None:
    paths = {name: str(VECTORS / "journals" / f"{name}.journal") for name in EXPECTED["journals"]}
    code, said = run_alone(*paths.values())
    assert code == 1
    found = {line.split(".journal:")[0].rsplit("/", 1)[1]: int(line.split(":")[1]) for line in said}
    for name, wanted in EXPECTED["journals"].items():
        if wanted["kind"] == "unknown event" or name == "malformed":
            continue
        assert found.get(name, 0) == wanted["line"], name


@pytest.mark.parametrize("name", sorted(EXPECTED["journals"]))
def test_the_program_finds_the_same_in_every_journal(name: str) -> None:
    found = verify_bytes((VECTORS / "journals" / f"{name}.journal").read_bytes())
    first = found.flaws[0] if found.flaws else None
    wanted = {"line": first.line if first else 0, "kind": str(first.kind) if first else ""}
    assert wanted == EXPECTED["journals"][name]


def shown(folder: Path) -> dict[str, str]:
    """What the program finds in a folder, as the vectors say it."""
    found: dict[str, str] = {}
    there = runs_there(str(folder))
    register = folder / NAME
    known: Register | None = read_register(register.read_bytes()) if register.exists() else None
    if known is not None:
        found |= {run: finding.kind for run, finding in gone(known, there) if finding.grave}
        if known.flaw:
            return {"": "register"}
    for paths in there.values():
        looked = look(paths[0], Trust({}, must=False), None, known, alone=False)
        assert not isinstance(looked, Refused)
        assert looked.found.whole
        found |= [(looked.found.run, one.kind) for one in looked.vouched.findings if one.grave]
    return found


@pytest.mark.parametrize("name", sorted(EXPECTED["folders"]))
def test_both_find_in_every_folder_what_its_register_shows(name: str) -> None:
    wanted = EXPECTED["folders"][name]
    assert shown(VECTORS / "folders" / name) == wanted
    code, said = run_alone(str(VECTORS / "folders" / name))
    assert code == bool(wanted)
    if wanted:
        assert len(said) == len(wanted)
        assert all(run in line for run, line in zip(sorted(wanted), sorted(said), strict=True))


def test_a_code_that_was_written_down_is_looked_for() -> None:
    path = str(VECTORS / "journals" / "sealed.journal")
    head = verify_bytes(Path(path).read_bytes()).head
    assert run_alone(path, "--head", head_code(head)) == (0, [f"nothing is wrong: {path}"])
    assert run_alone(path, "--head", head_code("f" * 64))[0] == 1
    assert run_alone(path, "--head", head_code(head)[:-1] + "~")[0] == 2


def test_a_whole_hash_is_a_code_as_well() -> None:
    path = str(VECTORS / "journals" / "sealed.journal")
    head = verify_bytes(Path(path).read_bytes()).head
    assert run_alone(path, "--head", head)[0] == 0
    assert run_alone(path, "--head", "0" * 64)[0] == 1


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_what_is_no_ordinary_file_is_no_record_and_no_register(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(VECTORS / "folders" / "agrees", tmp_path / "records"))
    journal = next(folder.glob("live/*/*/*.journal"))
    elsewhere = journal.rename(tmp_path / "elsewhere")
    puts: list[Callable[[Path], object]] = [lambda path: path.symlink_to(elsewhere), Path.mkdir, os.mkfifo]
    for put in puts:
        put(journal)
        code, said = run_alone(str(folder))
        assert (code, said) == (1, [f"{journal}:0: is no ordinary file, or cannot be read"])
        journal.rmdir() if journal.is_dir() else journal.unlink()
    elsewhere.rename(journal)
    (folder / NAME).unlink()
    os.mkfifo(folder / NAME)
    assert run_alone(str(folder)) == (1, [f"{folder / NAME}:0: the register is no ordinary file, or cannot be read"])
    assert run_alone(str(journal), "--register", str(tmp_path / "none"))[0] == 1


@pytest.mark.parametrize("key", ["at", "by", "event", "format", "left", "mode", "n", "of", "prev", "run"])
@pytest.mark.parametrize("value", [None, True, 0, -1, 10**30, 1.5, "x", [], {}])
def test_any_value_in_any_field_of_a_first_line_is_told_and_never_a_fault(
    key: str, value: object, tmp_path: Path
) -> None:
    # another first line has another hash, so that the second one, at the latest, does not follow it
    _, _, text = SMALL.split(b"\n")[0].split(b" ", 2)
    entry = json.loads(text)
    if entry.get(key) == value and type(entry.get(key)) is type(value):
        return
    changed = json.dumps({**entry, key: value}, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
    rest = SMALL.partition(b"\n")[2]
    path = tmp_path / "records" / "live" / "2026" / "11" / "x.journal"
    path.parent.mkdir(parents=True)
    path.write_bytes(b"%d %s %s\n" % (len(changed), sha256(changed).hexdigest().encode(), changed) + rest)
    (tmp_path / "records" / NAME).write_bytes((VECTORS / "folders" / "agrees" / NAME).read_bytes())
    assert ALONE.main([str(tmp_path / "records")]) == 1
    assert verify_bytes(path.read_bytes()).flaws


def agree(there: bytes) -> None:
    """Both name the same first line, or none."""
    flaws = verify_bytes(there).flaws
    assert ALONE.first_flaw(there)[0] == (flaws[0].line if flaws else 0)


SMALL = content(actions(0))
"""A run of four lines, begun and ended."""


def test_they_agree_on_every_flipped_bit_of_a_small_journal() -> None:
    for at in range(len(SMALL)):
        for bit in range(8):
            changed = SMALL[:at] + bytes([SMALL[at] ^ 1 << bit]) + SMALL[at + 1 :]
            agree(changed)
            flaws = verify_bytes(changed).flaws
            line = SMALL.count(b"\n", 0, at) + 1
            assert flaws, (at, bit)
            # a line end that became another byte joins two lines; where the last has none the line is cut
            assert flaws[0].line == line


def test_they_agree_on_a_journal_cut_at_each_byte() -> None:
    for size in range(len(SMALL) + 1):
        agree(SMALL[:size])
        agree(SMALL[:size].ljust(ROOM, b"\0"))


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.sampled_from(["take", "swap", "double", "cut", "zeros", "byte"]), st.integers(0, 10**6), st.integers(0, 10**6)), min_size=1, max_size=4))  # fmt: skip
def test_they_agree_on_lines_taken_moved_doubled_and_cut(deeds: list[tuple[str, int, int]]) -> None:
    each = lines(actions(2))
    for deed, one, other in deeds:
        if not each:
            break
        a, b = one % len(each), other % len(each)
        match deed:
            case "take":
                del each[a]
            case "swap":
                each[a], each[b] = each[b], each[a]
            case "double":
                each.insert(b, each[a])
            case "cut":
                each[-1] = each[-1][: other % (len(each[-1]) + 1)]
            case "zeros":
                each[-1] += bytes(other % 70000)
            case _:
                at = other % (len(each[a]) + 1)
                each[a] = each[a][:at] + b"\x01" + each[a][at + 1 :]
    agree(b"".join(each))
