"""Where the look of the screen comes from: option, environment, what was picked last; and what terminals can show."""

import argparse
import os
from pathlib import Path

import pytest

from runner.cli.looks import (
    add_looks,
    ascii_wanted,
    few_colours,
    keep,
    looks_of,
    picked_last,
    settings_file,
    shows_unicode,
)

QUIET = ("COLORTERM", "CHANGEOVER_LOOK", "CHANGEOVER_ASCII", "NO_COLOR", "LC_ALL", "LC_CTYPE", "CHANGEOVER_SERVED")


def options(*given: str) -> argparse.Namespace:
    """As a command has them."""
    parser = argparse.ArgumentParser()
    add_looks(parser)
    return parser.parse_args(given)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Settings of nobody, and a terminal that shows everything."""
    for name in QUIET:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "en_GB.UTF-8")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


def test_the_option_wins_then_the_environment_then_what_was_picked_last(monkeypatch: pytest.MonkeyPatch) -> None:
    assert looks_of(options()).palette == "dark"
    keep("light")
    assert looks_of(options()).palette == "light"
    monkeypatch.setenv("CHANGEOVER_LOOK", "contrast")
    assert looks_of(options()).palette == "contrast"
    assert looks_of(options("--look", "mono")).palette == "mono"


def test_no_color_gives_no_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    looks = looks_of(options("--look", "light"))
    assert (looks.palette, looks.colourless) == ("mono", True)


def test_an_unknown_name_in_the_environment_is_said_and_passed_over(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHANGEOVER_LOOK", "purple")
    assert looks_of(options()).palette == "dark"
    assert "none of dark, light, contrast, mono" in capsys.readouterr().err


def test_an_unknown_name_of_the_option_is_a_wrong_use() -> None:
    with pytest.raises(SystemExit):
        options("--look", "purple")


@pytest.mark.parametrize("content", [b"", b"purple\n", b"\xff\xfe", b"dark" * 1000])
def test_a_file_of_anything_else_changes_nothing(content: bytes) -> None:
    keep("light")
    Path(settings_file()).write_bytes(content)
    assert picked_last() == ""
    assert looks_of(options()).palette == "dark"


def test_what_cannot_be_kept_is_no_fault(home: Path) -> None:
    (home / "changeover").write_text("a file where the folder would be")
    keep("light")
    assert picked_last() == ""


def test_nothing_half_written_is_left() -> None:
    keep("light")
    keep("mono")
    assert os.listdir(os.path.dirname(settings_file())) == ["look"]
    assert picked_last() == "mono"


@pytest.mark.parametrize(
    ("environment", "encoding", "shows"),
    [
        ({"LANG": "en_GB.UTF-8"}, "utf-8", True),
        ({"LANG": "de_DE.utf8"}, "utf-8", True),
        ({"LANG": "de_DE.UTF-8@euro"}, "UTF-8", True),
        ({"LANG": "de_DE.ISO-8859-1"}, "iso8859-1", False),
        ({"LANG": "de_DE.UTF-8"}, "ascii", False),
        ({"LANG": "C"}, "utf-8", False),
        ({"LANG": "en_GB.UTF-8", "LC_ALL": "POSIX"}, "utf-8", False),
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, "utf-8", False),
        ({"LANG": "de_DE.ISO-8859-1", "LC_CTYPE": "C.UTF-8"}, "utf-8", False),
        ({"LANG": "C", "LC_CTYPE": "en_GB.UTF-8"}, "utf-8", True),
        ({"LC_CTYPE": "C.UTF-8"}, "utf-8", True),
        ({"LC_ALL": "", "LANG": "en_GB.UTF-8"}, "utf-8", True),
        ({}, "utf-8", True),
        ({}, None, False),
        ({}, "cp437", False),
        ({"LANG": "xx.no-such-charset"}, "utf-8", False),
    ],
)
def test_plain_characters_where_locale_or_encoding_have_no_others(
    environment: dict[str, str], encoding: str | None, shows: bool
) -> None:
    # which of the three counts: POSIX.1-2017, chapter 8.2, from memory
    assert shows_unicode(environment, encoding) is shows


def test_plain_characters_can_be_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    assert ascii_wanted(options("--ascii"))
    monkeypatch.setenv("CHANGEOVER_ASCII", "1")
    assert ascii_wanted(options())
    monkeypatch.setenv("CHANGEOVER_ASCII", "0")
    monkeypatch.setenv("LC_ALL", "C")
    assert ascii_wanted(options())


@pytest.mark.parametrize(
    ("environment", "few"),
    [
        ({"TERM": "linux"}, True),
        ({"TERM": "vt220"}, True),
        ({"TERM": "xterm-256color"}, False),
        ({"TERM": "xterm", "COLORTERM": "truecolor"}, False),
        ({}, False),
    ],
)
def test_a_terminal_of_few_colours_begins_without_any(environment: dict[str, str], few: bool) -> None:
    assert few_colours(environment) is few


def test_what_is_asked_for_wins_over_few_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    assert looks_of(options()).palette == "mono"
    assert looks_of(options("--look", "light")).palette == "light"
