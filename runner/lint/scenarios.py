"""Scenarios linted: read, held against their procedure, and walked through with their own job.

The walk takes the steps in the order of the text, with what the equipment shows as the answers, so that a fault at a step
which that job never comes to, or a value that is in order after all, is found before a trainee meets it.
"""

import os
from collections.abc import Callable, Mapping

from runner.formula.evaluate import Value, evaluate
from runner.lint.criteria import edge_passed, unmeetable, where_of
from runner.lint.proof.faults import prove
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask, Judged, Misread
from runner.procedure.compile import compile_procedure
from runner.procedure.desk import Desk
from runner.procedure.finding import Finding, Severity
from runner.procedure.model import Procedure, Step, steps_of
from runner.procedure.scenarios.equipment import Indication, indication, misread
from runner.procedure.scenarios.fitting import unfit
from runner.procedure.scenarios.model import Fault, Scenario
from runner.procedure.scenarios.reading import read_scenario
from runner.procedure.ticket import judge_input
from runner.procedure.working import uses, work_out

Fetch = Callable[[str], str | None]


def scenario_findings(text: str, path: str, fetch: Fetch) -> list[Finding]:
    """What is wrong with a scenario, by itself and with its procedure."""
    read = read_scenario(text, path)
    if read.scenario is None:
        return list(read.findings)
    scenario, desk = read.scenario, Desk()
    desk.findings.extend(read.findings)
    named = procedure_path(path, scenario.file)
    written = fetch(named)
    if written is None:
        message = f"there is no file `{scenario.file}` that this scenario may read"
        hint = "It lies in the scenario's folder or one folder up, and is named from the scenario's folder."
        desk.add("procedure-not-found", message, scenario.place("file"), hint)
        return desk.findings
    compiled = compile_procedure(written, named, fetch)
    if compiled.procedure is None:
        faulty = sum(finding.severity is Severity.ERROR for finding in compiled.findings)
        message = f"`{scenario.file}` has {faulty} faults of its own; lint that first"
        desk.add("procedure-not-found", message, scenario.place("file"))
        return desk.findings
    found = unfit(scenario, compiled.procedure)
    desk.findings.extend(found)
    if not any(finding.severity is Severity.ERROR for finding in found):
        walk(scenario, compiled.procedure, desk)
    return desk.findings


def procedure_path(path: str, file: str) -> str:
    """Where the procedure of a scenario lies, named as the scenario itself is."""
    return os.path.normpath(os.path.join(os.path.dirname(path), file))


def walk(scenario: Scenario, procedure: Procedure, desk: Desk) -> None:
    """Findings of a run with the scenario's job in which all is answered as it is shown."""
    walker = Walker(scenario, procedure, desk)
    if not walker.ticket():
        return
    never = {step.id for step in prove(procedure).never_begun}
    outside(scenario, procedure, desk)
    come_to = set()
    for step in steps_of(procedure):
        applies = walker.applies(step)
        if applies and step.id not in never:
            come_to.add(step.id)
        faults = tuple(fault for fault in scenario.faults if step.id in fault.at)
        for fault in faults:
            if not applies or step.id in never:
                why = "its `when` is not so for this job" if not applies else "no way leads to its beginning"
                message = f"fault `{fault.id}` cannot occur: step `{step.id}` is never begun, {why}"
                desk.add("fault-cannot-occur", message, fault.place, "Let it come at another step, or change the job.")
            else:
                walker.fault(fault, step)
        if applies:
            for ask in step.asks:
                walker.ask(step, ask)
        for key, edge in (("start_at", scenario.start_at), ("stop_after", scenario.stop_after)):
            if edge == step.id and (not applies or step.id in never):
                message = f"no run with this job comes to step `{edge}`"
                desk.add("fault-cannot-occur", message, scenario.place(key))
    unmeetable(scenario, procedure, frozenset(come_to), desk)


def outside(scenario: Scenario, procedure: Procedure, desk: Desk) -> None:
    """Findings for faults and questions at steps that lie before the scenario's first or after its last."""
    where = where_of(procedure)
    named = [(f"fault `{fault.id}`", step, fault.place) for fault in scenario.faults for step in fault.at]
    named += [(f"question `{question.id}`", question.at, question.place) for question in scenario.questions]
    if scenario.start_at and scenario.stop_after:
        named.append(("the last step", scenario.stop_after, scenario.place("stop_after")))
    for what, step, place in named:
        passed = edge_passed(scenario, where, step)
        if passed:
            desk.add("fault-cannot-occur", f"{what} cannot occur: {passed}", place)


