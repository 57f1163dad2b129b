"""The roll change of Line 3 and small edits of it, compiled as the command would."""

from functools import cache
from pathlib import Path
from typing import NamedTuple

from runner.lint.diff.change import Diff
from runner.lint.diff.differ import diff
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure

FOLDER = Path(__file__).parent.parent.parent.parent / "procedures"
MAIN = "change-roll.procedure.yaml"


@cache
def text_of(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


class Edit(NamedTuple):
    """A place of a file that becomes another; the old text stands there exactly once."""

    kind: str
    """The row that tells it."""
    old: str
    new: str
    file: str = MAIN
    times: int = 1
    """How often it is told: a fragment stands twice in the roll change."""


def edited(*edits: Edit) -> Procedure:
    """The roll change with edits."""
    texts: dict[str, str] = {}

    def fetch(path: str) -> str | None:
        if path not in texts and (FOLDER / path).is_file():
            texts[path] = text_of(path)
        return texts.get(path)

    for edit in edits:
        text = fetch(edit.file)
        assert text is not None
        assert text.count(edit.old) == 1, (edit, text.count(edit.old))
        texts[edit.file] = text.replace(edit.old, edit.new)
    return compiled(fetch(MAIN) or "", texts)


def compiled(text: str, texts: dict[str, str] | None = None, path: str = MAIN) -> Procedure:
    """A procedure that must compile."""

    def fetch(name: str) -> str | None:
        given = (texts or {}).get(name)
        return given if given is not None else text_of(name) if (FOLDER / name).is_file() else None

    result = compile_procedure(text, path, fetch)
    assert result.procedure is not None, [str(finding) for finding in result.findings]
    return result.procedure


@cache
def plain() -> Procedure:
    """The roll change as it stands."""
    return edited()


def diff_of(*edits: Edit) -> Diff:
    """What the edits change."""
    return diff(plain(), edited(*edits))


SMALL = """\
format: 1
id: small
title: Small
revision: 1
equipment: Line 3
purpose: A small thing is done
people: {unwind: Operator, lead: Shift lead}
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300]}
  force: {ask: Force, unit: N, within: [10, 100]}
states: {drive: {of: [stopped, running]}, guard: {of: [open, closed]}}
calculations:
  pull: {formula: force / width, unit: N/m, limit: "<= 200 [N/m]"}
phases:
  - phase: One
    press: running
    steps:
      - {id: halt, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - {id: open, by: unwind, do: Open the guard., needs: {drive: stopped}, makes: {guard: open}}
      - {id: wipe, by: unwind, do: Wipe the idler., needs: {guard: open}}
  - phase: Two
    press: stopped
    steps:
      - {id: gauge, by: unwind, do: Read the gauge., read: {bar: {ask: Gauge, unit: mm, within: [width - 10 [mm], width + 10 [mm]]}}}
      - {id: close, by: unwind, do: Close the guard., makes: {guard: closed}}
"""
"""A procedure small enough to be read beside its changes."""
SMALL = SMALL.replace("[width - 10 [mm], width + 10 [mm]]", '["width - 10 [mm]", "width + 10 [mm]"]')


def small(*edits: tuple[str, str]) -> Procedure:
    """The small procedure with edits."""
    text = SMALL
    for old, new in edits:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return compiled(text, {}, "small.procedure.yaml")


def small_diff(*edits: tuple[str, str]) -> Diff:
    """What the edits of the small procedure change."""
    return diff(small(), small(*edits))
