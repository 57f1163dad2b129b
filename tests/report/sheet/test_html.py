"""The HTML form: nothing in it runs or loads, the paper's size is the printer's, and hostile text stays text."""

import re
from typing import cast

import pytest

from runner.procedure.model import Phase
from runner.report.formats.html import hash_of
from runner.report.sheet.html import render
from runner.report.sheet.sheet import sheet_of_procedure
from runner.report.sheet.text import render as render_text
from tests.report.sheet.sheets import SHEETS, procedure
from tests.report.test_hostile_text import ATTACKS, changed
from tests.report.test_html import TAGS, Page, policy_of

FORM_TAGS = TAGS | {
    "section", "figure", "figcaption", "svg", "g", "path", "circle", "line", "text", "desc", "polyline", "polygon",
}  # fmt: skip


@pytest.mark.parametrize("name", SHEETS)
def test_a_form_has_only_expected_tags(name: str) -> None:
    page = Page(render(SHEETS[name]()))
    assert {tag for tag, _ in page.tags} <= FORM_TAGS
    assert not [
        a for _, attributes in page.tags for a in attributes if a.startswith("on") or a in ("href", "src", "style")
    ]


@pytest.mark.parametrize("name", SHEETS)
def test_the_policy_allows_the_one_style_and_nothing_else(name: str) -> None:
    page = Page(render(SHEETS[name]()))
    assert policy_of(page).startswith("default-src 'none'; style-src 'sha256-")
    assert f"'sha256-{hash_of(page.style)}'" in policy_of(page)


def test_the_size_of_the_paper_is_left_to_the_printer() -> None:
    style = Page(render(SHEETS["blank"]())).style
    assert not re.search(r"@page[^@]*\bsize\s*:", style)
    assert 'counter(page) " of " counter(pages)' in style


def test_ids_stand_once() -> None:
    ids = [a["id"] for _, a in Page(render(SHEETS["job"]())).tags if "id" in a]
    assert ids
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("attack", ATTACKS)
def test_hostile_text_in_a_procedure_changes_no_tag_and_no_line(attack: str) -> None:
    def forms(words: str) -> tuple[list[str], bytes]:
        one = procedure()
        phases = changed(one.phases, lambda text: text + words if " " in text else text)
        hostile = one._replace(
            phases=cast("tuple[Phase, ...]", phases), title=one.title + words, purpose=one.purpose + words,
            people=tuple((role, label + words) for role, label in one.people),
        )  # fmt: skip
        sheet = sheet_of_procedure(hostile, {})
        return [tag for tag, _ in Page(render(sheet)).tags], render_text(sheet)

    assert forms(ATTACKS[attack])[0] == forms("harmless")[0]
    text = forms(ATTACKS[attack])[1].decode()
    assert not re.search("[\x00-\x09\x0b\x0d-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)
