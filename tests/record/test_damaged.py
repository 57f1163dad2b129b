"""Every journal in `damaged/` is judged as the file beside it says, by verifying and by opening."""

import shutil
from pathlib import Path

import pytest

from runner.record.disk import DISK
from runner.record.journal import Journal
from runner.record.line import Kind
from runner.record.opening import open_journal
from runner.record.refused import Refused
from runner.record.verify import verify_bytes

CASES = sorted((Path(__file__).parent / "damaged").glob("*.journal"))


def expected(case: Path) -> list[str]:
    return case.with_suffix(".expected").read_text(encoding="utf-8").split("\n")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_verifying_names_the_line_and_the_kind(case: Path) -> None:
    flaws = verify_bytes(case.read_bytes()).flaws
    found = f"line {flaws[0].line}: {flaws[0].kind}" if flaws else "whole"
    assert found == expected(case)[0], flaws


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_opening_goes_on_only_where_nothing_kept_is_lost(case: Path, tmp_path: Path) -> None:
    path = tmp_path / case.name
    shutil.copyfile(case, path)
    before = case.read_bytes()
    what, _, words = expected(case)[1].partition(" ")
    opened = open_journal(str(path), DISK, lambda _: None)
    lines = before.rstrip(b"\0")
    if what in ("refused", "cut"):
        assert isinstance(opened, Refused)
        assert words in opened.words
        assert path.read_bytes() == (lines if what == "cut" else before)
        assert list(tmp_path.glob("*.torn-*")) == []
        return
    assert isinstance(opened, Journal)
    opened.close()
    size = int(words.split()[-1]) if what == "sets" else 0
    assert path.read_bytes() == lines[: len(lines) - size]
    assert verify_bytes(path.read_bytes()).whole
    assert sum(aside.size for aside in opened.asides) == size
    if size:
        assert (tmp_path / opened.asides[0].file).read_bytes() == lines[-size:]


def test_every_kind_of_flaw_has_a_case() -> None:
    kinds = {expected(case)[0].partition(": ")[2] for case in CASES}
    assert kinds == {str(kind) for kind in Kind} | {""}
