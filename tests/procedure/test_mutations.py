"""Any change of a good text gives a procedure or findings inside the file, and never an error of the program."""

import json
import random
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.procedure.answers import read_answers
from runner.procedure.compile import compile_procedure
from runner.procedure.faults import FAULTS
from runner.procedure.finding import Finding
from runner.procedure.job import read_job
from runner.procedure.reference import whole
from runner.procedure.source import decode, read
from tests.procedure.documents import GOOD
from tests.procedure.trees import mutate

SIGNS = list("{}[]:,#&*!|>'\"%@`-?<>=+/^.\\\t\n \u200b\u202e\x00\x1b\xa0é🔧0179axzAZ_~")
WORDS = [
    "true",
    "no",
    "0",
    "-1",
    "1e9999",
    "<<",
    "---",
    "...",
    "*a",
    "&a",
    "!!x",
    "%YAML 1.1",
    "{a}",
    "{{",
    "unknown",
    "use",
    "steps",
    "within",
]


def check(text: str, path: str = whole.PROCEDURE_PATH, fragment: str = whole.FRAGMENT_TEXT) -> None:
    """Compile, and look at what comes out."""
    result = compile_procedure(text, path, {whole.FRAGMENT_PATH: fragment}.get)
    assert (result.procedure is None) == any(finding.severity.word == "error" for finding in result.findings)
    look_at(result.findings, {path: text, whole.FRAGMENT_PATH: fragment})


def look_at(findings: tuple[Finding, ...], texts: dict[str, str]) -> None:
    """Every finding has a row and lies inside its file."""
    for finding in findings:
        assert FAULTS[finding.rule].severity is finding.severity
        lines = texts[finding.place.path].removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
        assert 1 <= finding.place.line <= len(lines), finding
        assert 1 <= finding.place.column <= len(lines[finding.place.line - 1]) + 1, finding
        assert finding.message
        assert "\n" not in finding.message


def mutated(text: str, chance: random.Random) -> str:
    """One small change: characters, words, lines or pieces."""
    at = chance.randrange(len(text))
    end = min(len(text), at + chance.choice((1, 1, 2, 5, 20, 200)))
    match chance.randrange(6):
        case 0:
            return text[:at] + chance.choice(SIGNS) + text[at:]
        case 1:
            return text[:at] + text[end:]
        case 2:
            return text[:at] + chance.choice(SIGNS) + text[at + 1 :]
        case 3:
            return text[:at] + chance.choice(WORDS) + text[end:]
        case 4:
            lines = text.split("\n")
            one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[other] = lines[other], lines[one]
            return "\n".join(lines)
        case _:
            to = chance.randrange(len(text))
            return text[:to] + text[at:end] + text[to:]


@pytest.mark.parametrize("seed", range(8))
def test_mutations_of_the_whole_procedure(seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(40):
        text = whole.PROCEDURE_TEXT
        for _ in range(chance.choice((1, 1, 2, 4))):
            text = mutated(text, chance)
        check(text)


def test_mutations_of_the_fragment() -> None:
    chance = random.Random(11)
    for _ in range(60):
        check(whole.PROCEDURE_TEXT, fragment=mutated(whole.FRAGMENT_TEXT, chance))


def test_mutations_of_job_and_answers() -> None:
    chance = random.Random(12)
    for _ in range(150):
        text = mutated(whole.JOB_TEXT, chance)
        look_at(read_job(text, "x").findings, {"x": text})
        text = mutated(whole.ANSWERS_TEXT, chance)
        look_at(read_answers(text, "x").findings, {"x": text})


@pytest.mark.long
@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.name)
def test_many_mutations_of_every_good_document(path: Path) -> None:
    chance = random.Random(path.name)
    text = path.read_text(encoding="utf-8")
    for _ in range(800):
        changed = text
        for _ in range(chance.choice((1, 2, 3))):
            changed = mutated(changed, chance)
        check(changed, path.name)


def test_mutations_of_bytes() -> None:
    chance = random.Random(13)
    data = whole.PROCEDURE_TEXT.encode()
    for _ in range(100):
        changed = bytearray(data)
        for _ in range(chance.choice((1, 3))):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        text = decode(bytes(changed), whole.PROCEDURE_PATH)
        if isinstance(text, Finding):
            assert text.rule == "not-utf8"
        else:
            check(text)


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.text(max_size=200))
def test_any_text_at_all(text: str) -> None:
    check(text)


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.text(st.sampled_from("ab{}[]:,#-'\"\n &*!|><"), max_size=60))
def test_any_text_of_signs_as_an_instruction(text: str) -> None:
    check(whole.PROCEDURE_TEXT.replace("Wipe the tension bar.", text))


@settings(max_examples=80, deadline=None)
@given(st.text(max_size=60))
def test_any_text_as_a_formula(text: str) -> None:
    quoted = "'" + text.replace("'", "''") + "'"
    check(whole.PROCEDURE_TEXT.replace("when: roll_mass > 25 [kg]", f"when: {quoted}"))


def tree_mutations(seed: int, count: int) -> None:
    """Faulty trees written out again: they are always YAML, so they reach the compiler's depths."""
    chance = random.Random(seed)
    for _ in range(count):
        root = read(whole.PROCEDURE_TEXT, "x").root
        assert root is not None
        for _ in range(chance.choice((1, 1, 2, 5))):
            mutate(root, chance)
        check(json.dumps(root, ensure_ascii=False, indent=1))


def test_mutations_of_the_tree() -> None:
    tree_mutations(14, 150)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 110))
def test_many_mutations_of_the_tree(seed: int) -> None:
    tree_mutations(seed, 500)
