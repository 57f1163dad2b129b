"""Hostile text in every field on a real terminal: none of it reaches the terminal as a control, and the record is whole.

Fields are filled by pasting and by files: crew, values of the job, words, names, scans, texts of a procedure, names of a
site. Every byte that went to the terminal is looked at.
"""

import json
import sys
from pathlib import Path

import pytest

from tests.screen.terminal import ENTER, F3, F4, Terminal
from tests.screen.using import PROCEDURE, begun, command, foreign, quick, records, run_arguments, verified

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")

OPENING = "\x1b]52;c;ZXZpbA==\x07"
HOSTILE = (
    "Eve"
    + OPENING
    + "\x1b[2J\x1b[35;5m[/b][link=x]\x9b31m\x1bP0;1|17/ab\x1b\\\x07\x08\x00\x7f\u202eesrever\u2066\u200b\u0085"
)
"""Puts something on the clipboard, wipes the screen, colours, markup, C1 controls, function keys, bell, direction."""


def is_clean(terminal: Terminal) -> None:
    """What went to the terminal is ours alone."""
    assert not foreign(terminal.raw)
    for part in (b"\x1b]52;c", b"\x1b[35;5m", b"\x1b[2J\x1b[35;5m", b"\x1bP0;1|", b"\xe2\x80\xae"):
        assert part not in terminal.raw, part
    assert b"Traceback" not in terminal.raw


def paste(terminal: Terminal, text: str) -> None:
    """Put in as a terminal does it, then Enter."""
    terminal.press(f"\x1b[200~{text}\x1b[201~", 0.1)
    terminal.press(ENTER, 0.15)


def shown_by(*arguments: str) -> Terminal:
    """A command that tells and ends."""
    terminal = command(*arguments)
    terminal.ended(20)
    return terminal


