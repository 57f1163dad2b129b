"""The list of kinds is complete, and each kind keeps to the contract."""

from pathlib import Path

import pytest

import runner.procedure.asks
from runner.procedure.asks import KIND_OF, KINDS
from runner.procedure.asks.ask import AskKind

FOLDER = Path(runner.procedure.asks.__file__).parent


def test_every_file_of_the_folder_is_a_kind_in_the_list() -> None:
    files = {path.stem for path in FOLDER.glob("*.py")} - {"__init__", "ask"}
    listed = {kind.build.__module__.rpartition(".")[2] for kind in KINDS}
    assert files == listed


def test_the_order_is_the_order_in_which_a_step_asks() -> None:
    assert [kind.key for kind in KINDS] == ["read", "choose", "scan", "thread", "advance", "wait"]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.key)
def test_a_kind_is_known_by_its_key(kind: AskKind) -> None:
    assert kind.shape.name == kind.key
    assert KIND_OF[kind.key] is kind
    assert kind.word
