"""A run with one of everything, written event by event, and the procedure that it followed.

Invented scenario: Line 3, a six-colour flexographic press of 1.3 m. The roll's length is the worked example of the
trade formula pi (D^2 - d^2) / (4 t): 1000 mm, 152 mm and 100 um give 7672.5 m (computed by hand); its mass follows at
80 g/m^2 and 1.25 m. Nobody in it is a real person.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.formula.scope import EMPTY
from runner.procedure.finding import Place
from runner.procedure.model import Caution, Hold, Phase, Procedure, Step, StepList, TrackedState
from runner.procedure.template import Template
from runner.report.verification import Verification

Entries = list[tuple[int, ev.Event]]

DIGEST = "9f2c64d1b7a0e3585c1f0d2e7b9a4c6388d15e0f7a2b3c4d5e6f708192a3b4c5"
HEAD = "41d0c3a2b5968778695a4b3c2d1e0f00112233445566778899aabbccddeeff00"
PLACE = Place("change-roll.procedure.yaml", 1, 1)

AT, BO, CY = "Robin Ash", "Sam Birch", "Kim Cedar"
"""Operator unwind side, operator rewind side, shift lead."""


def moment(seconds: float, boot: str = "boot-a") -> Moment:
    """So many seconds after half past nine."""
    whole, milli = divmod(round(seconds * 1000), 1000)
    minutes, second = divmod(whole, 60)
    hours, minute = divmod(minutes + 30, 60)
    return Moment(f"2026-11-25T{9 + hours:02d}:{minute:02d}:{second:02d}.{milli:03d}Z", 5000.0 + seconds, boot)


def numbered(events: list[ev.Event]) -> Entries:
    """Events as a journal numbers them."""
    return list(enumerate(events, start=1))


def given(
    by: str, at: Moment, name: str, ask: str, typed: str, value: float, shown: str, unit: str, verdict: str = "in"
) -> ev.InputGiven:
    """A value from the job ticket."""
    return ev.InputGiven(by, at, name, ask, typed, shown, value, float(typed), unit, verdict)


def answered(
    by: str, at: Moment, step: str, name: str, ask: str, typed: str, shown: str, value: float, unit: str, limits: str,
    verdict: str, entry: int = 1,
) -> ev.Answered:  # fmt: skip
    """A reading."""
    return ev.Answered(by, at, step, name, "read", ask, typed, shown, value, float(typed), unit, limits, verdict, entry)


def roll_mass(at: Moment, length: str, shown: str, value: float, verdict: str) -> ev.WorkedOut:
    """The mass of the new roll."""
    return ev.WorkedOut(
        AT, at, "roll_mass", "grammage * web_width * roll_length",
        (("grammage", "80 g/m²"), ("web_width", "1250 mm"), ("roll_length", length)),
        f"80 g/m² × 1250 mm × {length}", shown, value, value, "kg", "at most 800 kg", verdict,
    )  # fmt: skip


def begun_run(mode: str = "live", played: bool = False, status: str = "approved") -> ev.RunBegun:
    """The first event."""
    return ev.RunBegun(
        CY, moment(0), "20261125-093000-k7f2", mode, played, "change-roll", "Change the substrate roll", 4, status,
        DIGEST, (("change-roll.procedure.yaml", "format: 1\n"), ("rewind-side.fragment.yaml", "fragment: 1\n")),
        (("unwind", AT), ("lead", CY)), "identity not verified", "changeover 0.1.0",
    )  # fmt: skip


def make_safe_events() -> list[ev.Event]:
    """The job, and the first phase."""
    return [
        given(CY, moment(1), "web_width", "Web width", "1250", 1.25, "1250 mm", "mm"),
        given(CY, moment(2), "roll_od", "Outer diameter of the new roll", "1030", 1.03, "1030 mm", "mm", "unlikely"),
        roll_mass(moment(3), "8145 m", "814.5 kg", 814.5, "out"),
        ev.SignedOn(BO, moment(20), "rewind"),
        ev.StepBegun(AT, moment(60), "unwind-off", "1.1", 1, "Set the unwind speed to zero."),
        ev.StepDone(AT, moment(72), "unwind-off", "1.1", (("unwind_drive", "stopped"),)),
        ev.StepNotApplicable("", moment(72), "warm-up", "1.2", "substrate = BOPP film is false for this job"),
        ev.StepLeftOut(AT, moment(90), "wipe-rollers", "1.3", "Wiped at the last change", CY),
    ]


def lift_events() -> list[ev.Event]:
    """The lift: hold, revocation, trouble, a second attempt, a reading that is corrected."""
    return [
        ev.CautionsRead(AT, moment(100), "lift", ("hanging-load",)),
        ev.HoldReached("", moment(101), "lift", "lead"),
        ev.HoldReleased(CY, moment(161), "lift", "lead", ("Both chucks are open", "Drop zone is clear"),
                        (("unwind_drive", "stopped"), ("unwind_guard", "open"))),
        ev.HoldRevoked("", moment(170), "lift", "unwind guard is no longer open"),
        ev.HoldReached("", moment(170), "lift", "lead"),
        ev.HoldReleased(CY, moment(200), "lift", "lead", ("Both chucks are open", "Drop zone is clear"),
                        (("unwind_drive", "stopped"), ("unwind_guard", "open"))),
        ev.StepBegun(AT, moment(205), "lift", "2.1", 1, "Lift the roll of 815 kg into the chucks."),
        ev.TroubleMet(AT, moment(250), "lift", "2.1", "swings", "The roll swings", "Lower it to the floor.",
                      "back_to", "lift"),
        ev.ExceptionNoted(AT, moment(250), 1, "equipment", "serious", "The roll swings: brake of the crane pulls to one side",
                          "lift", CY, True),
        ev.WentBack(AT, moment(250), "lift", "The roll swings", ("lift",), ("roll_mass",)),
        ev.ExceptionClosed(CY, moment(300), 1, "Crane brake adjusted, lift tried empty"),
        roll_mass(moment(310), "7673 m", "767.3 kg", 767.25, "in"),
        ev.CautionsRead(AT, moment(315), "lift", ("hanging-load",)),
        ev.HoldReached("", moment(316), "lift", "lead"),
        ev.HoldReleased(CY, moment(330), "lift", "lead", ("Both chucks are open", "Drop zone is clear"),
                        (("unwind_drive", "stopped"), ("unwind_guard", "open"))),
        ev.StepBegun(AT, moment(340), "lift", "2.1", 2, "Lift the roll of 767 kg into the chucks."),
        ev.LookedTwice(CY, moment(600), "lift", "together", True, "Both latches are down"),
        ev.StepDone(AT, moment(610.4), "lift", "2.1", (("crane", "free"),)),
    ]  # fmt: skip


def pressure_events() -> list[ev.Event]:
    """Readings out of limits and unlikely, a re-entry, a second look that differs, a correction, a wait, a repeat."""
    gauge = ("core-pressure", "core_pressure", "Pressure on the gauge")
    limits = "5.5 to 7 bar"
    return [
        ev.StepBegun(AT, moment(620), "core-pressure", "2.2", 1, "Inflate the core chuck."),
        answered(AT, moment(640), *gauge, "61", "61 bar", 6.1e6, "bar", limits, "unlikely"),
        answered(AT, moment(650), *gauge, "7.4", "7.4 bar", 7.4e5, "bar", limits, "out"),
        answered(AT, moment(660), *gauge, "6.1", "6.1 bar", 6.1e5, "bar", limits, "in", 2),
        ev.Answered(CY, moment(670), "core-pressure", "core_pressure", "read", gauge[2], "6.6", "6.6 bar", 6.6e5, 6.6,
                    "bar", limits, "in", 1, hidden=True),
        ev.LookedTwice(CY, moment(671), "core-pressure", "independent", False, "6.6 bar is not 6.1 bar"),
        answered(AT, moment(690), *gauge, "6.1", "6.1 bar", 6.1e5, "bar", limits, "in"),
        ev.AnswerCorrected(AT, moment(700), "core-pressure", "core_pressure", "6.1 bar", "6.6", "6.6 bar", 6.6e5, 6.6,
                           "bar", "Read the outer scale"),
        ev.WaitBegun(AT, moment(705), "core-pressure", "core-pressure", 90.0),
        ev.WaitEnded(AT, moment(1110), "core-pressure", "core-pressure", 405.0, True),
        ev.StepRepeated("", moment(1111), "core-pressure", 1, "last(core_pressure) >= 6 bar"),
        ev.StepBegun(AT, moment(1115), "core-pressure", "2.2", 2, "Inflate the core chuck."),
        answered(AT, moment(1130), *gauge, "6.6", "6.6 bar", 6.6e5, "bar", limits, "in"),
        ev.StepDone(AT, moment(1135), "core-pressure", "2.2", ()),
        ev.WorkedOut(
            AT, moment(1136), "bar_pieces", "split bar_mass from rack over 2 ends", (("bar_mass", "35 kg"),),
            "35 kg / 2 = 17.5 kg at each end", "35 kg", 35.0, 35.0, "kg", "within 0.5 kg", "in",
            ((("5", 3), ("2.5", 1)), (("5", 3), ("2.5", 1))),
        ),
        ev.WorkedOut(
            "", moment(1137), "rewind_pieces", "rewind_mass from rack at 2 ends", (("rewind_mass", "36.7 kg"),),
            "36.7 kg wanted, 36 kg hung: 3 x 5 kg + 1 x 3 kg at each end, heaviest nearest the web",
            "no choice of pieces comes within 0.5 kg of 36.7 kg; the nearest is 36 kg: 3 x 5 kg + 1 x 3 kg at each end, "
            "heaviest nearest the web", 36.0, 36.0, "kg", "within 0.5 kg of 36.7 kg", "held",
            ((("5", 3), ("3", 1)), (("5", 3), ("3", 1))), (("rewind_mass", "worked out"),), "",
            "gives 147.1 N/m (wanted 150 N/m, -1.9 %)",
        ),
        ev.PiecesAccepted(
            CY, moment(1150), "thread-rewind", "rewind_pieces", "lead", "36.7 kg", "36 kg",
            "3 x 5 kg + 1 x 3 kg at each end, heaviest nearest the web", "gives 147.1 N/m (wanted 150 N/m, -1.9 %)",
            "2 % less tension is within what this film stands",
        ),
    ]  # fmt: skip


def halted_events() -> list[ev.Event]:
    """A pause, a making safe, a program that ended, looks that differ, a handover, and what opening a journal notes."""
    return [
        ev.Paused(AT, moment(1200), "Thread the unwind side"),
        ev.Resumed(AT, moment(1500), "pause", (("unwind_guard", "open"), ("crane", "free")), "Thread the unwind side"),
        ev.StateSeen(AT, moment(1510), "unwind_guard", "closed", "unknown"),
        ev.ExceptionNoted("", moment(1510), 2, "equipment", "minor", "unwind guard: closed was seen, open was expected", "",
                          "", False),
        ev.StateSeen(AT, moment(1515), "crane", "free", "unknown"),
        ev.HandedOver(AT, moment(1560), "unwind", BO, "Guard closed, roll is in, threading comes next"),
        ev.StepBegun(BO, moment(1600), "thread-unwind", "3a.1", 1, "Thread the unwind side."),
        ev.MadeSafe(BO, moment(1660), "Somebody reached in", ("Press the stop", "Switch the unwind off")),
        ev.SafeActDone(BO, moment(1670), 0, "Press the stop", (("unwind_drive", "stopped"),)),
        ev.SafeActNotNeeded(BO, moment(1680), 1, "Switch the unwind off", "it is off already"),
        ev.Resumed(BO, moment(1900), "make-safe", (("unwind_guard", "closed"),), "Thread the unwind side"),
        ev.TailSetAside("", moment(2500), 214, "20261125-093000-k7f2.torn-1"),
        ev.ClockStepped("", moment(2500), -3.5),
        ev.Resumed(BO, moment(2501), "interruption", (("unwind_guard", "closed"),), ""),
    ]  # fmt: skip


def end_events() -> list[ev.Event]:
    """The last phase; a step stays open, so that the run is abandoned."""
    return [
        ev.ExceptionNoted(BO, moment(2600), 3, "material", "note", "Edge of the roll is soft on one side", "thread-unwind", BO,
                          False),
        ev.ActRefused(AT, moment(2610), "lift", "release", "Only Shift lead releases this hold."),
        ev.ConfirmationTicked(CY, moment(2615), "lift", "Both chucks are open"),
        ev.ConfirmationTicked(CY, moment(2620), "lift", "Drop zone is clear"),
        ev.ConfirmationTakenBack(CY, moment(2625), "lift", "Drop zone is clear"),
        ev.ConfirmationTicked(CY, moment(2630), "lift", "Drop zone is clear"),
        ev.RollerThreaded(BO, moment(2635), "thread-unwind", "thread_unwind_threaded", 1, "roll: over"),
        ev.RollerThreaded(BO, moment(2640), "thread-unwind", "thread_unwind_threaded", 2, "entry idler: under"),
        ev.RollerTakenBack(BO, moment(2645), "thread-unwind", "thread_unwind_threaded", 2, "entry idler: under"),
        ev.OldValueUsed("", moment(2650), "web_width", "1250 mm", "1200 mm", ("lift",), ("warm-up",), 2),
        ev.QualificationMissing("", moment(2687), "unwind", BO, f"The register does not have {BO} for change-roll."),
        ev.SiteRead(
            "", moment(2688), (("rack", "kg", "2026-11-24", (("5", 6), ("1", 6))),),
            (("crane", "Crane of Line 3", 1000.0, "1000 kg", "2027-09-14"),), 5400.0, ("14:00", "22:00"),
        ),
        ev.PinRefused("", moment(2690), BO, "resume", "", 1, 0.0),
        ev.IdentityGiven(BO, moment(2695), "resume", "", "verified by PIN"),
        ev.EnteredLate(BO, moment(2697), "note-exception", "thread-unwind", "2026-11-25T10:05:00.000Z", "10:05"),
        ev.ExceptionNoted(BO, moment(2697), 4, "equipment", "minor", "Idler 2 runs hot", "thread-unwind", BO, False),
        ev.ExceptionCarried(
            "",
            moment(2698),
            5,
            "20261124-131000-qp7d",
            2,
            "Recover from a web break",
            "equipment",
            "serious",
            "Guard latch of the rewind sticks",
            AT,
            True,
            BO,
            "2026-11-24T14:02:11.000Z",
        ),
        ev.ExceptionRead(AT, moment(2698), 5, "20261124-131000-qp7d", 2),
        ev.ExceptionAccepted(
            CY, moment(2699), 5, "20261124-131000-qp7d", 2, "lead", "Second latch holds; tried five times"
        ),
        ev.Abandoned(BO, moment(2700), "Roll goes back to the store"),
    ]  # fmt: skip


def reviewed_events() -> list[ev.Event]:
    """The next morning: decisions, a signature, and a decision that comes after it."""
    day = 80000.0
    return [
        ev.ExceptionDisposed(CY, late(day), 1, "reworked", "Crane brake adjusted and tried", "lead", "verified by PIN"),
        ev.ExceptionDisposed(CY, late(day + 60), 2, "accepted as is", "Closed is the safer of the two", "lead",
                             "verified by PIN"),
        ev.RunSigned(BO, late(day + 90), "done by", "unwind", "", "identity not verified", HEAD, 96),
        ev.ExceptionDisposed(CY, late(day + 120), 3, "rejected", "Roll goes back to the maker", "lead", "verified by PIN"),
        ev.Sealed("", late(day + 120), HEAD, 98, "abandoned", "ab" * 32, "cd" * 64),
    ]  # fmt: skip


def late(seconds: float) -> Moment:
    """So many seconds after half past nine of the first day, perhaps on another one, in another boot."""
    from datetime import datetime, timedelta

    at = datetime.fromisoformat("2026-11-25T09:30:00.000Z") + timedelta(seconds=seconds)
    return Moment(at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), seconds, "boot-b")


def full_run() -> Entries:
    """A live run, in one boot, with one of everything but Finished; what is done at the rewind side is done at a terminal
    of its own."""
    there = [
        replace(event, terminal="rewind side") if event.by == BO else event
        for event in (*halted_events(), *end_events())
    ]
    return numbered(
        [
            begun_run(),
            *make_safe_events(),
            *lift_events(),
            *pressure_events(),
            *there,
            *reviewed_events(),
        ]
    )


def open_run() -> Entries:
    """A dry run of a draft, played from a file, that has no end."""
    return numbered([begun_run("dry", True, "draft"), *make_safe_events(), *lift_events()[:8]])


def practice_run() -> Entries:
    """A dry run with a scenario: a fault that came, was hinted at, and ended it."""
    return numbered(
        [
            begun_run("dry"),
            ev.ScenarioTaken(
                CY, moment(10), "slow-leak", "Mount the roll", "scenario: 1", "d" * 64, True, AT, CY, 7,
                (("leaks", "core-pressure"),), (("found", "Finds the leak."),),
            ),
            ev.TrainingNoted(AT, moment(11), "criteria", "", "", "Finds the leak.", 0.0),
            ev.TrainingNoted("", moment(60), "fault", "core-pressure", "leaks", "Air hisses.", 0.0),
            ev.TrainingNoted(AT, moment(70), "hint", "core-pressure", "", "Listen.", 1.0),
            ev.TrainingNoted(CY, moment(80), "question", "core-pressure", "why", "Said all of it.", 1.0),
            ev.TrainingNoted(AT, moment(90), "time", "core-pressure", "", "the time was stepped by 90 s", 90.0),
            ev.TrainingNoted("", moment(95), "unsafe", "", "leaks", "unsafe: it was lowered", 0.0),
            ev.Abandoned(AT, moment(95), "the dry run ends: unsafe: it was lowered"),
        ]
    )  # fmt: skip


def plain_run() -> Entries:
    """A live run of an approved procedure in which nothing went otherwise than written."""
    done: list[ev.Event] = [
        ev.StepBegun(AT, moment(60), "unwind-off", "1.1", 1, "Set the unwind speed to zero."),
        ev.StepDone(AT, moment(72), "unwind-off", "1.1", (("unwind_drive", "stopped"),)),
        ev.StepNotApplicable("", moment(72), "warm-up", "1.2", "not for this job"),
        ev.StepNotApplicable("", moment(72), "wipe-rollers", "1.3", "not for this job"),
        ev.StepNotApplicable("", moment(72), "lift", "2.1", "not for this job"),
        ev.StepNotApplicable("", moment(72), "core-pressure", "2.2", "not for this job"),
        ev.StepNotApplicable("", moment(72), "thread-unwind", "3a.1", "not for this job"),
        ev.StepNotApplicable("", moment(72), "thread-rewind", "3b.1", "not for this job"),
        ev.Finished(AT, moment(80), 0),
    ]
    return numbered([begun_run(), *done])


def checked(entries: Entries, flaws: tuple[str, ...] = ()) -> Verification:
    """The check of these events."""
    return Verification(not flaws, HEAD, len(entries), flaws)


def step(
    number: str, name: str, by: str, do: str, hold: Hold | None = None, cautions: tuple[Caution, ...] = ()
) -> Step:
    """A step of which only what reports read is filled in."""
    return Step(
        name, number, by, Template(do, (do,)), "", "", cautions, (), (), None, hold, (), None, "", None, (), None,
        frozenset(), PLACE,
    )  # fmt: skip


def procedure() -> Procedure:
    """The procedure that the run pins."""
    load = Caution(
        "hanging-load", "danger", "A roll on the crane can fall or swing.", "Crushing.", "Stay clear.", PLACE
    )
    hold = Hold("lead", ("Both chucks are open", "Drop zone is clear"), "Chuck latch", PLACE)
    lists: list[tuple[str, str, tuple[StepList, ...]]] = [
        ("Make safe", "running", (StepList("", (
            step("1.1", "unwind-off", "unwind", "Set the unwind speed to zero."),
            step("1.2", "warm-up", "unwind", "Warm the dryer up."),
            step("1.3", "wipe-rollers", "unwind", "Wipe the rollers."),
        )),)),
        ("Load the roll", "stopped", (StepList("", (
            step("2.1", "lift", "unwind", "Lift the roll.", hold, (load,)),
            step("2.2", "core-pressure", "unwind", "Inflate the core chuck."),
        )),)),
        ("Thread both sides", "stopped", (
            StepList("unwind", (step("3a.1", "thread-unwind", "unwind", "Thread the unwind side."),)),
            StepList("rewind", (step("3b.1", "thread-rewind", "rewind", "Thread the rewind side."),)),
        )),
    ]  # fmt: skip
    states = (("unwind_drive", "stopped"), ("unwind_guard", "open"), ("crane", "free"))
    return Procedure(
        id="change-roll", title="Change the substrate roll", revision=4, status="approved",
        equipment="Line 3, six-colour flexographic press, 1.3 m web", purpose="New roll threaded", changes=(),
        approval=None, tools=(), cautions=(load,), inputs=(), racks=(), calculations=(), scope=EMPTY, make_safe=(),
        people=(("unwind", "Operator, unwind side"), ("rewind", "Operator, rewind side"), ("lead", "Shift lead")),
        states=tuple(
            TrackedState(name, name.replace("_", " "), (value, "other"), 0, None, False, False, PLACE)
            for name, value in states
        ),
        phases=tuple(Phase(name, press, "", of, (), PLACE) for name, press, of in lists),
        digest=DIGEST, sources=(),
    )  # fmt: skip


def with_words(event: ev.Event, change: Callable[[str], str]) -> ev.Event:
    """The event with every text in it changed, however deep it lies; moments stay."""

    def changed(value: object) -> object:
        match value:
            case str():
                return change(value)
            case tuple() if not isinstance(value, Moment):
                return tuple(changed(part) for part in value)
            case _:
                return value

    fields: dict[str, Any] = {name: changed(getattr(event, name)) for name in type(event).__dataclass_fields__}
    return replace(event, **fields)
