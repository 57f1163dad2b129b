"""The forms that the tests of this folder look at: one small procedure blank, with a job, with a job that breaks a limit,
and half done.

Invented scenario, Line 3; nobody in it is a real person. 80 g/m² × 1.2 m × 7000 m are 672 kg (computed by hand), with a
beam of 48 kg on the hook 720 kg; 120 g/m² give 1008 kg, more than the 800 kg that the chucks carry.
"""

from collections.abc import Callable, Mapping
from pathlib import Path

from runner.engine import events as ev
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.report.sheet.form import Sheet
from runner.report.sheet.sheet import sheet_of_procedure, sheet_of_run
from runner.report.verification import Verification
from runner.report.working.given import JOB_FILE, take
from tests.report.sample import AT, BO, CY, HEAD, Entries, moment, numbered

TEXT = (Path(__file__).parent / "sample.procedure.yaml").read_text(encoding="utf-8")

JOB = {
    "roll_number": "KP-2047-03",
    "substrate": "kraft paper",
    "web_width": "1200",
    "grammage": "80",
    "metres_on_roll": "7000",
    "roll_od": "1000",
}


def procedure(text: str = TEXT) -> Procedure:
    """The small procedure."""
    compiled = compile_procedure(text, "sample.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None, [finding.message for finding in compiled.findings]
    return compiled.procedure


def of_job(change: Mapping[str, str]) -> Sheet:
    """The form with a job; `change` replaces values of it."""
    given = take(procedure(), {name: (typed, JOB_FILE) for name, typed in {**JOB, **change}.items()})
    assert not isinstance(given, str), given
    return sheet_of_procedure(procedure(), given)


def entries() -> Entries:
    """A run that stops in its fifth step: three done, one that does not apply, a hold released, a second look hidden."""
    one = procedure()
    return numbered([
        ev.RunBegun(
            CY, moment(0), "20261125-093000-k7f2", "live", False, one.id, one.title, one.revision, "draft", one.digest,
            one.sources, (("unwind", AT), ("rewind", BO), ("lead", CY)), "identity not verified", "changeover 0.1.0",
        ),
        ev.InputGiven(CY, moment(1), "roll_number", "Number", "KP-2047-03", "KP-2047-03", "KP-2047-03", None, "", "in"),
        ev.InputGiven(CY, moment(1), "substrate", "Substrate", "kraft paper", "kraft paper", "kraft paper", None, "", "in"),
        ev.InputGiven(CY, moment(2), "roll_od", "Diameter", "1000", "1000 mm", 1.0, 1000.0, "mm", "in"),
        ev.WorkedOut(
            "", moment(3), "roll_mass", "grammage * web_width * metres_on_roll", (("grammage", "80 g/m^2"),),
            "80 g/m^2 × 1200 mm × 7000 m = 672 kg, rounded up 1 kg", "672 kg", 672.0, 672.0, "kg", "<= 800 kg", "in",
        ),
        ev.StepBegun(AT, moment(60), "stop-drive", "1.1", 1, "Set the unwind speed to zero."),
        ev.StepDone(AT, moment(72), "stop-drive", "1.1", (("drive", "stopped"),)),
        ev.StepBegun(AT, moment(80), "scan-roll", "1.2", 1, "Scan the label of the new roll."),
        ev.Answered(AT, moment(90), "scan-roll", "roll_label", "scan", "Number on the label", "KP-2047-03", "KP-2047-03",
                    "KP-2047-03", None, "", "as roll number: KP-2047-03", "in", 1),
        ev.Answered(BO, moment(95), "scan-roll", "roll_label", "scan", "Number on the label", "KP-2047-03", "KP-2047-03",
                    "KP-2047-03", None, "", "as roll number: KP-2047-03", "in", 1, True),
        ev.LookedTwice(BO, moment(95), "scan-roll", "independent", True, ""),
        ev.StepDone(AT, moment(99), "scan-roll", "1.2", ()),
        ev.StepNotApplicable("", moment(99), "wipe-film", "1.3", "substrate == 'BOPP film' is not so"),
        ev.CautionsRead(AT, moment(100), "lift-roll", ("hanging-load",)),
        ev.HoldReached("", moment(101), "lift-roll", "lead"),
        ev.HoldReleased(CY, moment(161), "lift-roll", "lead", ("Both chuck arms stand open",), (("drive", "stopped"),)),
        ev.StepBegun(AT, moment(170), "lift-roll", "1.4", 1, "Lift the roll of 672 kg between the chucks."),
        ev.StepDone(AT, moment(400), "lift-roll", "1.4", (("crane", "taken"),)),
        ev.StepBegun(BO, moment(410), "fill-chuck", "1.5", 1, "Fill the chuck."),
        ev.Answered(BO, moment(420), "fill-chuck", "pressure", "read", "Pressure on the gauge", "6.2", "6.2 bar", 6.2e5,
                    6.2, "bar", "5.5 to 7 bar", "in", 1),
        ev.ExceptionNoted(AT, moment(430), 1, "equipment", "serious", "The gauge glass is cracked", "fill-chuck", CY, True),
        ev.Paused(BO, moment(440), "Read the gauge once more"),
    ])  # fmt: skip


def half_done(flaws: tuple[str, ...] = ()) -> Sheet:
    """The form of that run."""
    some = entries()
    sheet = sheet_of_run(procedure(), some, Verification(not flaws, HEAD, len(some), flaws))
    assert sheet is not None
    return sheet


SHEETS: Mapping[str, Callable[[], Sheet]] = {
    "blank": lambda: sheet_of_procedure(procedure(), {}),
    "job": lambda: of_job({}),
    "out-of-limits": lambda: of_job({"grammage": "120"}),
    "half-done": half_done,
    "damaged": lambda: half_done(("line 23: changed, its hash does not fit",)),
}
