"""What may be written at the cursor, in texts that are half typed; expected words come from the tables or the text itself."""

import pytest

from runner.editor.completions import completions
from runner.formula.functions import FUNCTIONS
from runner.formula.units import UNITS
from runner.lint.pages import every_rule
from runner.procedure.language.files import PROCEDURE
from runner.procedure.language.steps import STEP, TROUBLE
from tests.editor.shelf import CURSOR, HEAD, in_memory, small

STEP_BEGUN = HEAD + "      - id: lift\n"


def offered(marked: str, path: str = "/desk/small.procedure.yaml") -> list[str]:
    library, path, offset = small(marked, path)
    return [choice.label for choice in completions(library, path, offset)]


def after_step(lines: str) -> list[str]:
    """Offers in a last step that is half typed."""
    return offered(STEP_BEGUN + lines)


def test_an_empty_file_is_offered_its_keys_the_needed_ones_first() -> None:
    found = offered(CURSOR)
    needed = [key.name for key in PROCEDURE.keys if key.required]
    assert found[: len(needed)] == needed
    assert set(found) == {key.name for key in PROCEDURE.keys}


def test_a_step_is_offered_what_it_lacks() -> None:
    found = after_step(f"        {CURSOR}")
    assert found[0] == "do"
    assert "id" not in found
    assert {key.name for key in STEP.keys} - {"id"} == set(found)


def test_a_new_entry_of_a_list_of_steps_is_a_step_or_a_use() -> None:
    found = offered(f"{HEAD}      - {CURSOR}")
    assert {"id", "do", "use"} <= set(found)


def test_keys_that_exclude_one_another_are_not_both_offered() -> None:
    assert {"back_to", "then"} <= set(after_step(f"        trouble:\n          - {{sign: a, do: b, {CURSOR}"))
    found = after_step(f"        trouble:\n          - {{sign: a, do: b, then: stop, {CURSOR}")
    assert set(found) == {key.name for key in TROUBLE.keys} - {"sign", "do", "then", "back_to"}


@pytest.mark.parametrize(
    ("typed", "some"),
    [
        ("        by: ‸", ["unwind", "lead"]),
        ("        cautions: [‸", ["hanging-load"]),
        ("        cautions:\n          - ‸", ["hanging-load"]),
        ("        needs: {‸", ["guard", "drive"]),
        ("        needs: {guard: ‸", ["open", "closed"]),
        ("        needs:\n          ‸", ["guard", "drive"]),
        ("        needs:\n          guard: op‸\n", ["open", "closed"]),
        ("        needs: {guard: open, ‸}", ["drive"]),
        ("        optional: ‸", ["unwind", "lead", "reason"]),
        ("        second: {how: ‸", ["independent", "together"]),
        ("        second:\n          ‸", ["by", "how"]),
        ("        thread: ‸", ["unwind_path"]),
        ("        expect: 5 ‸", ["s", "min", "h"]),
        ("        trouble:\n          - {id: slips, sign: a, do: b, back_to: ‸", ["stop-drive", "open-guard", "lift"]),
        ("        trouble:\n          - {id: slips, sign: a, do: b, blocking: ‸", ["true", "false"]),
        ("        trouble:\n          - {id: slips, sign: a, do: b, then: stop}\n        repeat: {else: ‸", ["slips"]),
        ("        choose:\n          side: {ask: a, match: ‸", ["web_width", "substrate", "pressure"]),
        ("        choose:\n          side: {ask: a, of: [left, right], accept: [‸", ["left", "right"]),
        ("        when: lookup(‸", ["wanted_tension"]),
        ("        when: \"lookup(wanted_tension, substrate, ‸", ["low", "high"]),
        ("        when: substrate == '‸", ["kraft paper", "BOPP film"]),
        ("        when: bar_factor(unwind_path, '‸", ["tension bar", "exit idler"]),
        ("        when: web_width > 25 [‸", ["mm", "m", "kg"]),
        ("        when: rin‸", ["ring", "web_width", "pi", *FUNCTIONS]),
        ("        do: Lift {ri‸", ["ring", "web_width", "pressure"]),
        ("        do: Lift {ring:‸", [".0f", "mm"]),
        ("        do: Lift {ring:.0f ‸", ["mm", "cm"]),
        ("        read:\n          a: {ask: A, unit: ‸", list(UNITS)),
        ("        read:\n          a: {ask: A, unit: N/‸", list(UNITS)),
        ("        hold:\n          release: ‸", ["unwind", "lead"]),
    ],
)  # fmt: skip
def test_a_place_in_a_step_is_offered_what_fits_there(typed: str, some: list[str]) -> None:
    found = after_step(typed)
    assert set(some) <= set(found)
    if len(some) < 5 and all(one not in FUNCTIONS for one in found):
        assert len(found) <= len(some) + len(UNITS) + 8


