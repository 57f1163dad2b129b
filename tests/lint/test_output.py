"""Formats: what people see, what programs read, and that neither can be led astray by an author's text."""

import json
import pkgutil

from runner.lint import output
from runner.lint.output import FORMATS, summary, wants_colour
from runner.procedure.finding import Finding, Place, Severity

TEXT = "id: x\nphases:\n\t- do: Lift the roll.\n"
TEXTS = {"a.procedure.yaml": TEXT}
ERROR = Finding(
    "needs-unmet",
    Severity.ERROR,
    "may not begin",
    Place("a.procedure.yaml", 3, 8),
    "Mend it.",
    ("step 1.1", "step 1.2"),
)
NOTE = Finding("vague-words", Severity.NOTE, "what is slowly?", Place("a.procedure.yaml", 1, 1))


def text_of(*findings: Finding, texts: dict = TEXTS, colour: bool = False) -> str:
    return FORMATS["text"].render(findings, texts, colour)


def test_text_has_place_line_caret_hint_and_the_way() -> None:
    assert text_of(ERROR) == (
        "a.procedure.yaml:3:8: error needs-unmet: may not begin\n"
        "     3 |  - do: Lift the roll.\n"
        "       |        ^\n"
        "  hint: Mend it.\n"
        "    1. step 1.1\n"
        "    2. step 1.2\n"
    )


def test_the_caret_stands_under_its_character_after_wide_and_combining_ones() -> None:
    line = "do: 幅 e\u0301 X"
    shown = text_of(
        Finding("r", Severity.NOTE, "m", Place("p", 1, line.index("X") + 1)), texts={"p": line}
    ).splitlines()
    # one wide character takes two cells and one combining mark none, so the two cancel out (Unicode UAX 11 and UAX 44)
    assert shown[2].index("^") == shown[1].index("X")


def test_a_long_line_is_cut_around_the_fault() -> None:
    line = "x" * 500 + "Y" + "z" * 500
    shown = text_of(Finding("r", Severity.NOTE, "m", Place("p", 1, 501)), texts={"p": line}).splitlines()
    assert shown[2].index("^") == shown[1].index("Y")
    assert len(shown[1]) < 140
    assert "... x" in shown[1]
    assert shown[1].endswith("z ...")


def test_a_place_outside_the_text_shows_no_line() -> None:
    far = Finding("r", Severity.NOTE, "m", Place("a.procedure.yaml", 99, 1))
    gone = Finding("r", Severity.NOTE, "m", Place("gone.yaml", 1, 1))
    assert text_of(far, gone) == "a.procedure.yaml:99:1: note r: m\ngone.yaml:1:1: note r: m\n"


def test_a_column_behind_the_line_has_its_caret_at_the_end() -> None:
    shown = text_of(Finding("r", Severity.NOTE, "m", Place("p", 1, 40)), texts={"p": "ab"}).splitlines()
    assert shown[2] == "       |   ^"


def test_no_control_character_of_an_author_reaches_the_terminal() -> None:
    nasty = "\x1b]0;owned\x07 \u202e \x9b31m"
    finding = Finding("r", Severity.ERROR, nasty, Place(f"p{nasty}", 1, 1), nasty, (nasty,))
    for row in FORMATS.values():
        out = row.render((finding,), {f"p{nasty}": nasty}, False)
        assert not any(char in out for char in "\x1b\x07\x9b\u202e"), row.name


def test_concise_is_one_line_a_finding() -> None:
    assert FORMATS["concise"].render((ERROR, NOTE), TEXTS) == (
        "a.procedure.yaml:3:8: error needs-unmet: may not begin\n"
        "a.procedure.yaml:1:1: note vague-words: what is slowly?\n"
    )
    odd = ERROR._replace(message="two\nlines", place=Place("a\nb", 1, 1))
    assert FORMATS["concise"].render((odd,), {}).count("\n") == 1


def test_every_module_of_a_format_is_listed() -> None:
    shared = {"form", "marks"}
    assert {module.name for module in pkgutil.iter_modules(output.__path__)} - shared == set(FORMATS)


def test_json_has_the_agreed_keys_first() -> None:
    rows = json.loads(FORMATS["json"].render((ERROR, NOTE), TEXTS, False))
    agreed = ["path", "line", "column", "rule", "severity", "message"]
    assert [list(row)[:6] for row in rows] == [agreed, agreed]
    assert rows[0] == {
        "path": "a.procedure.yaml",
        "line": 3,
        "column": 8,
        "rule": "needs-unmet",
        "severity": "error",
        "message": "may not begin",
        "hint": "Mend it.",
        "trace": ["step 1.1", "step 1.2"],
    }
    assert list(rows[1]) == agreed


def test_json_of_nothing_is_an_empty_array() -> None:
    assert json.loads(FORMATS["json"].render((), {}, False)) == []


def test_a_workflow_command_stays_on_one_line_and_keeps_its_parts() -> None:
    # escapes as published for workflow commands: % CR LF in the message, also : and , in a property
    odd = Finding("r", Severity.NOTE, "50 % of a\nb", Place("a,b:c.yaml", 2, 3))
    assert (
        FORMATS["github"].render((odd,), {}, False)
        == "::notice file=a%2Cb%3Ac.yaml,line=2,col=3,title=r::50 %25 of a␊b\n"
    )
    assert FORMATS["github"].render((ERROR,), {}, False) == (
        "::error file=a.procedure.yaml,line=3,col=8,title=needs-unmet::may not begin%0AMend it.%0A1. step 1.1%0A2. step 1.2\n"
    )


def test_colour_needs_a_terminal_and_no_wish_against_it() -> None:
    assert wants_colour(True, {"TERM": "xterm"})
    assert not wants_colour(False, {"TERM": "xterm"})
    assert not wants_colour(True, {"NO_COLOR": "1"})
    assert wants_colour(True, {"NO_COLOR": ""})  # no-color.org: only when it is not an empty string
    assert not wants_colour(True, {"TERM": "dumb"})


def test_colour_changes_no_word() -> None:
    painted = text_of(ERROR, colour=True)
    assert "\x1b[" in painted
    bare = painted
    for code in ("1;31", "33", "36", "1", "0"):
        bare = bare.replace(f"\x1b[{code}m", "")
    assert bare == text_of(ERROR)


def test_the_summary_counts_by_severity() -> None:
    assert summary(()) == "nothing found"
    assert summary((ERROR, NOTE, NOTE)) == "1 error, 2 notes"
