"""The three formats say the same, and no text of a procedure acts in any of them."""

import json
import re

import pytest
from rich.cells import cell_len

from runner.lint.diff.change import Change, Diff, Weight
from runner.lint.diff.formats import FORMATS
from runner.procedure.clean import NOT_SHOWN
from runner.procedure.finding import Place
from tests.lint.diff.written import Edit, diff_of

ODD = "<b>*bold*</b> \x1b[31m [link](x) `code` \u202egnol # | 滚筒" + "w" * 120 + "\n## head"
PLACE = Place("a\x1b.yaml", 3, 4)
HOSTILE = Diff("old \x07", "new <i>", (Change("act", Weight.WEAKER, ODD, ODD, ODD, ODD, ODD, PLACE, None),))


@pytest.fixture(scope="module")
def real() -> Diff:
    return diff_of(
        Edit("", '"<= 800 [kg]"', '"<= 900 [kg]"'),
        Edit("", "within: [45, 90]", "within: [50, 90]"),
        Edit("", "do: Raise the roll by 100 mm.", "do: Lift the roll by 100 mm."),
    )


@pytest.mark.parametrize("name", FORMATS)
def test_no_character_acts(name: str) -> None:
    shown = FORMATS[name].render(HOSTILE, False)
    assert NOT_SHOWN.search(shown.replace("\n", "")) is None


def test_text_keeps_to_80_cells(real: Diff) -> None:
    for given in (real, HOSTILE):
        lines = FORMATS["text"].render(given, False).splitlines()
        assert max(map(cell_len, lines)) <= 80


def test_text_says_weaker_first_with_reason_and_both_places(real: Diff) -> None:
    shown = FORMATS["text"].render(real, False)
    assert shown.index("WEAKER (1)") < shown.index("CHANGED (1)") < shown.index("STRONGER (1)")
    part = shown[shown.index("WEAKER") : shown.index("NOT TOLD")]
    for words in ("calculation roll_mass", "was  <= 800 kg", "now  <= 900 kg", "A job passes that was stopped.",
                  "old  change-roll.procedure.yaml:", "new  change-roll.procedure.yaml:"):  # fmt: skip
        assert words in part
    assert "\x1b" not in shown
    assert "\x1b[1;31mWEAKER (1)\x1b[0m" in FORMATS["text"].render(real, True)


def test_no_difference_is_said_in_words() -> None:
    assert "Nothing changed in meaning." in FORMATS["text"].render(diff_of(), False)
    assert "Nothing changed in meaning." in FORMATS["markdown"].render(diff_of(), False)


def test_markdown_escapes_what_could_be_markup() -> None:
    shown = FORMATS["markdown"].render(HOSTILE, False)
    assert "\n## head" not in shown
    assert re.search(r"(?<!\\)[<`\[\]|]", shown) is None
    assert "\\<b\\>\\*bold\\*" in shown


def test_json_has_every_change_with_its_places(real: Diff) -> None:
    data = json.loads(FORMATS["json"].render(real, False))
    assert list(data) == ["old", "new", "counts", "changes"]
    assert data["counts"] == {"weaker": 1, "may be weaker": 0, "not told": 1, "changed": 1, "stronger": 1}
    first = data["changes"][0]
    assert (first["kind"], first["weight"], first["subject"]) == ("limit", "weaker", "calculation roll_mass")
    assert first["new_place"]["line"] > 1
    assert first["new_place"]["path"] == "change-roll.procedure.yaml"
