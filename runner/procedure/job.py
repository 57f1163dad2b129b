"""Job files: the ticket of one job and its crew, as typed. What a value means is decided where the procedure is known."""

from typing import NamedTuple

from runner.procedure.desk import Desk, near, one_line
from runner.procedure.finding import Finding, Place, in_order
from runner.procedure.language.files import JOB
from runner.procedure.model import Procedure
from runner.procedure.nodes import Map, value_place
from runner.procedure.parts.head import text
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import read


class Given(NamedTuple):
    """A name with a text: an input with its value as typed, a role with a person."""

    name: str
    typed: str
    place: Place
    """Where the text stands."""


class Job(NamedTuple):
    """One job."""

    procedure: str
    """The id of the procedure that it is for."""
    inputs: tuple[Given, ...]
    crew: tuple[Given, ...]
    place: Place
    """Where it names the procedure."""


class ReadJob(NamedTuple):
    """A job, or the findings that say why there is none."""

    job: Job | None
    findings: tuple[Finding, ...]


def read_job(written: str, path: str) -> ReadJob:
    """The job that a text writes."""
    desk = Desk()
    source = read(written, path)
    desk.findings.extend(source.findings)
    root = source.root
    job = None
    if root is not None and not wrong_file(root, "job", desk):
        root = sound(root, JOB, desk)
        if root is not None:
            job = Job(
                text(root, "procedure"), givens(root, "inputs"), givens(root, "crew"), value_place(root, "procedure")
            )
    return ReadJob(None if desk.failed else job, in_order(desk.findings))


def givens(root: Map, key: str) -> tuple[Given, ...]:
    """The pairs of a map, with the places of the values."""
    node: Map | dict[str, str] = root.get(key, {})
    return tuple(Given(name, one_line(typed), value_place(root[key], name)) for name, typed in node.items())


def fit(
    procedure_id: str, place: Place, inputs: tuple[Given, ...], crew: tuple[Given, ...], procedure: Procedure
) -> tuple[Finding, ...]:
    """What of a job or answers file does not fit a procedure: its id, unknown inputs, unknown roles."""
    desk = Desk()
    if procedure_id != procedure.id:
        desk.add("other-procedure", f"this is for `{procedure_id}`, the procedure is `{procedure.id}`", place)
        return tuple(desk.findings)
    names = tuple(one.name for one in procedure.inputs)
    for given in inputs:
        if given.name not in names:
            desk.add("unknown-name", f"the procedure has no input `{given.name}`", given.place, near(given.name, names))
    roles = tuple(role for role, _ in procedure.people)
    for given in crew:
        if given.name not in roles:
            desk.add("unknown-role", f"the procedure has no role `{given.name}`", given.place, near(given.name, roles))
    return in_order(desk.findings)