@pytest.mark.parametrize("typed", ["        do: Lift the ‸", "        # a remark ‸", "        why: ‸", "        id: ‸"])
def test_where_an_author_writes_words_nothing_is_offered(typed: str) -> None:
    assert after_step(typed) == []


def test_only_earlier_steps_of_the_list_are_offered_to_go_back_to() -> None:
    marked = HEAD.replace("back_to: stop-drive", f"back_to: {CURSOR}") + "      - {id: later, do: Go on.}\n"
    assert offered(marked) == ["stop-drive", "open-guard"]


def test_a_key_is_put_in_with_its_colon_unless_one_stands_there() -> None:
    library, path, offset = small(STEP_BEGUN + f"        {CURSOR}")
    inserts = {choice.label: choice.insert for choice in completions(library, path, offset)}
    assert (inserts["do"], inserts["hold"]) == ("do: ", "hold:")
    library, path, offset = small(STEP_BEGUN + f"        ho{CURSOR}: {{release: lead}}")
    (hold,) = [choice for choice in completions(library, path, offset) if choice.label == "hold"]
    assert hold.insert == "hold"
    assert library.text(path)[hold.start : hold.end] == "ho"  # type: ignore[index]  # the text is there


def test_the_typed_part_of_a_word_is_replaced_and_nothing_else() -> None:
    library, path, offset = small(STEP_BEGUN + f"        when: ring > web_w{CURSOR}id + 1 [mm]")
    (width,) = [choice for choice in completions(library, path, offset) if choice.label == "web_width"]
    text = library.text(path) or ""
    assert text[width.start : width.end] == "web_wid"


def test_an_allowing_remark_is_offered_the_rules_that_may_be_silenced() -> None:
    found = offered(f"# lint: allow l{CURSOR}\n{HEAD}")
    assert found == [entry.id for entry in every_rule() if entry.silenceable]


def test_fragments_of_the_folder_and_their_parameters_are_offered() -> None:
    fragment = "fragment: 1\nid: close\ntitle: Close\nparameters: [side, other]\nsteps: []\n"
    text = HEAD + "      - {use: "
    library = in_memory(
        {"/desk/close.fragment.yaml": fragment, "/desk/a.procedure.yaml": text, "/else/far.fragment.yaml": fragment}
    )
    assert [one.label for one in completions(library, "/desk/a.procedure.yaml", len(text))] == ["close.fragment.yaml"]
    library.open["/desk/a.procedure.yaml"] = text = text + "close.fragment.yaml, with: {side: guard, "
    assert [one.label for one in completions(library, "/desk/a.procedure.yaml", len(text))] == ["other"]


def test_a_job_is_offered_the_inputs_of_its_procedure() -> None:
    text = "job: 1\nprocedure: small\ninputs:\n  roll_od: 900 mm\n  "
    library = in_memory({"/desk/small.procedure.yaml": HEAD, "/desk/a.job.yaml": text})
    assert [one.label for one in completions(library, "/desk/a.job.yaml", len(text))] == ["web_width", "substrate"]
    library.open["/desk/a.job.yaml"] = text = text + "substrate: "
    assert [one.label for one in completions(library, "/desk/a.job.yaml", len(text))] == ["kraft paper", "BOPP film"]


def test_a_quoted_value_is_offered_with_its_quotes() -> None:
    text = (
        HEAD.replace("guard: {of: [open, closed]", 'guard: {of: ["no", closed]')
        + f"      - id: x\n        needs: {{guard: {CURSOR}"
    )
    library, path, offset = small(text)
    assert [one.insert for one in completions(library, path, offset)] == ['"no"', "closed"]
