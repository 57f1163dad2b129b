"""Sockets are made in one module, and what terminals say to each other is bytes in, values out."""

import ast
from pathlib import Path

import pytest

RUNNER = Path(__file__).parent.parent.parent.parent / "runner"
MAY_CONNECT = {"record/shared/address.py", "record/shared/keeper.py", "record/shared/turns.py"}
RIM = {"socket", "selectors", "threading", "os", "time", "subprocess", "asyncio"}


def imported(path: Path) -> set[str]:
    """The top-level modules that a file imports anywhere."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name.split(".")[0] for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


def test_no_other_module_of_the_record_or_the_screen_makes_sockets() -> None:
    made = {
        path.relative_to(RUNNER).as_posix()
        for folder in ("record", "screen", "engine", "training")
        for path in (RUNNER / folder).rglob("*.py")
        if "socket.socket" in path.read_text(encoding="utf-8")
    }
    assert made == MAY_CONNECT


@pytest.mark.parametrize("name", ["messages", "guests"])
def test_the_talk_itself_knows_no_socket_no_thread_and_no_clock(name: str) -> None:
    assert not imported(RUNNER / "record" / "shared" / f"{name}.py") & RIM


def test_following_a_record_knows_no_socket_and_no_thread() -> None:
    assert not imported(RUNNER / "record" / "shared" / "follow.py") & RIM
