"""The documents of `tests/documents`, found and compiled as the program would."""

from pathlib import Path
from typing import NamedTuple

from runner.procedure.answers import read_answers
from runner.procedure.compile import Compiled, compile_procedure
from runner.procedure.finding import Finding, Severity
from runner.procedure.include import Fetch
from runner.procedure.job import read_job
from runner.procedure.site import read_site
from runner.procedure.source import decode
from tests.documents.markers import Expected, expected

FOLDER = Path(__file__).parent.parent / "documents"
GOOD = sorted((FOLDER / "good").glob("*.procedure.yaml"))
BAD = sorted(path for path in (FOLDER / "bad").glob("*.yaml") if not path.name.endswith(".fragment.yaml"))


class Outcome(NamedTuple):
    """Findings of a document, and the texts of all files that it brought in."""

    findings: tuple[Finding, ...]
    texts: dict[str, str]


def fetch_in(folder: Path, texts: dict[str, str]) -> Fetch:
    """A fetch for fragments of a folder, which keeps what it gave."""

    def fetch(path: str) -> str | None:
        file = folder / path
        if not file.is_file():
            return None
        texts[path] = file.read_text(encoding="utf-8")
        return texts[path]

    return fetch


def compiled(path: Path) -> Compiled:
    """A procedure of a folder."""
    return compile_procedure(path.read_text(encoding="utf-8"), path.name, fetch_in(path.parent, {}))


def outcome(path: Path) -> Outcome:
    """What loading a document of any kind finds."""
    text = decode(path.read_bytes(), path.name)
    if isinstance(text, Finding):
        return Outcome((text,), {path.name: path.read_bytes().decode("latin-1")})
    texts = {path.name: text}
    if path.name.endswith(".job.yaml"):
        return Outcome(read_job(text, path.name).findings, texts)
    if path.name.endswith(".answers.yaml"):
        return Outcome(read_answers(text, path.name).findings, texts)
    if path.name.endswith(".site.yaml"):
        return Outcome(read_site(text, path.name).findings, texts)
    result = compile_procedure(text, path.name, fetch_in(path.parent, texts))
    assert (result.procedure is None) == any(finding.severity is Severity.ERROR for finding in result.findings)
    return Outcome(result.findings, texts)


def expectations(texts: dict[str, str]) -> list[tuple[str, Expected]]:
    """(path, expected) of all files."""
    return [(path, one) for path, text in texts.items() for one in expected(text)]
