"""`changeover serve` as a command: what it says, what it refuses, what it takes without the extra."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.command import PROCEDURES, ROOT, changeover
from tests.cli.serving.test_gate import TOKEN

BLOCKED = """
import sys
class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("textual_serve", "aiohttp"):
            raise ModuleNotFoundError(name, name=name)
sys.meta_path.insert(0, Blocked())
from runner.cli.main import main
sys.exit(main(sys.argv[1:]))
"""


def test_without_the_extra_it_says_what_to_install() -> None:
    done = subprocess.run(
        [sys.executable, "-c", BLOCKED, "serve"], capture_output=True, text=True, cwd=ROOT, check=False, timeout=60
    )
    assert done.returncode == 2
    assert "changeover-runner[web]" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--port", "0"), "is no port"),
        (("--port", "70000"), "is no port"),
        (("nowhere.procedure.yaml",), "no such file"),
        (("--token-file", "nowhere"), "nowhere"),
    ],
)
def test_what_cannot_be_served_is_said(arguments: tuple[str, ...], words: str) -> None:
    done = changeover("serve", *arguments)
    assert done.code == 2
    assert words in done.err
    assert "Traceback" not in done.err


def test_a_short_token_in_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "token").write_text("short\n", encoding="utf-8")
    done = changeover("serve", PROCEDURES / "web-break.procedure.yaml", "--token-file", tmp_path / "token")
    assert done.code == 2
    assert "needs 16 or more" in done.err


def test_a_token_of_a_file_is_not_said(tmp_path: Path) -> None:
    from argparse import Namespace

    from runner.cli.commands.serve import token_of, told

    (tmp_path / "token").write_text(TOKEN + "\n", encoding="utf-8")
    options = Namespace(token_file=str(tmp_path / "token"), host="0.0.0.0", port=8400)
    assert token_of(options) == (TOKEN, "")
    assert TOKEN not in told(options, TOKEN)
    assert "not encrypted" in told(options, TOKEN)


def test_a_token_that_is_made_is_new_each_time_and_said_once() -> None:
    from argparse import Namespace

    from runner.cli.commands.serve import token_of, told

    options = Namespace(token_file=None, host="0.0.0.0", port=8400)
    first, second = token_of(options)[0], token_of(options)[0]
    assert first != second
    assert len(first) >= 32
    assert told(options, first).count(first) == 1
    assert token_of(Namespace(token_file=None, host="127.0.0.1", port=8400)) == ("", "")
