"""What there is to read at a place: expected words come from the tables, from the text itself, or are worked out here by hand."""

import re

import pytest

from runner.editor.about import about_unit
from runner.editor.help import Help
from runner.editor.hovers import hover
from runner.formula.units import UNITS
from runner.procedure.language.files import FILES
from runner.procedure.language.shape import Record
from runner.procedure.reference.keys import records_in
from tests.editor.shelf import CURSOR, HEAD, in_memory, small


def read_at(marked: str, **others: str) -> Help:
    library, path, offset = small(marked, **others)
    found = hover(library, path, offset)
    assert found is not None
    assert found.start <= offset <= found.end
    return found.help


def at(word: str, inside: str = "", more: int = 1) -> str:
    """The small procedure with the cursor in the first `word`, or in the first inside another part of the text."""
    place = HEAD.index(inside) + inside.index(word) if inside else HEAD.index(word)
    return HEAD[: place + more] + CURSOR + HEAD[place + more :]


def test_a_key_tells_what_it_is_and_shows_its_worked_example() -> None:
    told = read_at(at("needs:"))
    assert told.head == "needs"
    assert "may be left out" in told.what
    assert told.example == "needs: {unwind_drive: stopped, unwind_guard: open}"


@pytest.mark.parametrize(
    "record",
    [one for one in records_in(*FILES) if one.name in ("a procedure", "a fragment", "a job", "an answers file")],
    ids=lambda one: one.name,
)
def test_every_key_of_the_top_of_a_file_has_its_help(record: Record) -> None:
    kind = {"a procedure": "procedure", "a fragment": "fragment", "a job": "job", "an answers file": "answers"}[
        record.name
    ]
    for key in record.keys:
        text = key.example.replace(key.name, key.name[0] + CURSOR + key.name[1:], 1)
        library, path, offset = small(text, f"/desk/any.{kind}.yaml")
        found = hover(library, path, offset)
        assert found is not None, key.name
        assert found.help.parts == (key.doc,)


def test_a_value_of_a_few_words_tells_of_its_key() -> None:
    assert read_at(at("danger", "signal: danger")).head == "signal"


def test_an_input_tells_its_unit_and_its_allowed_band() -> None:
    told = dict(read_at(at("web_width", "2 * web_width")).facts)
    assert told["allowed"] == "400 to 1300 mm"
    assert told["asked as"] == "Web width"
    assert "length" in told["measures"]


def test_a_calculation_tells_its_least_and_greatest_over_all_allowed_jobs() -> None:
    # by hand: 2 * 400 mm + 100 mm and 2 * 1300 mm + 100 mm
    told = dict(read_at(at("ring", "{ring:")).facts)
    assert told["least over all allowed jobs"].startswith("900 mm")
    assert told["greatest over all allowed jobs"].startswith("2700 mm")
    assert "web_width 1300 mm" in told["greatest over all allowed jobs"]


def test_worst_case_values_leave_out_the_limits_of_the_calculation_itself_alone() -> None:
    # ring <= 1000 mm holds for widths up to 450 mm only, and twice the ring rests on that
    text = HEAD.replace(
        '100 [mm]", unit: mm}', '100 [mm]", unit: mm, limit: "<= 1000 [mm]"}\n  twice: {formula: 2 * ring, unit: mm}'
    )
    ring, twice = (text.index(f"  {name}: {{") + 3 for name in ("ring", "twice"))
    own = dict(read_at(text[:ring] + CURSOR + text[ring:]).facts)
    assert own["greatest over all allowed jobs"].startswith("2700 mm")
    above = dict(read_at(text[:twice] + CURSOR + text[twice:]).facts)["greatest over all allowed jobs"]
    assert float(above.split()[0]) == pytest.approx(2000, rel=0.005)


def test_worst_case_values_wait_until_the_text_compiles() -> None:
    told = read_at(at("ring", "{ring:").replace("makes: {guard: open}", "makes: {guard: opne}"))
    assert any("once the procedure compiles" in part for part in told.parts)
    assert dict(told.facts)["formula"] == "2 * web_width + 100 [mm]"


