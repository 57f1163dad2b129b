"""The shipped procedures, compiled once for all tests, with their jobs and answers by name.

Everything is read from the folders of the checkout, so a new procedure is found by its file.
"""

import os
from functools import cache

from runner.cli.files import fetch_beside, read_text
from runner.procedure.compile import Compiled, compile_procedure
from runner.procedure.model import Procedure, Step, steps_of

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
FOLDER = os.path.join(os.path.dirname(TESTS), "procedures")
ANSWERS = os.path.join(TESTS, "answers")
NAMES = tuple(
    sorted(name.removesuffix(".procedure.yaml") for name in os.listdir(FOLDER) if name.endswith(".procedure.yaml"))
)


def path_of(name: str) -> str:
    """Where a shipped procedure lies."""
    return os.path.join(FOLDER, f"{name}.procedure.yaml")


def text_of(path: str) -> str:
    """The text of a file that must be there."""
    text = read_text(path)
    assert isinstance(text, str), text
    return text


@cache
def compiled(name: str) -> Compiled:
    """A shipped procedure with its findings."""
    path = path_of(name)
    return compile_procedure(text_of(path), path, fetch_beside(path))


def procedure_of(name: str) -> Procedure:
    """A shipped procedure, which must compile."""
    found = compiled(name)
    assert found.procedure is not None, found.findings
    return found.procedure


def step_of(name: str, step_id: str) -> Step:
    """A step of a shipped procedure by its id."""
    return next(step for step in steps_of(procedure_of(name)) if step.id == step_id)
