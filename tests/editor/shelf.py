"""A library of texts in memory, and the real one over files, for the tests of the editor."""

import os
from pathlib import Path

from runner.cli.commands.serve_editor import files_under, text_at
from runner.editor.library import Library

ROOT = Path(__file__).parent.parent.parent
DOCUMENTS = ROOT / "tests" / "documents"
PROCEDURES = ROOT / "procedures"
CURSOR = "‸"
"""Stands for the cursor in texts of tests."""

HEAD = """\
format: 1
id: small
title: Lift the roll
revision: 1
equipment: Line 3, unwind
purpose: The roll is in the chucks
people: {unwind: Operator of the unwind, lead: Shift lead}
cautions:
  hanging-load:
    signal: danger
    hazard: A roll on the crane can fall or swing.
    harm: Crushing.
    avoid: Stay clear of the drop zone.
inputs:
  web_width: {ask: Web width, unit: mm, within: [400, 1300]}
  roll_od: {ask: Outer diameter, unit: mm, within: [200, 1200]}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
tables:
  wanted_tension:
    columns: {substrate: text, low: N/m, high: N/m}
    rows:
      - [kraft paper, 90, 260]
      - [BOPP film, 60, 120]
web_paths:
  unwind_path:
    rollers:
      - {roller: new roll, at: [0 mm, 1000 mm], diameter: roll_od, pass: over}
      - {roller: tension bar, at: [1200 mm, 600 mm], diameter: 120 mm, pass: under, moves: vertical}
      - {roller: exit idler, at: [1400 mm, 1300 mm], diameter: 100 mm, pass: over}
states:
  guard: {of: [open, closed], at_end: closed}
  drive: {of: [stopped, running], at_start: running, at_end: running}
calculations:
  ring: {formula: "2 * web_width + 100 [mm]", unit: mm}
  bar_pull: {formula: "lookup(wanted_tension, substrate, low) * ring * bar_factor(unwind_path, 'tension bar')", unit: N}
phases:
  - phase: Lift
    steps:
      - id: stop-drive
        by: unwind
        do: Stop the drive.
        makes: {drive: stopped}
      - id: open-guard
        by: unwind
        needs: {drive: stopped}
        do: Open the guard to {ring:.0f}.
        makes: {guard: open}
        read:
          pressure: {ask: Pressure, unit: bar, within: [5, 7], else: leak}
        trouble:
          - {id: leak, sign: The pressure falls, do: Look for the leak., back_to: stop-drive}
"""


def in_memory(texts: dict[str, str], folder: str = "/desk") -> Library:
    """A library over texts by path; nothing touches a disk."""
    return Library(
        texts.get, lambda under: tuple(sorted(p for p in texts if p.startswith(under))), os.path.normpath, {}, [folder]
    )


def on_disk(folder: Path) -> Library:
    """A library over the files of a folder."""
    return Library(text_at, files_under, os.path.realpath, {}, [str(folder)])


def at_cursor(marked: str) -> tuple[str, int]:
    """A text without its cursor, and where that stood."""
    offset = marked.index(CURSOR)
    return marked[:offset] + marked[offset + 1 :], offset


def small(marked: str, path: str = "/desk/small.procedure.yaml", **others: str) -> tuple[Library, str, int]:
    """A library with one text that holds the cursor, and others by the stems of their names."""
    text, offset = at_cursor(marked)
    return (
        in_memory({path: text, **{f"/desk/{name.replace('_', '.')}.yaml": other for name, other in others.items()}}),
        path,
        offset,
    )