def test_hostile_words_names_and_scans_typed_during_a_run_stay_text(tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        begun(terminal, 0.05)
        terminal.press("\x1bOQ", 0.1)
        terminal.until("What is it about?")
        for keys in ("1", "1"):
            terminal.press(keys, 0.1)
            terminal.press(ENTER, 0.1)
        terminal.until("in a few words")
        paste(terminal, HOSTILE)
        terminal.until("1 open")
        terminal.press(F3, 0.1)
        terminal.until("Hand a role over")
        terminal.press("1", 0.1)
        terminal.press(ENTER, 0.1)
        terminal.until("next")
        paste(terminal, HOSTILE)
        terminal.until("PAUSED")
        assert "Eve" in terminal.text
        terminal.press(F4, 0.1)
        terminal.until("STOP, MAKE SAFE")
        is_clean(terminal)
    verified(tmp_path)
    (journal,) = tmp_path.rglob("*.journal")
    for arguments in (("verify", str(journal)), ("report", str(journal), "--format", "text")):
        with shown_by(*arguments) as terminal:
            assert terminal.raw
            is_clean(terminal)
    with command("resume", *records(tmp_path)) as terminal:
        terminal.until("STOP, MAKE SAFE")
        is_clean(terminal)
    with command("home", *records(tmp_path), str(PROCEDURE.parent)) as terminal:
        terminal.read(1.5)
        is_clean(terminal)


def to_the_hold(terminal: Terminal) -> None:
    """From the first step to who releases the lift."""
    for _ in range(9):
        if "Shift lead" in terminal.text and "> _" in terminal.text:
            return
        terminal.press(ENTER, 0.1)
        terminal.read(0.25)
    raise AssertionError(terminal.text)


def test_a_hostile_name_of_a_releaser_releases_nothing_and_stays_text(tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        begun(terminal, 0.05)
        to_the_hold(terminal)
        for name in (HOSTILE, f"S. Lind{OPENING}\x1b[15~", "\x1b[15~\x9bS. Lind\x1b[2J"):
            paste(terminal, name)
            terminal.read(0.2)
            is_clean(terminal)
        terminal.press(F4, 0.1)
        terminal.until("STOP, MAKE SAFE")
        is_clean(terminal)
    verified(tmp_path)
    (journal,) = tmp_path.rglob("*.journal")
    kept = journal.read_bytes()
    assert b"Eve" in kept, "who was refused is on record, as text"
    assert b'"event":"act-refused"' in kept
    assert b'"event":"hold-released"' not in kept
    assert not foreign(kept.replace(b"\n", b"")), "what is kept is clean as well"


@pytest.mark.parametrize("by", ["paste", "keys"])
def test_a_hostile_scan_is_one_refused_entry_and_stays_text(by: str, tmp_path: Path) -> None:
    text = PROCEDURE.read_text(encoding="utf-8")
    old = "do: Set the unwind speed to zero., why: Nothing may turn while hands are near.,"
    assert old in text
    scanning = text.replace(old, f"{old} scan: {{roll_code: {{ask: Code of the roll, match: substrate}}}},")
    here = tmp_path / "scan.procedure.yaml"
    here.write_text(scanning, encoding="utf-8")
    arguments = run_arguments(tmp_path)
    arguments[1] = str(here)
    with quick(*arguments) as terminal:
        begun(terminal, 0.05)
        terminal.press(ENTER, 0.1)
        terminal.until("Code of the roll")
        if by == "paste":
            paste(terminal, HOSTILE)
        else:
            terminal.press(HOSTILE.replace("\x1b", "") + ENTER, 0.1)  # as a reader sends it: keys at once
        terminal.read(0.5)
        terminal.press(F4, 0.1)
        terminal.until("STOP, MAKE SAFE")
        is_clean(terminal)
    verified(tmp_path)
    (journal,) = tmp_path.rglob("*.journal")
    kept = journal.read_bytes()
    answers = [line for line in kept.split(b"\n") if b'"event":"answered"' in line]
    assert len(answers) == 1
    assert b"Eve" in answers[0]
    assert b'"verdict":"out"' in answers[0]
    assert not foreign(kept.replace(b"\n", b"")), "what is kept is clean as well"


def test_hostile_crew_and_values_typed_at_the_start_stay_text(tmp_path: Path) -> None:
    with quick("run", str(PROCEDURE), *records(tmp_path)) as terminal:
        terminal.until("Before you begin")
        for _ in range(6):
            terminal.press(ENTER, 0.1)
            terminal.read(0.3)
            if "> _" in terminal.text:
                break
        for _ in range(8):
            paste(terminal, HOSTILE)
            terminal.read(0.2)
        assert "Eve" in terminal.text
        is_clean(terminal)


@pytest.mark.parametrize("field", ["crew", "input", "extra"])
def test_a_hostile_job_file_is_refused_or_shown_as_text(field: str, tmp_path: Path) -> None:
    job = {
        "job": 1, "procedure": "small-change",
        "inputs": {"web_width": "1250 mm", "roll_od": "1000 mm", "substrate": "kraft paper"},
        "crew": {"unwind": "N. Petrov", "rewind": "T. Oduya", "lead": "S. Lind"},
    }  # fmt: skip
    match field:
        case "crew":
            job["crew"] = {"unwind": HOSTILE, "rewind": "T. Oduya", "lead": "S. Lind"}
        case "input":
            job["inputs"] = {"web_width": HOSTILE, "substrate": HOSTILE}
        case _:
            job[HOSTILE] = HOSTILE
    (tmp_path / "job.yaml").write_text(json.dumps(job), encoding="utf-8")
    with quick("run", str(PROCEDURE), "--job", str(tmp_path / "job.yaml"), *records(tmp_path)) as terminal:
        for _ in range(8):
            terminal.press(ENTER, 0.1)
            terminal.read(0.3)
            if not terminal.child.isalive():
                break
        assert terminal.raw
        is_clean(terminal)


@pytest.mark.parametrize("escaped", [True, False])
@pytest.mark.parametrize("key", ["title", "do", "hazard"])
def test_a_hostile_procedure_is_refused_without_its_text_acting(key: str, escaped: bool, tmp_path: Path) -> None:
    text = PROCEDURE.read_text(encoding="utf-8")
    old = {"title": "Change a small roll, both sides", "do": "Set the unwind speed to zero.", "hazard": "A roll on the crane can fall or swing."}[key]  # fmt: skip
    assert old in text
    hostile = json.dumps(HOSTILE) if escaped else f'"{HOSTILE}"'
    (tmp_path / "evil.procedure.yaml").write_text(text.replace(old, hostile, 1), encoding="utf-8", newline="")
    for arguments in (("run", *records(tmp_path)), ("lint",), ("sheet",)):
        with shown_by(arguments[0], str(tmp_path / "evil.procedure.yaml"), *arguments[1:]) as terminal:
            assert terminal.raw
            is_clean(terminal)
    assert not list(tmp_path.rglob("*.journal"))


def test_hostile_names_in_a_site_file_do_not_act(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_text(
        json.dumps(
            {"site": 1, "unknown": "refused", "people": [{"name": HOSTILE, "roles": ["unwind"], "pin": HOSTILE}]}
        ),
        encoding="utf-8",
    )
    with quick(*run_arguments(tmp_path), "--site", str(tmp_path / "site.yaml")) as terminal:
        for _ in range(5):
            terminal.press(ENTER, 0.1)
            terminal.read(0.3)
        assert terminal.raw
        is_clean(terminal)


def test_a_hostile_file_name_does_not_act(tmp_path: Path) -> None:
    name = tmp_path / "a\x1b[35;5mb\x07.procedure.yaml"
    name.write_text(PROCEDURE.read_text(encoding="utf-8"), encoding="utf-8")
    for what, path in (
        ("lint", name),
        ("lint", f"{name}x"),
        ("run", f"{name}x"),
        ("verify", f"{name}x"),
        ("report", f"{name}x"),
    ):
        with shown_by(what, str(path)) as terminal:
            assert terminal.raw
            is_clean(terminal)
