"""Every content in every format, compared byte for byte with a file in `golden/`.

`python -m tests --update-golden` (it sets UPDATE_GOLDEN=1) writes the files anew. Read the difference before you
commit it: a golden file is what a reviewer will hold in their hands.
"""

import os
from pathlib import Path

import pytest

from runner.report.formats import FORMATS
from runner.report.formats.format import Format
from tests.report.documents import DOCUMENTS

GOLDEN = Path(__file__).parent / "golden"
CASES = [(name, form) for name in DOCUMENTS for form in FORMATS.values()]


@pytest.mark.parametrize(("name", "form"), CASES, ids=lambda case: case if isinstance(case, str) else case.name)
def test_a_document_is_rendered_as_before(name: str, form: Format) -> None:
    path = GOLDEN / f"{name}{form.suffix}"
    rendered = form.render(DOCUMENTS[name]())
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_bytes(rendered)
    assert path.exists(), "no golden file yet: write it with `python -m tests --update-golden`, then read it"
    assert rendered == path.read_bytes()


def test_no_golden_file_is_left_over() -> None:
    assert {path.name for path in GOLDEN.iterdir()} == {f"{name}{form.suffix}" for name, form in CASES}
