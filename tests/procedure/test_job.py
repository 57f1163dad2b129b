"""Job files: what is on the ticket, as typed."""

from runner.procedure.compile import compile_procedure
from runner.procedure.job import fit, read_job
from runner.procedure.model import Procedure
from runner.procedure.reference import whole


def procedure() -> Procedure:
    files = {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}
    made = compile_procedure(whole.PROCEDURE_TEXT, whole.PROCEDURE_PATH, files.get).procedure
    assert made is not None
    return made


def test_values_stay_as_they_were_typed() -> None:
    job, findings = read_job(whole.JOB_TEXT, "x.job.yaml")
    assert findings == ()
    assert job is not None
    assert job.procedure == "change-roll"
    assert [(given.name, given.typed) for given in job.inputs][:2] == [("web_width", "1250 mm"), ("tension", "120")]
    assert [(given.name, given.typed) for given in job.crew][2] == ("lead", "Eva Roth")
    assert (job.inputs[0].place.line, job.inputs[0].place.column) == (5, 14)


def test_a_job_fits_its_procedure() -> None:
    job = read_job(whole.JOB_TEXT, "x").job
    assert job is not None
    assert fit(job.procedure, job.place, job.inputs, job.crew, procedure()) == ()


def test_what_does_not_fit_is_told_with_its_place() -> None:
    text = "job: 1\nprocedure: change-roll\ninputs: {web_widht: 1250}\ncrew: {chief: Eva Roth}\n"
    job = read_job(text, "x.job.yaml").job
    assert job is not None
    found = fit(job.procedure, job.place, job.inputs, job.crew, procedure())
    assert [(one.rule, one.place.line, one.place.column) for one in found] == [
        ("unknown-name", 3, 21),
        ("unknown-role", 4, 15),
    ]
    assert found[0].hint == "Did you mean `web_width`?"


def test_a_job_for_another_procedure_does_not_fit() -> None:
    job = read_job("job: 1\nprocedure: web-break\ninputs: {nothing: 1}\n", "x").job
    assert job is not None
    (found,) = fit(job.procedure, job.place, job.inputs, job.crew, procedure())
    assert (found.rule, found.place.line, found.place.column) == ("other-procedure", 2, 12)


def test_a_faulty_job_is_none() -> None:
    assert read_job("job: 2\nprocedure: x\n", "x").job is None
    assert read_job("", "x").job is None