def test_a_state_tells_which_steps_need_and_make_it() -> None:
    told = dict(read_at(at("drive", "needs: {drive")).facts)
    assert (told["needed by"], told["made by"]) == ("open-guard", "stop-drive")
    value = dict(read_at(at("stopped", "needs: {drive: stopped")).facts)
    assert value["made by"] == "stop-drive"


@pytest.mark.parametrize(
    ("word", "inside", "head"),
    [
        ("unwind", "by: unwind", "unwind"),
        ("stop-drive", "back_to: stop-drive", "stop-drive"),
        ("leak", "else: leak", "leak"),
        ("tension bar", "'tension bar'", "tension bar"),
        ("low", "substrate, low", "low"),
        ("wanted_tension", "lookup(wanted_tension", "wanted_tension"),
        ("unwind_path", "factor(unwind_path", "unwind_path"),
        ("lookup", "lookup(wanted", "lookup(table, key, ..., column)"),
        ("mm", "100 [mm]", "mm"),
        ("N/m", "low: N/m", "N/m"),
        ("bar", "unit: bar", "bar"),
        ("mm", "0 mm, 1000", "mm"),
    ],
)
def test_a_name_tells_of_its_thing(word: str, inside: str, head: str) -> None:
    assert read_at(at(word, inside)).head == head


def test_the_rule_of_an_allowing_remark_shows_its_page() -> None:
    told = read_at(f"# lint: allow limit-br{CURSOR}oken-by-job, the ticket may ask for it\n{HEAD}")
    assert told.head == "limit-broken-by-job"
    assert "# wrong" in told.example


def test_an_input_of_a_job_is_that_of_its_procedure() -> None:
    library, _, _ = small(HEAD + CURSOR)
    job, offset = "job: 1\nprocedure: small\ninputs:\n  web_width: 900 mm\n", 36
    library.open["/desk/small.job.yaml"] = job
    found = hover(library, "/desk/small.job.yaml", offset)
    assert found is not None
    assert dict(found.help.facts)["allowed"] == "400 to 1300 mm"


def test_a_unit_tells_its_factor() -> None:
    # NIST SP 811, appendix B.8: 1 pound-force = 4.448 222 N, 1 psi = 6894.757 Pa, 1 inch = 0.0254 m; 0 degC = 273.15 K
    for unit, factor in (("lbf", "4.448221"), ("psi", "6894.757"), ("in", "0.0254")):
        (told,) = (words for _, words in about_unit(unit).facts)
        assert told.startswith(f"1 {unit} = {factor}")
    assert dict(about_unit("degC").facts)["zero"] == "0 degC = 273.15 K"
    assert about_unit("psig").what == "no unit"
    assert all(about_unit(name).what.startswith("unit of") for name in UNITS)


def test_words_of_an_author_never_become_markup() -> None:
    hostile = "![x](http://x) <b>*y*</b> `z` \\x1b[31m\u202e"
    shown = Help("a`b", "input", (), (("asked as", hostile),)).markdown()
    assert re.search(r"(?<!\\)[\[<*`!]", shown.split("\n", 2)[2].replace("- asked as", "")) is None
    assert "\u202e" not in shown
    assert "[x](y)" not in about_unit("[x](y)").markdown()
    assert "\u202e" not in Help("a", "", (), (("b", hostile),), "c: \u202e").plain()


def test_a_fragment_is_read_with_the_parameters_of_its_use() -> None:
    fragment = "fragment: 1\nid: close\ntitle: Close\nparameters: [side]\nsteps:\n  - {id: close-<side>, do: Close it., makes: {<side>: closed}}\n"
    user = HEAD + "      - {use: close.fragment.yaml, with: {side: guard}}\n"
    library = in_memory({"/desk/close.fragment.yaml": fragment, "/desk/small.procedure.yaml": user})
    found = hover(library, "/desk/close.fragment.yaml", fragment.index("<side>: closed") + 2)
    assert found is not None
    assert found.help.head == "guard"
    used = hover(library, "/desk/small.procedure.yaml", user.index("close.fragment") + 3)
    assert used is not None
    assert dict(used.help.facts) == {"title": "Close", "parameters": "side", "steps": "1"}
