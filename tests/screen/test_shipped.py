"""The shipped procedures, led through by keys at 80x24 to their end: what a person would see and press.

Answers come from the same files that play the procedures without a screen.
"""

import os

import pytest

from runner.engine.state import StepStatus
from runner.procedure.answers import Entry, read_answers
from runner.procedure.job import Given, read_job
from runner.procedure.model import Procedure
from runner.screen.view import Stage, StepView, view
from runner.screen.widgets.lines import text_of, width_of
from tests.procedures.shipped import ANSWERS, FOLDER, NAMES, procedure_of
from tests.procedures.shipped import text_of as read
from tests.screen.bench import MemoryRun, Person

MOST_TURNS = 3000


class Operator:
    """Presses what a person would press, with answers by step and ask."""

    def __init__(self, procedure: Procedure, name: str, jobs: str = FOLDER, played: str = ANSWERS) -> None:
        job = read_job(read(os.path.join(jobs, f"{name}.job.yaml")), "job").job
        answers = read_answers(read(os.path.join(played, f"{name}.answers.yaml")), "answers").answers
        assert job is not None
        assert answers is not None
        self.entries: dict[str, list[Entry]] = {}
        for entry in answers.entries:
            self.entries.setdefault(entry.step, []).append(entry)
        crew, inputs = pairs(job.crew), pairs(job.inputs)
        crew.update(pairs(answers.crew))
        inputs.update(pairs(answers.inputs))
        self.run = MemoryRun(procedure, tuple(crew.items()), tuple(inputs.items()))
        self.person = Person(self.run)
        self.long: list[str] = []
        """Steps whose page is longer than the screen once their cautions are read."""

    def lead(self) -> None:
        """To the end of the run."""
        for _ in range(MOST_TURNS):
            if self.run.state.outcome:
                return
            seen = view(self.run.procedure, self.run.state, self.run.now(), self.person.shell.lane)
            self.look(seen.step)
            if self.person.shell.picture().reads_on or seen.step is None:
                self.person.press("enter")
            else:
                self.step(seen.step)
        raise AssertionError(self.person.screen())

    def look(self, step: StepView | None) -> None:
        """Every page fills the terminal exactly; what is not read at once is noted."""
        drawn = self.person.shell.picture()
        assert len(drawn.lines) == 24
        assert {width_of(text_of(line)) for line in drawn.lines} == {80}
        if step is not None and step.stage is not Stage.CAUTIONS and drawn.below:
            self.long.append(step.step.id)

    def step(self, step: StepView) -> None:
        """The next thing at a step."""
        match step.stage:
            case Stage.CAUTIONS | Stage.END:
                self.person.press("enter")
            case Stage.BEGIN:
                entry = self.entry(step)
                if entry is not None and entry.leave_out:
                    self.person.press("f6", "enter", "1", "enter").type(entry.leave_out)
                else:
                    self.person.press("enter")
            case Stage.WAIT:
                self.run.tick += (step.wait_left or 0) + 1
                self.person.press("enter")
            case Stage.HOLD:
                hold = step.step.hold
                assert hold is not None
                self.person.press("enter").type(self.run.state.crew[hold.release])
                assert not self.person.shell.picture().below, self.person.screen()
                self.person.press(*["enter"] * len(hold.confirm), "f5")
            case Stage.SECOND:
                self.second(step)
            case Stage.ASK:
                self.answer(step)

    def entry(self, step: StepView) -> Entry | None:
        """What the file says about this attempt."""
        entries = self.entries.get(step.step.id, [])
        attempt = step.attempt + (step.status is not StepStatus.BEGUN)
        return entries[min(attempt, len(entries)) - 1] if entries else None

    def text(self, step: StepView, name: str, second: bool = False) -> str:
        """What is typed for an ask."""
        entry = self.entry(step)
        assert entry is not None, step.step.id
        answers = dict(entry.second) if second and dict(entry.second).get(name) else dict(entry.answers)
        texts = answers[name]
        return texts[min(step.entry, len(texts)) - 1]

    def answer(self, step: StepView) -> None:
        """One ask."""
        ask, prompt = step.ask, step.prompt
        assert ask is not None
        assert prompt is not None
        match prompt.shape:
            case "ticks":
                self.person.press(*["enter"] * len(prompt.choices))
            case "choice":
                self.pick(prompt.choices, self.text(step, ask.name))
            case _:
                self.person.type(self.text(step, ask.name))
        after = self.run.state.record(step.step.id)
        assert after.status is not StepStatus.BEGUN or ask.name in after.answers, self.person.screen()

    def pick(self, choices: tuple[str, ...], wanted: str) -> None:
        """A choice by its number."""
        self.person.press(*str(choices.index(wanted) + 1), "enter")

    def second(self, step: StepView) -> None:
        """The second person."""
        second = step.step.second
        assert second is not None
        self.person.press("enter").type(self.run.state.crew[second.by])
        if second.how == "together":
            return
        for ask in step.step.asks:
            if ask.kind == "wait":
                continue
            if ask.kind == "thread":
                self.person.press("1", "enter")
            elif ask.kind == "choose":
                self.pick(ask.of, self.text(step, ask.name, second=True))
            else:
                self.person.type(self.text(step, ask.name, second=True))


def pairs(given: tuple[Given, ...]) -> dict[str, str]:
    """Names and texts of a file."""
    return {one.name: one.typed for one in given}


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_procedure_is_led_to_its_end_by_keys_on_a_small_terminal(name: str) -> None:
    operator = Operator(procedure_of(name), name)
    operator.lead()
    assert operator.run.state.outcome == "finished"
    assert not operator.long, "pages longer than 80x24 once their cautions are read"
