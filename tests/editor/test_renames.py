"""Renaming: everything that names the thing and nothing else, or a refusal that says why. The compiler is the judge."""

import re
from pathlib import Path

import pytest

from runner.editor.library import Library
from runner.editor.named import names_in
from runner.editor.renames import Refused, applied, renamable, rename
from runner.lint.kinds import PROCEDURE
from runner.lint.linter import lint
from runner.procedure.compile import compile_procedure
from tests.editor.shelf import CURSOR, HEAD, PROCEDURES, in_memory, on_disk, small

JOB = "job: 1\nprocedure: small\ninputs: {web_width: 900 mm}\n"
ANSWERS = "answers: 1\nprocedure: small\nsteps:\n  - {step: stop-drive}\n  - {step: open-guard, before: [{go_back: stop-drive}]}\n"


def renamed(marked: str, new: str, **others: str) -> dict[str, str] | str:
    """The texts that change by their paths, or the refusal's words."""
    library, path, offset = small(marked, **others)
    found = rename(library, path, offset, new)
    if isinstance(found, Refused):
        return found.words
    return {name: applied(library.text(name) or "", edits) for name, edits in found.items()}


def test_a_step_is_renamed_with_every_way_back_to_it_and_in_the_answers() -> None:
    found = renamed(
        HEAD.replace("- id: stop-drive", f"- id: st{CURSOR}op-drive"),
        "halt-drive",
        small_answers=ANSWERS,
        small_job=JOB,
    )
    assert isinstance(found, dict)
    assert found["/desk/small.procedure.yaml"] == HEAD.replace("stop-drive", "halt-drive")
    assert found["/desk/small.answers.yaml"] == ANSWERS.replace("stop-drive", "halt-drive")
    assert set(found) == {"/desk/small.procedure.yaml", "/desk/small.answers.yaml"}


def test_words_in_prose_stay() -> None:
    text = HEAD.replace("do: Stop the drive.", "do: Stop the drive and do open-guard next.")
    found = renamed(text.replace("id: open-guard", f"id: {CURSOR}open-guard"), "lift-guard")
    assert isinstance(found, dict)
    assert "do open-guard next" in found["/desk/small.procedure.yaml"]
    assert "id: lift-guard" in found["/desk/small.procedure.yaml"]


def test_an_input_is_renamed_in_formulas_and_jobs() -> None:
    found = renamed(HEAD.replace("2 * web_width", f"2 * web{CURSOR}_width"), "breadth", small_job=JOB)
    assert isinstance(found, dict)
    assert found["/desk/small.procedure.yaml"] == HEAD.replace("web_width", "breadth")
    assert found["/desk/small.job.yaml"] == JOB.replace("web_width", "breadth")


def test_a_name_that_is_part_of_another_is_left_alone() -> None:
    text = HEAD.replace("  ring: {", "  ring_two: {formula: ring, unit: mm}\n  ring: {")
    found = renamed(text.replace("  ring: {", f"  ri{CURSOR}ng: {{"), "girth")
    assert isinstance(found, dict)
    assert "ring_two: {formula: girth" in found["/desk/small.procedure.yaml"]


@pytest.mark.parametrize(
    ("new", "why"),
    [
        ("open-guard", "the name of another step"),
        ("Stop Drive", "is not an id"),
        ("stop-drive", "its name already"),
        ("", "is not an id"),
        ("a\nb", "is not an id"),
    ],
)
def test_a_bad_or_taken_name_is_refused_with_the_reason(new: str, why: str) -> None:
    assert why in str(renamed(HEAD.replace("- id: stop-drive", f"- id: st{CURSOR}op-drive"), new))


@pytest.mark.parametrize(
    ("new", "why"), [("ring", "another calculation"), ("kg", "of its own"), ("pi", "of its own"), ("min", "of its own")]
)
def test_a_value_takes_no_name_that_means_something_in_formulas(new: str, why: str) -> None:
    assert why in str(renamed(HEAD.replace("  web_width:", f"  web{CURSOR}_width:"), new))


