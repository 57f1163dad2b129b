"""What every shipped procedure must be, and what the roll change must contain, counted from the compiled text."""

import os
import re
from collections import Counter

import pytest

from runner.cli.files import fetch_beside
from runner.lint.linter import lint_text
from runner.procedure.finding import Severity
from runner.procedure.model import Calculation, Procedure, Split, Step, steps_of
from tests.procedures.shipped import FOLDER, NAMES, compiled, path_of, procedure_of, text_of

SIGNALS = ("danger", "warning", "caution", "notice")
VAGUE = ("slowly", "carefully", "adequate", "sufficient", "properly", "as required", "if necessary")


def asks_of(procedure: Procedure, *kinds: str) -> list[str]:
    """The names of all asks of these kinds."""
    return [ask.name for step in steps_of(procedure) for ask in step.asks if ask.kind in kinds]


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_procedure_compiles_without_findings_above_a_note(name: str) -> None:
    found = compiled(name)
    assert [finding for finding in found.findings if finding.severity > Severity.NOTE] == []
    assert found.procedure is not None


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_procedure_lints_without_errors_or_warnings(name: str) -> None:
    path = path_of(name)
    findings = lint_text(text_of(path), path, fetch_beside(path))
    assert [f"{f.place}: {f.rule}: {f.message}" for f in findings if f.severity > Severity.NOTE] == []


@pytest.mark.parametrize("name", NAMES)
def test_an_instruction_has_at_most_twenty_words_and_none_is_vague(name: str) -> None:
    for step in steps_of(procedure_of(name)):
        words = re.sub(r"\{[^}]*\}", "1 kg", step.do.text).split()
        assert len(words) <= 20, step.id  # ASD-STE100, rule 5.1 (informed by)
        assert not [vague for vague in VAGUE if vague in step.do.text.casefold()], step.id


@pytest.mark.parametrize("name", NAMES)
def test_limits_always_have_a_way_on(name: str) -> None:
    for step in steps_of(procedure_of(name)):
        for ask in step.asks:
            if ask.kind != "advance" and (ask.low or ask.high or ask.accept or ask.match):
                assert ask.otherwise in {trouble.id for trouble in step.troubles}, (step.id, ask.name)


@pytest.mark.parametrize("name", NAMES)
def test_a_hold_names_its_protection_and_is_released_by_another_role(name: str) -> None:
    holds = [step for step in steps_of(procedure_of(name)) if step.hold is not None]
    assert holds
    for step in holds:
        assert step.hold is not None
        assert step.hold.protects
        assert step.hold.release != step.by
        assert len(step.hold.confirm) >= 2


@pytest.mark.parametrize("name", NAMES)
def test_a_second_look_is_by_another_role(name: str) -> None:
    looks = [step for step in steps_of(procedure_of(name)) if step.second is not None]
    assert {step.second.how for step in looks if step.second} == {"independent", "together"}
    assert [step.id for step in looks if step.second and step.second.by == step.by] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_choice_offers_a_way_out_for_whoever_cannot_tell(name: str) -> None:
    """Where an answer may be out of limits, there is one that says that it could not be seen or was not given."""
    ways = ("cannot", "nothing", "somebody is missing", "not known", "otherwise")
    for step in steps_of(procedure_of(name)):
        for ask in step.asks:
            if ask.kind == "choose" and ask.accept:
                assert any(way in answer for answer in ask.of for way in ways), (step.id, ask.of)


@pytest.mark.parametrize("name", NAMES)
def test_the_gravest_signal_word_is_rare(name: str) -> None:
    steps = steps_of(procedure_of(name))
    danger = [step for step in steps if any(caution.signal == "danger" for caution in step.cautions)]
    assert len(danger) <= len(steps) / 10  # ANSI Z535.4: the rarest word (informed by)


@pytest.mark.parametrize("name", NAMES)
def test_cautions_of_a_step_come_gravest_first(name: str) -> None:
    for step in steps_of(procedure_of(name)):
        ranks = [SIGNALS.index(caution.signal) for caution in step.cautions]
        assert ranks == sorted(ranks), step.id


@pytest.mark.parametrize("name", NAMES)
def test_every_step_says_how_long_it_is_expected_to_take(name: str) -> None:
    assert [step.id for step in steps_of(procedure_of(name)) if step.expect_s is None] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_calculation_has_an_example(name: str) -> None:
    assert [c.name for c in procedure_of(name).calculations if isinstance(c, Calculation) and c.example is None] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_procedure_has_a_make_safe_list_in_every_phase(name: str) -> None:
    assert [phase.name for phase in procedure_of(name).phases if not phase.make_safe] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_drive_that_is_moving_makes_no_step_that_opens_a_guard_possible(name: str) -> None:
    """Whatever opens a guard or a cover needs every drive that the step list knows to be stopped or locked."""
    procedure = procedure_of(name)
    for step in steps_of(procedure):
        opened = {procedure.states[s].name for s, v in step.makes if procedure.states[s].of[v] == "open"}
        if not any("guard" in state or state == "cover" for state in opened):
            continue
        needs = {(procedure.states[s].name, procedure.states[s].of[v]) for s, v in step.needs}
        still = {("press_drive", "stopped"), ("drive_key", "with the lead")}
        locked = {("main_switch", "off"), ("fitter_lock", "on"), ("helper_lock", "on"), ("isolation", "tried")}
        assert still <= needs or locked <= needs, step.id