class Walker:
    """The values of a walk so far."""

    def __init__(self, scenario: Scenario, procedure: Procedure, desk: Desk) -> None:
        self.scenario, self.procedure, self.desk = scenario, procedure, desk
        self.values: dict[str, Value] = {}

    def ticket(self) -> bool:
        """The job's values; False where the procedure would refuse them."""
        typed = {given.name: given for given in self.scenario.inputs}
        whole = True
        for given in self.procedure.inputs:
            if given.name not in typed:
                message = f"the scenario's job has no `{given.name}` ({given.ask})"
                self.desk.add("job-not-allowed", message, self.scenario.place("inputs"))
                whole = False
                continue
            judged = judge_input(given, typed[given.name].typed)
            if isinstance(judged, Misread):
                self.desk.add("job-not-allowed", judged.message, typed[given.name].place)
                whole = False
            else:
                self.values[given.name] = judged.value
        return whole and self.worked()

    def worked(self) -> bool:
        """Everything that can be worked out by now; False, with a finding, where a limit is broken."""
        for calculation in self.procedure.calculations:
            if calculation.name in self.values or not uses(calculation) <= self.values.keys():
                continue
            made = work_out(self.procedure, calculation, self.values, {})
            if made.verdict != "in":
                message = f"`{calculation.name}` comes to {made.shown}, and is to be {made.limits}: the run would stop"
                self.desk.add("job-not-allowed", message, self.scenario.place("inputs"))
                return False
            self.values[calculation.name] = made.value
        return True

    def applies(self, step: Step) -> bool:
        """Whether a step applies to this job."""
        return step.when is None or evaluate(step.when.expr, self.values, self.procedure.scope) is True

    def ask(self, step: Step, ask: Ask) -> None:
        """What is shown without faults must let the work go on."""
        if ask.kind == "wait":
            return
        told = indication(self.procedure, self.scenario, ask, 1, self.values)
        judged = self.judged(ask, told, self.values)
        place = next((shown.place for shown in self.scenario.shows if shown.ask == ask.name), None)
        if isinstance(judged, Misread):
            hint = f"Say under `shows` what `{ask.name}` shows."
            message = f"`{told.value}` is no answer to `{ask.name}` at step `{step.id}`: {judged.message}"
            self.desk.add("shown-unfit", message, place or self.scenario.place("scenario"), hint)
            return
        if judged.verdict != "in":
            message = f"`{ask.name}` shows {judged.shown} at step `{step.id}`, where {judged.limits} is allowed"
            hint = "A value that is not in order belongs to a fault, under its `shows`."
            self.desk.add("shown-unfit", message, place or self.scenario.place("scenario"), hint)
        self.values[ask.name] = judged.value
        self.worked()

    def fault(self, fault: Fault, step: Step) -> None:
        """What a fault shows must be an answer, and one that its right response can come from."""
        values, outs = dict(self.values), set()
        for ask in step.asks:
            if ask.kind == "wait":
                continue
            told = indication(self.procedure, self.scenario, ask, 1, values, (fault,))
            judged = self.judged(ask, told, values)
            if told.fault and isinstance(judged, Misread):
                place = next(shown.place for shown in fault.shows if shown.ask == ask.name)
                message = f"`{told.value}` is no answer to `{ask.name}`: {judged.message}"
                self.desk.add("shown-unfit", message, place)
                return
            if isinstance(judged, Judged):
                values[ask.name] = judged.value
                if judged.verdict == "out":
                    outs.add(ask.name)
                    self.readable(fault, ask, told, values)
        wanted = {deed.of: deed.place for deed in (*fault.right, *fault.unsafe) if deed.kind in ("out", "answer")}
        for name, place in wanted.items():
            if name not in outs:
                message = f"fault `{fault.id}` shows nothing out of limits for `{name}`: it is in order there"
                self.desk.add(
                    "fault-cannot-occur", message, place, f"Say under `shows` of the fault what `{name}` shows."
                )

    def readable(self, fault: Fault, ask: Ask, told: Indication, values: Mapping[str, Value]) -> None:
        """A value out of limits must lie further from them than a dial can be misread, or nobody is judged justly by it."""
        for near in misread(told, ask):
            judged = KIND_OF[ask.kind].accept(ask, near, values, self.procedure.scope)
            if told.fault and isinstance(judged, Judged) and judged.verdict == "in":
                place = next(shown.place for shown in fault.shows if shown.ask == ask.name)
                message = f"`{told.value}` on this dial may be read as {judged.shown}, which is within the limits"
                self.desk.add("shown-unfit", message, place, "Show a value further out, or a dial of a smaller range.")
                return

    def judged(self, ask: Ask, told: Indication, values: Mapping[str, Value]) -> Judged | Misread:
        """What is shown, judged as if it were typed."""
        if not told.value:
            return Misread("what is in order there needs values that the walk does not know")
        return KIND_OF[ask.kind].accept(ask, told.value, values, self.procedure.scope)