def test_a_name_that_a_parameter_makes_is_refused() -> None:
    fragment = "fragment: 1\nid: close\ntitle: Close\nparameters: [side]\nsteps: [{id: close-<side>, by: unwind, do: Close it., makes: {<side>: closed}}]\n"
    text = HEAD + "      - {use: close.fragment.yaml, with: {side: guard}}\n"
    assert "makes it from `<side>`" in str(
        renamed(text.replace("  guard: {of", f"  gu{CURSOR}ard: {{of"), "gate", close_fragment=fragment)
    )
    library = in_memory({"/desk/close.fragment.yaml": fragment, "/desk/small.procedure.yaml": text})
    refused = renamable(library, "/desk/close.fragment.yaml", fragment.index("[side]") + 2)
    assert isinstance(refused, Refused)
    assert "parameter" in refused.words


def test_a_fragment_that_serves_another_procedure_is_not_changed() -> None:
    fragment = "fragment: 1\nid: close\ntitle: Close\nsteps: [{id: close-it, by: unwind, do: Close it., cautions: [hanging-load]}]\n"
    text = HEAD + "      - {use: close.fragment.yaml}\n"
    found = renamed(text.replace("  hanging-load:", f"  hang{CURSOR}ing-load:"), "load", close_fragment=fragment)
    assert isinstance(found, dict)
    assert set(found) == {"/desk/close.fragment.yaml", "/desk/small.procedure.yaml"}
    others = {"close_fragment": fragment, "other_procedure": text.replace("id: small", "id: other")}
    assert "uses it too" in str(renamed(text.replace("  hanging-load:", f"  hang{CURSOR}ing-load:"), "load", **others))


def test_a_text_that_cannot_be_read_is_not_renamed_in() -> None:
    words = renamed(HEAD.replace("- id: stop-drive", f"- id: st{CURSOR}op-drive") + "      - {id: x, do: 'y\n", "halt")
    assert "mend that first" in str(words)


def test_a_step_whose_fed_length_is_used_is_refused() -> None:
    text = (
        HEAD
        + "      - {id: feed-web, by: unwind, do: Feed., advance: '3 [m]'}\n      - {id: tell, by: lead, do: 'Tell {feed_web_fed:.1f}.'}\n"
    )
    assert "called after the step" in str(renamed(text.replace("id: feed-web", f"id: fe{CURSOR}ed-web"), "advance-web"))


def shape(text: str) -> list[str]:
    """A text with every word taken for the same, to see that nothing but words has changed."""
    return re.findall(r"[^A-Za-z0-9_-]+", text)


@pytest.mark.parametrize("path", sorted(PROCEDURES.glob("*.procedure.yaml")), ids=lambda one: one.name)
def test_every_step_and_value_of_a_shipped_procedure_is_renamed_whole_or_refused(path: Path) -> None:
    library = on_disk(PROCEDURES)
    whole = str(path)
    text = library.text(whole) or ""
    sorts = {"step", "calculation", "input", "trouble", "caution"}
    names = [one for one in names_in(text, PROCEDURE) if one.defines and one.sort in sorts]
    before = len(lint(text, whole, library.fetch_beside(whole)).findings)
    done = 0
    for named in names[:: max(1, len(names) // 5)]:
        found = rename(library, whole, named.start, "quite_another_name")
        if isinstance(found, Refused):
            assert found.words
            continue
        done += 1
        after = Library(library.read, library.listing, library.real, dict(library.open), library.folders)
        after.open |= {name: applied(library.text(name) or "", edits) for name, edits in found.items()}
        assert shape(after.open[whole]) == shape(text)
        compiled = compile_procedure(after.open[whole], whole, after.fetch_beside(whole))
        assert compiled.procedure is not None, named.name
        assert len(lint(after.open[whole], whole, after.fetch_beside(whole)).findings) == before
    assert done > 1
