"""A dry run of a small procedure with a scenario, in a folder of the test: everything that lesson tests start from."""

from pathlib import Path

from runner.engine import intents as want
from runner.engine.events import ScenarioTaken
from runner.engine.intents import NoteTraining, Refusal
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure, steps_of
from runner.procedure.scenarios.model import Scenario
from runner.procedure.scenarios.reading import read_scenario
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from runner.training.assess import Result, assess
from runner.training.lesson import Lesson
from runner.training.pinned import digest_of
from runner.training.planned import criteria, planned

DOCUMENTS = Path(__file__).parent.parent / "lint" / "scenario_documents"
TRAINEE, COACH = "Ilka Foss", "Mara Quist"
GOOD = (DOCUMENTS / "good.scenario.yaml").read_text(encoding="utf-8").replace(", {hold: fill}", "")


def chuck() -> Procedure:
    path = DOCUMENTS / "chuck.procedure.yaml"
    procedure = compile_procedure(path.read_text(encoding="utf-8"), path.name, lambda _: None).procedure
    assert procedure is not None
    return procedure


def scenario_of(text: str) -> Scenario:
    read = read_scenario(text, "x.scenario.yaml")
    assert read.scenario is not None, read.findings
    return read.scenario


def lesson(folder: Path, text: str = GOOD, assessed: bool = False, mode: str = "dry") -> Lesson:
    """The run, begun, with the scenario taken and its criteria seen."""
    scenario, clock = scenario_of(text), SteppedClock()
    crew = (("unwind", TRAINEE), ("lead", COACH))
    begin = want.BeginRun(TRAINEE, "try", mode, False, crew, (("film", "paper"), ("width", "900 mm")), "test")
    run = Run.begin(Store(str(folder)), chuck(), begin, clock)
    assert isinstance(run, Run), run
    come = planned(scenario, 1)
    taken = ScenarioTaken(
        COACH, clock.now(), scenario.id, scenario.title, text, digest_of(text), assessed, TRAINEE, COACH, 1, come,
        criteria(scenario),
    )  # fmt: skip
    if mode == "dry":
        assert not isinstance(run.submit(NoteTraining(COACH, taken)), Refusal)
    made = Lesson(run, scenario, clock.advance)
    made.begin()
    if mode == "dry":
        do(made, made.criteria_seen())
    return made


def do(made: Lesson, *intents: want.Intent) -> None:
    """Intents that are taken."""
    for intent in intents:
        decided = made.submit(intent)  # type: ignore[arg-type] # any intent
        assert not isinstance(decided, Refusal), decided


def to_fill(made: Lesson) -> None:
    """Up to the reading of the pressure."""
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    do(made, want.ReleaseHold(COACH, "fill", ("Nobody stands there",)), want.BeginStep(TRAINEE, "fill"))


def result(made: Lesson) -> Result:
    """What it came to so far."""
    return assess([(e.number, e.event) for e in made.entries()], made.scenario, made.procedure)


def kinds(made: Lesson) -> list[str]:
    """What of the scenario stands in the record."""
    return [
        getattr(entry.event, "kind", "") for entry in made.entries() if type(entry.event).__name__ == "TrainingNoted"
    ]


def step(made: Lesson, name: str):  # type: ignore[no-untyped-def] # a step of the model
    return next(one for one in steps_of(made.procedure) if one.id == name)
