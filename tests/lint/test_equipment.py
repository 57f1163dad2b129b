"""Which states are taken for drives, guards, locks, switches, stored energy and cranes, and which look alike and are not."""

import pytest

from runner.lint.equipment import Equipment
from runner.procedure.compile import compile_procedure
from tests.lint.examples import whole
from tests.procedures.shipped import procedure_of

KINDS = ("drives", "guards", "locks", "switches", "energies", "loads")


def told(states: str) -> dict[str, str]:
    """By the name of a state the kind that it is taken for; states of no kind are left out."""
    text = whole(f"states:\n{states}")
    procedure = compile_procedure(text, "x.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    parts = Equipment(procedure)
    return {procedure.states[part.state].name: kind for kind in KINDS for part in getattr(parts, kind)}


@pytest.mark.parametrize(
    ("state", "kind"),
    [
        ("press_drive: {of: [stopped, creeping, running]}", "drives"),
        ("unwind_drive: {of: [at standstill, automatic]}", "drives"),
        ("print_guard: {of: [open, closed]}", "guards"),
        ('front: {of: ["off", fitted], label: cover of the slitter}', "guards"),
        ('fitter_lock: {of: ["off", "on"]}', "locks"),
        ('main_switch: {of: ["off", "on"]}', "switches"),
        ("air_valve: {of: [shut, open]}", "switches"),
        ('power: {of: ["on", "off"], label: power of the press}', "switches"),
        ('main_breaker: {of: ["off", "on"]}', "switches"),
        ("air: {of: [vented, full]}", "energies"),
        ("crane: {of: [free, taken, carrying]}", "loads"),
    ],
)
def test_a_state_is_told_by_its_name_and_its_values(state: str, kind: str) -> None:
    assert list(told(f"  {state}\n").values()) == [kind]


@pytest.mark.parametrize(
    "state",
    [
        "brake: {of: [holding, released, automatic]}",
        'edge_guide: {of: ["off", automatic]}',
        "drive_key: {of: [on the panel, with the lead]}",
        "chuck_lock: {of: [open, closed]}",
        'chuck_lock: {of: ["off", "on"]}',
        "web: {of: [whole, cut]}",
        "cover_letter: {of: [written, sent]}",
        "press_log: {of: [open, closed]}",
        'key_switch: {of: ["off", "on"]}',
        "tension: {of: [low, high]}",
    ],
)
def test_a_state_that_only_looks_alike_is_left_alone(state: str) -> None:
    assert told(f"  {state}\n") == {}


def test_a_part_is_safe_and_unsafe_by_its_values() -> None:
    text = whole("states:\n  press_drive: {of: [stopped, creeping, running]}\n")
    procedure = compile_procedure(text, "x.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    (drive,) = Equipment(procedure).drives
    assert (set(drive.safe), set(drive.unsafe)) == ({0}, {1, 2})


def test_the_parts_of_the_shipped_procedures_are_told() -> None:
    names = {}
    for name in ("change-roll", "slitter-knives", "web-break"):
        parts = Equipment(procedure_of(name))
        names[name] = {kind: [part.label for part in getattr(parts, kind)] for kind in KINDS}
    assert names == {
        "change-roll": {
            "drives": ["press drive", "unwind drive", "rewind drive"],
            "guards": ["unwind guard", "rewind guard"],
            "locks": [],
            "switches": [],
            "energies": [],
            "loads": ["crane"],
        },
        "slitter-knives": {
            "drives": ["slitter drive"],
            "guards": ["cover of the slitter"],
            "locks": ["lock of the fitter", "lock of the helper"],
            "switches": ["main switch", "air valve"],
            "energies": ["air in the knife holders"],
            "loads": [],
        },
        "web-break": {
            "drives": ["press drive"],
            "guards": ["unwind guard", "guard of the print units", "rewind guard"],
            "locks": [],
            "switches": [],
            "energies": [],
            "loads": [],
        },
    }
