"""Every form in every format, compared byte for byte with a file in `golden/`.

`python -m tests --update-golden` (it sets UPDATE_GOLDEN=1) writes the files anew. Read the difference before you
commit it: a golden file is what people will write on.
"""

import os
from pathlib import Path

import pytest

from runner.report.sheet.forms import FORMS, SheetFormat
from tests.report.sheet.sheets import SHEETS

GOLDEN = Path(__file__).parent / "golden"
CASES = [(name, form) for name in SHEETS for form in FORMS.values()]


@pytest.mark.parametrize(("name", "form"), CASES, ids=lambda case: case if isinstance(case, str) else case.name)
def test_a_form_is_rendered_as_before(name: str, form: SheetFormat) -> None:
    path = GOLDEN / f"{name}{form.suffix}"
    rendered = form.render(SHEETS[name]())
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_bytes(rendered)
    assert path.exists(), "no golden file yet: write it with `python -m tests --update-golden`, then read it"
    assert rendered == path.read_bytes()


def test_no_golden_file_is_left_over() -> None:
    assert {path.name for path in GOLDEN.iterdir()} == {f"{name}{form.suffix}" for name, form in CASES}