@pytest.mark.parametrize("name", ["change-roll", "web-break"])
def test_whatever_starts_the_press_needs_its_guards_closed(name: str) -> None:
    procedure = procedure_of(name)
    guards = {tracked.name for tracked in procedure.states if tracked.name.endswith("_guard")}
    for step in steps_of(procedure):
        made = {(procedure.states[s].name, procedure.states[s].of[v]) for s, v in step.makes}
        if not made & {("press_drive", "creeping"), ("press_drive", "running")}:
            continue
        closed = {procedure.states[s].name for s, v in step.needs if procedure.states[s].of[v] == "closed"}
        assert guards <= closed, step.id


def test_the_roll_change_has_what_a_whole_changeover_has() -> None:
    procedure = procedure_of("change-roll")
    steps = steps_of(procedure)
    troubles = [trouble for step in steps for trouble in step.troubles]
    assert len(steps) >= 60
    assert len(procedure.phases) >= 7
    assert len([c for c in procedure.calculations if isinstance(c, Calculation) and c.example and c.limits]) >= 6
    assert len([c for c in procedure.calculations if isinstance(c, Split)]) == 2
    assert len([step for step in steps if step.hold]) >= 5
    assert len(asks_of(procedure, "read", "choose")) >= 12
    assert {trouble.way_on for trouble in troubles} == {"back_to", "go_on", "stop"}
    assert len(procedure.scope.paths) == 2
    assert len(procedure.scope.tables) >= 1
    assert {phase.press for phase in procedure.phases} == {"running", "stopped"}
    assert {phase.park for phase in procedure.phases} >= {"after", "throughout"}
    assert len([phase for phase in procedure.phases if len(phase.lists) == 2]) >= 2
    assert len({phase.make_safe for phase in procedure.phases}) >= 3
    kinds = Counter(ask.kind for step in steps for ask in step.asks)
    assert set(kinds) == {"read", "choose", "scan", "wait", "thread", "advance"}
    assert [step for step in steps if step.repeat]
    assert [step for step in steps if step.when]
    assert {step.optional for step in steps if step.optional} == {"reason", "lead"}
    assert [ask for step in steps for ask in step.asks if ask.kind == "scan" and ask.match]
    assert len(procedure.sources) >= 4  # the procedure and the fragments that both sides share


@pytest.mark.parametrize("state", ["unwind_drive", "unwind_guard", "rewind_guard", "crane", "web", "brake"])
def test_the_roll_change_tracks_what_can_hurt(state: str) -> None:
    tracked = {tracked.name: tracked for tracked in procedure_of("change-roll").states}
    assert state in tracked
    assert tracked["crane"].one_owner


def test_the_recovery_and_the_knife_change_are_whole_procedures() -> None:
    for name in ("web-break", "slitter-knives"):
        assert len(steps_of(procedure_of(name))) >= 20, name


def number_of(name: str, step_id: str) -> int:
    """The place of a step in the order of the text."""
    return [step.id for step in steps_of(procedure_of(name))].index(step_id)


def test_the_knife_change_isolates_and_releases_in_the_order_of_the_federal_text() -> None:
    """29 CFR 1910.147(d)(1) to (6), then (e)(1) to (3): prepare, shut down, isolate, lock, relieve, verify; look over,
    clear, each own lock off, tell before the start (informed by)."""
    order = (
        "read-energies", "stop-slitter", "switch-off", "shut-air", "fitter-lock-on", "vent-air", "read-air-again",
        "try-start", "button-back", "open-cover", "count-tools-back", "close-cover", "clear-people", "fitter-lock-off",
        "tell-start", "open-air", "switch-on", "start-creep",
    )  # fmt: skip
    places = [number_of("slitter-knives", step_id) for step_id in order]
    assert places == sorted(places)


def test_a_personal_lock_is_put_on_and_taken_off_by_its_person_alone() -> None:
    procedure = procedure_of("slitter-knives")
    for index, tracked in enumerate(procedure.states):
        if not tracked.name.endswith("_lock"):
            continue
        assert tracked.one_owner
        makers = {step.by for step in steps_of(procedure) if any(state == index for state, _ in step.makes)}
        assert makers == {tracked.name.removesuffix("_lock")}


def needs_own_lock(procedure: Procedure, step: Step) -> bool:
    """True where the step needs the lock of the person who does it."""
    return any(
        procedure.states[s].name == f"{step.by}_lock" and procedure.states[s].of[v] == "on" for s, v in step.needs
    )


def test_nobody_reaches_into_the_slitter_without_their_own_lock_on() -> None:
    procedure = procedure_of("slitter-knives")
    phases = [phase for phase in procedure.phases if "knives" in phase.name]
    assert len(phases) == 2
    steps = [step for phase in phases for steps in phase.lists for step in steps.steps]
    assert [step.id for step in steps if not needs_own_lock(procedure, step)] == []


@pytest.mark.parametrize(
    ("file", "habit"),
    [
        ("change-roll.procedure.yaml", "formula: 0.3 * feed_speed"),
        ("change-roll.procedure.yaml", "+ 6 [m]"),
        ("change-roll.procedure.yaml", "unwind_rack: {unit"),
        ("web-break.procedure.yaml", "unwind_rack: {unit"),
        ("web-break.procedure.yaml", "formula: run_speed / 4"),
        ("slitter-knives.procedure.yaml", "1.04 * run_speed"),
    ],
)
def test_a_habit_of_the_trade_without_a_source_says_so_above(file: str, habit: str) -> None:
    lines = text_of(os.path.join(FOLDER, file)).splitlines()
    at = next(place for place, line in enumerate(lines) if habit in line)
    above = " ".join(line.strip(" #") for line in lines[max(0, at - 5) : at] if line.lstrip().startswith("#"))
    assert "common practice, no source" in above
