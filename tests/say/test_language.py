"""Which language is spoken: the option, our variable, then the locale as POSIX.1-2017, section 8.2 orders it (from memory:
LC_ALL, then the category's own variable, then LANG; an empty one counts as not set)."""

import subprocess
import sys
from pathlib import Path

import pytest

from runner.say.language import choose, compiled, languages, spoken, wanted
from runner.say.text import say, speaker

DE = {"LANG": "de_DE.UTF-8"}


@pytest.mark.parametrize(
    ("asked", "environment", "name"),
    [
        ("", {}, ""),
        ("de", {}, "de"),
        ("de-AT", {}, "de"),
        ("DE", {}, "de"),
        ("", DE, "de"),
        ("", {"LANG": "de_CH@euro"}, "de"),
        ("", {"LC_MESSAGES": "de_DE", "LANG": "fr_FR"}, "de"),
        ("", {"LC_ALL": "fr_FR", "LC_MESSAGES": "de_DE"}, "fr"),
        ("", {"LC_ALL": "", "LANG": "de_DE"}, "de"),
        ("", {"LC_ALL": "C", **DE}, ""),
        ("", {"LANG": "POSIX"}, ""),
        ("", {"LANG": "C.UTF-8"}, ""),
        ("", {"CHANGEOVER_LANGUAGE": "en", **DE}, ""),
        ("", {"CHANGEOVER_LANGUAGE": "de", "LC_ALL": "en_US"}, "de"),
        ("en", {"CHANGEOVER_LANGUAGE": "de"}, ""),
        ("../../de", {}, ""),
        ("", {"LANG": "\x00"}, ""),
    ],
)
def test_the_language_is_the_one_that_was_asked_for_first(asked: str, environment: dict[str, str], name: str) -> None:
    assert wanted(asked, environment) == name


def test_a_language_without_a_catalogue_is_english() -> None:
    with spoken("en"):
        assert choose("fi", {}) == "en"
        assert choose("de", {}) == "de"
        assert choose("", {"LANG": "fi_FI.UTF-8"}) == "en"
        assert say("help") == "help"


def test_a_catalogue_that_cannot_be_read_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "xx" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "changeover.mo").write_bytes(b"\xde\x12\x04\x95" + b"\xff" * 40)
    monkeypatch.setattr("runner.say.language.CATALOGUES", str(tmp_path))
    with spoken("en"):
        assert choose("xx", {}) == "en"
        assert speaker() is None


def test_german_is_shipped() -> None:
    assert languages() == ("en", "de")
    assert Path(compiled("de")).is_file()


def told(*arguments: str, **environment: str) -> str:
    """What a command says to a person without a terminal."""
    done = subprocess.run(
        [sys.executable, "-m", "runner", *arguments],
        capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL, encoding="utf-8",
        env={"PATH": "/usr/bin", "PYTHONIOENCODING": "utf-8", **environment},
    )  # fmt: skip
    return done.stderr + done.stdout


def test_commands_that_lead_a_person_speak_the_language_and_all_others_english(tmp_path: Path) -> None:
    place = ("--records", str(tmp_path))
    assert "kein Terminal" in told("resume", "some-run", *place, "--language", "de") or "keinen Lauf" in told(
        "resume", "some-run", *place, "--language", "de"
    )
    assert "Es gibt keinen nicht beendeten Lauf." in told("resume", "--plain", *place, LANG="de_DE.UTF-8")
    assert "There is no unfinished run." in told(
        "resume", "--plain", *place, LANG="de_DE.UTF-8", CHANGEOVER_LANGUAGE="en"
    )
    assert "There is no unfinished run." in told("resume", "--plain", *place)
    assert "there is no such file or folder" in told("lint", str(tmp_path / "none"), LANG="de_DE.UTF-8")
