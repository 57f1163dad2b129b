"""Go to definition: every reference of the shipped procedures leads to a place that defines a thing of that name."""

from pathlib import Path

import pytest

from runner.editor.jumps import definition
from runner.editor.named import names_in
from runner.lint.kinds import kind_of
from tests.editor.shelf import CURSOR, HEAD, PROCEDURES, in_memory, on_disk, small


@pytest.mark.parametrize("path", sorted(PROCEDURES.glob("*.procedure.yaml")), ids=lambda one: one.name)
def test_every_reference_of_a_shipped_procedure_leads_to_its_definition(path: Path) -> None:
    library = on_disk(PROCEDURES)
    text = library.text(str(path)) or ""
    names = names_in(text, kind_of(path.name))
    # one of each kind and owner and name: the same reference twice proves nothing more
    once = {(one.sort, one.name, one.owner): one for one in names if not one.defines}
    assert len(once) > 20
    for named in once.values():
        found = definition(library, str(path), named.start + 1)
        assert found, (named.sort, named.name)
        for target in found:
            there = library.text(target.path) or ""
            if target.end:
                assert named.name in there[target.start : target.end] or "<" in there[target.start : target.end]


def test_a_name_of_two_parts_leads_to_the_value_of_its_own_state() -> None:
    text = HEAD.replace("drive: {of: [stopped, running]", "drive: {of: [open, stopped, running]")
    marked = text.replace("makes: {guard: open}", f"makes: {{guard: o{CURSOR}pen}}")
    library, path, offset = small(marked)
    (target,) = definition(library, path, offset)
    clean = library.text(path) or ""
    assert clean[: target.start].endswith("guard: {of: [")


def test_a_use_leads_to_its_file_and_a_parameter_into_it() -> None:
    fragment = "fragment: 1\nid: close\ntitle: Close\nparameters: [side]\nsteps: [{id: close-<side>, do: Close it.}]\n"
    text = (
        HEAD
        + "      - {use: close.fragment.yaml, with: {side: guard}}\n      - {id: x, do: y, trouble: [{sign: a, do: b, back_to: close-guard}]}\n"
    )
    library = in_memory({"/desk/close.fragment.yaml": fragment, "/desk/a.procedure.yaml": text})
    path = "/desk/a.procedure.yaml"
    assert [one.path for one in definition(library, path, text.index("close.frag") + 1)] == [
        "/desk/close.fragment.yaml"
    ]
    for word, defined in (("side: guard", "side"), ("close-guard", "close-<side>")):
        (target,) = definition(library, path, text.index(word) + 1)
        assert fragment[target.start : target.end] == defined


def test_what_is_no_name_leads_nowhere() -> None:
    library, path, offset = small(HEAD.replace("title: L", f"title: L{CURSOR}"))
    assert definition(library, path, offset) == ()
    assert definition(library, "/desk/none.procedure.yaml", 0) == ()
