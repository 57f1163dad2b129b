"""The digest stands for a text and its fragments, and for nothing else."""

from hashlib import sha256

from runner.procedure.compile import compile_procedure

TEXT = """\
format: 1
id: x
status: draft
title: X
revision: 1
equipment: Line 3
purpose: It is done
people: {unwind: Operator}
phases:
  - phase: Look
    steps:
      - {id: look, do: Look round.}
"""
APPROVED = "status: approved\napproval:\n  by: M. Arden\n  on: 2026-11-24\n  digest: {}\n"


def digest_of(text: str, path: str = "x.procedure.yaml") -> str:
    procedure = compile_procedure(text, path, lambda _: None).procedure
    assert procedure is not None
    return procedure.digest


def approved(digest: str) -> str:
    return TEXT.replace("status: draft\n", APPROVED.format(digest))


def test_the_digest_is_that_of_the_lines_that_are_kept() -> None:
    # Worked out here by hand: a line for the path, one with the number of lines, the lines without `status`.
    kept = TEXT.replace("status: draft\n", "")
    lines = kept.split("\n")
    assert digest_of(TEXT) == sha256(f"\n{len(lines)}\n{kept}\n".encode()).hexdigest()


def test_approving_does_not_change_the_digest() -> None:
    result = compile_procedure(approved(digest_of(TEXT)), "x.procedure.yaml", lambda _: None)
    assert result.findings == ()
    assert result.procedure is not None
    assert result.procedure.status == "approved"
    assert result.procedure.approval is not None
    assert result.procedure.approval.digest == result.procedure.digest == digest_of(TEXT)


def test_the_finding_prints_the_right_digest() -> None:
    result = compile_procedure(approved("0" * 64), "x.procedure.yaml", lambda _: None)
    assert result.procedure is None
    (finding,) = result.findings
    assert finding.rule == "approval-digest"
    assert digest_of(TEXT) in finding.hint


def test_any_other_change_changes_the_digest() -> None:
    assert digest_of(TEXT.replace("Look round.", "Look around.")) != digest_of(TEXT)
    assert digest_of(TEXT + "# a remark\n") != digest_of(TEXT)
    result = compile_procedure(approved(digest_of(TEXT)).replace("Look round.", "Jump."), "x", lambda _: None)
    assert [finding.rule for finding in result.findings] == ["approval-digest"]


def test_a_text_hidden_behind_the_approval_is_not_left_out() -> None:
    hidden = TEXT.replace("status: draft\n", APPROVED.format("0" * 64) + "tools: [Hammer]\n")
    assert digest_of(hidden.replace("approved", "draft")) != digest_of(TEXT)


def test_line_ends_and_the_name_of_the_file_do_not_matter() -> None:
    assert digest_of(TEXT.replace("\n", "\r\n")) == digest_of(TEXT)
    assert digest_of("\ufeff" + TEXT) == digest_of(TEXT)
    assert digest_of(TEXT, "elsewhere/y.procedure.yaml") == digest_of(TEXT)


def test_a_fragment_is_part_of_the_digest() -> None:
    text = TEXT.replace("{id: look, do: Look round.}", "{use: a.fragment.yaml}")
    fragment = "fragment: 1\nid: a\ntitle: A\nsteps:\n  - {id: look, do: Look round.}\n"
    first = compile_procedure(text, "x", {"a.fragment.yaml": fragment}.get).procedure
    second = compile_procedure(text, "x", {"a.fragment.yaml": fragment.replace("round", "up")}.get).procedure
    assert first is not None
    assert second is not None
    assert first.digest != second.digest
