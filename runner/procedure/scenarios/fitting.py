"""A scenario held against its procedure: do the names exist that it uses, and does each response belong where it is looked for.

Whether a fault can occur with the scenario's job is judged in `lint`, which walks through the steps.
"""

from collections.abc import Iterable, Iterator

from runner.procedure.desk import Desk, near
from runner.procedure.finding import Finding, Place, in_order
from runner.procedure.job import fit
from runner.procedure.model import Procedure, Split, Step, steps_of
from runner.procedure.scenarios.model import Deed, Fault, Scenario, Shown


def unfit(scenario: Scenario, procedure: Procedure) -> tuple[Finding, ...]:
    """What of a scenario does not fit its procedure."""
    other = fit(scenario.procedure, scenario.place("procedure"), scenario.inputs, scenario.crew, procedure)
    if scenario.procedure != procedure.id:
        return other
    desk = Desk()
    desk.findings.extend(other)
    names = Names(procedure)
    if scenario.trainee not in names.roles:
        desk.add(
            "unknown-role",
            f"the procedure has no role `{scenario.trainee}`",
            scenario.place("trainee"),
            near(scenario.trainee, names.roles),
        )
    for key, step in (("start_at", scenario.start_at), ("stop_after", scenario.stop_after)):
        if step:
            names.step(desk, step, scenario.place(key))
    for step, _ in scenario.hints:
        names.step(desk, step, scenario.place(f"hints/{step}"))
    for question in scenario.questions:
        names.step(desk, question.at, question.place)
    names.shows(desk, scenario.shows, tuple(names.asks))
    for fault in scenario.faults:
        unfit_fault(fault, names, desk)
    for criterion in scenario.criteria:
        unfit_deed(criterion.deed, scenario, names, (), desk)
    return in_order(desk.findings)


class Names:
    """What a procedure has, by sort."""

    def __init__(self, procedure: Procedure) -> None:
        self.steps = {step.id: step for step in steps_of(procedure)}
        self.order = {step: at for at, step in enumerate(self.steps)}
        self.roles = tuple(role for role, _ in procedure.people)
        self.asks = {ask.name: step for step in self.steps.values() for ask in step.asks if ask.kind != "wait"}
        self.states = {state.name: state.of for state in procedure.states}
        self.inputs = tuple(given.name for given in procedure.inputs)
        self.splits = tuple(made.name for made in procedure.calculations if isinstance(made, Split) and made.release)

    def step(self, desk: Desk, name: str, place: Place) -> Step | None:
        """The step of a name, or a finding."""
        if name not in self.steps:
            desk.add("unknown-step", f"the procedure has no step `{name}`", place, near(name, tuple(self.steps)))
        return self.steps.get(name)

    def shows(self, desk: Desk, shows: tuple[Shown, ...], asks: tuple[str, ...]) -> None:
        """Findings for what is shown where nothing asks, or what no answer can be."""
        for shown in shows:
            if shown.ask not in self.asks:
                desk.add(
                    "unknown-name", f"no step asks for `{shown.ask}`", shown.place, near(shown.ask, tuple(self.asks))
                )
            elif shown.ask not in asks:
                where = self.asks[shown.ask].id
                desk.add(
                    "entry-unfit",
                    f"`{shown.ask}` is asked for at step `{where}`, not where the fault comes",
                    shown.place,
                    f"Let the fault come `at: {where}`, or put what is shown under the scenario's own `shows`.",
                )

    def looks(self, desk: Desk, deed: Deed) -> None:
        """Findings for states and values that there are not."""
        for state, value in deed.looks:
            if state not in self.states:
                desk.add(
                    "unknown-state",
                    f"the procedure has no state `{state}`",
                    deed.place,
                    near(state, tuple(self.states)),
                )
            elif value not in self.states[state]:
                desk.add(
                    "unknown-value", f"`{state}` has no value `{value}`", deed.place, near(value, self.states[state])
                )


