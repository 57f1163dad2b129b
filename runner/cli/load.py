"""Procedures, jobs and answers as commands take them: read, compiled, and findings told in plain words.

A command goes on only with what is whole; the rest is printed on stderr as lint would print it.
"""

import sys
from typing import NamedTuple

from runner.cli.exits import FINDINGS, USAGE
from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.procedure.answers import Answers, read_answers, unfit_entries
from runner.procedure.compile import compile_procedure
from runner.procedure.finding import Finding, Severity
from runner.procedure.job import Given, Job, fit, read_job
from runner.procedure.model import Procedure
from runner.say.text import say, say_n


class Stopped(NamedTuple):
    """The command ends here; what is to be said has been said."""

    code: int


def load_procedure(path: str, *, proved: bool = False) -> Procedure | Stopped:
    """The compiled procedure of a file. `proved`: only where the lint rules find no error either."""
    text = read_text(path)
    if isinstance(text, Unreadable):
        print(f"changeover: {text.words}", file=sys.stderr)
        return Stopped(USAGE)
    if proved:
        from runner.lint.linter import lint_text

        errors = [f for f in lint_text(text, path, fetch_beside(path)) if f.severity is Severity.ERROR]
        if errors:
            return told_faults(path, errors)
    compiled = compile_procedure(text, path, fetch_beside(path))
    if compiled.procedure is None:
        return told_faults(path, [f for f in compiled.findings if f.severity is Severity.ERROR])
    return compiled.procedure


def load_job(path: str, procedure: Procedure) -> Job | Stopped:
    """The job file, for this procedure."""
    text = read_text(path)
    if isinstance(text, Unreadable):
        print(f"changeover: {text.words}", file=sys.stderr)
        return Stopped(USAGE)
    job, findings = read_job(text, path)
    if job is None:
        return told_faults(path, list(findings))
    unfit = fit(job.procedure, job.place, job.inputs, job.crew, procedure)
    return told_faults(path, list(unfit)) if unfit else job


def load_answers(path: str, procedure: Procedure, questions: tuple[str, ...] = ()) -> Answers | Stopped:
    """The answers file, for this procedure and the questions of a scenario."""
    text = read_text(path)
    if isinstance(text, Unreadable):
        print(f"changeover: {text.words}", file=sys.stderr)
        return Stopped(USAGE)
    answers, findings = read_answers(text, path)
    if answers is None:
        return told_faults(path, list(findings))
    unfit = fit(answers.procedure, answers.place, answers.inputs, answers.crew, procedure)
    unfit = unfit or unfit_entries(answers, procedure, questions)
    return told_faults(path, list(unfit)) if unfit else answers


def told_faults(path: str, findings: list[Finding]) -> Stopped:
    """Say the findings that keep a file from being used."""
    for finding in findings:
        print(f"{finding.place}: {finding.severity.word} {finding.rule}: {finding.message}", file=sys.stderr)
        if finding.hint:
            print(f"    {finding.hint}", file=sys.stderr)
    told = say_n(
        "changeover: {path} cannot be used: {n} fault",
        "changeover: {path} cannot be used: {n} faults",
        len(findings),
        path=path,
    )
    print(told, file=sys.stderr)
    return Stopped(FINDINGS)


def typed_of(given: tuple[Given, ...]) -> dict[str, str]:
    """Names with what was typed."""
    return {one.name: one.typed for one in given}


def settings(given: list[str]) -> dict[str, str] | Stopped:
    """`--set NAME=VALUE`, as typed."""
    found = {}
    for text in given:
        name, equals, value = text.partition("=")
        if not equals or not name.strip():
            print(say("changeover: --set takes NAME=VALUE, not {text!r}", text=text), file=sys.stderr)
            return Stopped(USAGE)
        found[name.strip()] = value.strip()
    return found
