"""Which texts belong together: fragments and their users, jobs and their procedures, open texts and those on disk."""

from pathlib import Path

from runner.editor.compiled import compiled
from runner.editor.named import path_of, sheets
from tests.editor.shelf import HEAD, in_memory, on_disk

FRAGMENT = (
    "fragment: 1\nid: close\ntitle: Close\nparameters: [side]\nsteps: [{id: close-<side>, by: unwind, do: Close it.}]\n"
)
USER = (
    HEAD
    + "      - {use: inner/close.fragment.yaml, with: {side: guard}}\n      - {use: inner/close.fragment.yaml, with: {side: gate}}\n"
)
DESK = {"/desk/inner/close.fragment.yaml": FRAGMENT, "/desk/a.procedure.yaml": USER, "/desk/b.procedure.yaml": HEAD}


def test_a_fragment_knows_the_procedures_that_use_it_and_each_use_gives_a_sheet() -> None:
    library = in_memory(dict(DESK))
    fragment = "/desk/inner/close.fragment.yaml"
    assert library.users_of(fragment) == ("/desk/a.procedure.yaml",)
    about = library.about(fragment)
    assert [one.path for one in about] == [fragment, fragment, "/desk/a.procedure.yaml"]
    assert [one.meant("close-<side>") for one in about] == ["close-guard", "close-gate", "close-<side>"]


def test_a_use_that_is_only_in_the_open_text_counts_at_once() -> None:
    library = in_memory(dict(DESK))
    library.open["/desk/b.procedure.yaml"] = USER
    assert library.users_of("/desk/inner/close.fragment.yaml") == ("/desk/a.procedure.yaml", "/desk/b.procedure.yaml")


def test_a_new_text_that_was_never_saved_is_near_too() -> None:
    library = in_memory(dict(DESK))
    library.open["/desk/c.procedure.yaml"] = HEAD
    assert "/desk/c.procedure.yaml" in library.near("/desk/a.procedure.yaml")


def test_fragments_that_use_each_other_come_to_an_end() -> None:
    circle = {
        f"/desk/{one}.fragment.yaml": f"fragment: 1\nsteps: [{{use: {other}.fragment.yaml}}, {{use: {other}.fragment.yaml}}]\n"
        for one, other in ("ab", "ba")
    }
    assert len(sheets("/desk/p.procedure.yaml", "phases: [{steps: [{use: a.fragment.yaml}]}]", circle.get)) <= 201


def test_a_path_out_of_the_folder_is_none() -> None:
    for written in (
        "../a.fragment.yaml",
        "/a.fragment.yaml",
        "~/a.fragment.yaml",
        "a//b.fragment.yaml",
        "a\\b.fragment.yaml",
        "c:a.fragment.yaml",
        "a.yaml",
    ):
        assert path_of(written, "/desk/") is None
    assert path_of("./in/a.fragment.yaml", "/desk/") == "/desk/in/a.fragment.yaml"


def test_a_job_belongs_to_the_procedure_of_its_own_folder() -> None:
    job = "job: 1\nprocedure: small\n"
    library = in_memory({"/desk/x/a.procedure.yaml": HEAD, "/desk/y/a.procedure.yaml": HEAD, "/desk/y/a.job.yaml": job})
    assert library.procedures_called("small", "/desk/y/a.job.yaml") == (
        "/desk/y/a.procedure.yaml",
        "/desk/x/a.procedure.yaml",
    )
    assert {one.path for one in library.kin("/desk/y/a.procedure.yaml")} == {
        "/desk/y/a.procedure.yaml",
        "/desk/y/a.job.yaml",
    }
    assert {one.path for one in library.kin("/desk/x/a.procedure.yaml")} == {"/desk/x/a.procedure.yaml"}


def test_hidden_folders_and_other_peoples_files_are_passed_by(tmp_path: Path) -> None:
    for name in ("a", ".git/a", "node_modules/a", "deep/er/a"):
        path = tmp_path / f"{name}.procedure.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(HEAD, encoding="utf-8")
    found = {Path(one).relative_to(tmp_path).as_posix() for one in on_disk(tmp_path).near(str(tmp_path / "x"))}
    assert found == {"a.procedure.yaml", "deep/er/a.procedure.yaml"}


def test_a_changed_fragment_is_compiled_anew() -> None:
    texts = dict(DESK)
    path = "/desk/a.procedure.yaml"
    first = compiled(path, USER, texts.get)
    assert first is not None
    assert compiled(path, USER, texts.get) is first
    texts["/desk/inner/close.fragment.yaml"] = FRAGMENT.replace("Close it.", "Shut it.")
    second = compiled(path, USER, texts.get)
    assert second is not None
    assert second is not first
    assert second.phases[0].lists[0].steps[-1].do.text == "Shut it."