def unfit_fault(fault: Fault, names: Names, desk: Desk) -> None:
    """What of a fault does not fit."""
    place = dict(fault.places)
    steps = tuple(step for name in fault.at if (step := names.step(desk, name, place["at"])) is not None)
    if len(steps) < len(fault.at):
        return
    names.shows(desk, fault.shows, tuple(ask.name for step in steps for ask in step.asks))
    if fault.absent and fault.absent not in names.roles:
        desk.add(
            "unknown-role",
            f"the procedure has no role `{fault.absent}`",
            place["absent"],
            near(fault.absent, names.roles),
        )
    for deed in (*fault.right, *fault.unsafe):
        unfit_deed(deed, None, names, steps, desk)
    first = min(names.order[step.id] for step in steps)
    for deed in fault.unsafe:
        if deed.kind in ("begin", "done", "release") and names.order.get(deed.of, first) < first:
            desk.add(
                "response-missing",
                f"step `{deed.of}` comes before the fault does, at `{steps[0].id}`: it cannot be unsafe because of it",
                deed.place,
                "Name a step from there on, or let the fault come earlier.",
            )


def unfit_deed(deed: Deed, scenario: Scenario | None, names: Names, steps: tuple[Step, ...], desk: Desk) -> None:
    """What a response, an unsafe act or a criterion names and the procedure has not; `steps`: where its fault comes."""
    match deed.kind:
        case "trouble":
            known = tuple(called for step in steps for called in troubles_of(step))
            if any(deed.of not in tuple(troubles_of(step)) for step in steps):
                message = f"step `{steps[0].id}` has no trouble `{deed.of}`: this response does not exist there"
                desk.add("response-missing", message, deed.place, near(deed.of, known))
        case "out" | "answer":
            known = tuple(ask.name for step in steps for ask in step.asks if ask.kind != "wait")
            if deed.of not in known:
                message = f"no step of the fault asks for `{deed.of}`: this response does not exist there"
                desk.add("response-missing", message, deed.place, near(deed.of, known))
        case "hold" | "release":
            step = names.step(desk, deed.of, deed.place)
            if step is not None and step.hold is None:
                message = f"step `{deed.of}` has no hold: nobody releases one there"
                desk.add("response-missing", message, deed.place, near_holds(names))
        case "begin" | "done":
            names.step(desk, deed.of, deed.place)
        case "go_back":
            step = names.step(desk, deed.of, deed.place)
            if step is not None and any(names.order[deed.of] > names.order[at.id] for at in steps):
                message = f"step `{deed.of}` comes after the fault: one cannot go back to it"
                desk.add("response-missing", message, deed.place)
        case "correct" | "read":
            known = (*names.inputs, *names.asks) if deed.kind == "correct" else tuple(names.asks)
            missing(desk, "unknown-name", "answer", deed, known)
        case "hand_over":
            missing(desk, "unknown-role", "role", deed, names.roles)
        case "look":
            names.looks(desk, deed)
        case "answered" if scenario is not None:
            missing(desk, "unknown-name", "fault", deed, tuple(fault.id for fault in scenario.faults), "the scenario")
        case "explained" if scenario is not None:
            known = tuple(question.id for question in scenario.questions)
            missing(desk, "unknown-name", "question", deed, known, "the scenario")
        case _:
            pass


def missing(desk: Desk, rule: str, what: str, deed: Deed, known: Iterable[str], whose: str = "the procedure") -> None:
    """A finding where what is named is not known."""
    names = tuple(known)
    if deed.of not in names:
        desk.add(rule, f"{whose} has no {what} `{deed.of}`", deed.place, near(deed.of, names))


def troubles_of(step: Step) -> Iterator[str]:
    """How the troubles of a step are called."""
    for trouble in step.troubles:
        yield from (called for called in (trouble.id, trouble.sign) if called)


def near_holds(names: Names) -> str:
    """Which steps have a hold, where they are few."""
    held = [step.id for step in names.steps.values() if step.hold is not None]
    return f"There are holds at {', '.join(held[:8])}." if held else "No step has a hold."
