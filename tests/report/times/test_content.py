"""What is said of many runs: figures known by hand, nothing left out silently, no person named in any format."""

from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader
from rich.cells import cell_len

from runner.engine import events as ev
from runner.engine.events import Event
from runner.report.contents.marks import DRY, PLAYED
from runner.report.document import Document, Table
from runner.report.formats.format import Format
from runner.report.times.content import MOST_ROWS, Asked, times_document
from runner.report.times.figures import Figures, figures_of
from runner.report.times.forms import FORMS
from runner.report.times.gathered import Gathered, gather
from runner.report.times.pictures import MOST_RUNS
from runner.report.times.run_times import run_times
from runner.report.times.shorter import ADVICE, causes_of
from tests.report.printing import needs_print
from tests.report.times.small import LEAD, LENA, NAMES, PLAN, REWIND, ROLF, UMA, begun, moment, plain, run_of, step


def lifted(until: float) -> list[Event]:
    """As `plain`, but that lift-b is done, and the rest comes, so many seconds later."""
    late = until - 250
    return [
        *plain()[:-5], *step("lift-b", 190, until, ROLF), *step("tidy", 260 + late, 270 + late),
        ev.Finished(LENA, moment(280 + late), 0),
    ]  # fmt: skip


def troubled() -> list[Event]:
    """A run with everything in which a person's name or words stand."""
    return [
        *plain(),
        ev.HoldReached("", moment(41), "lift-a", "lead"),
        ev.HoldReleased(LENA, moment(49), "lift-a", "lead", ("Zone is clear",), ()),
        ev.ExceptionNoted(UMA, moment(60), 1, "people", "minor", f"{ROLF} was slow", "wipe-b", LENA, False),
        ev.Paused(UMA, moment(251), f"{ROLF} eats"),
        ev.Resumed(UMA, moment(252), "pause", (), f"{ROLF} is back"),
        ev.HandedOver(UMA, moment(253), "unwind", ROLF, f"{ROLF} knows"),
        ev.StepLeftOut(UMA, moment(254), "wipe-b", "2b.1", f"{ROLF} said so", LENA),
    ]


def several(*lists: list[Event]) -> list[Figures]:
    return [
        figures_of(run_times(run_of(events, begun(f"run-{at:02d}")), PLAN)) for at, events in enumerate(lists, start=1)
    ]


@pytest.fixture(scope="module")
def found() -> Gathered:
    return gather("Small", several(plain(), lifted(260), lifted(270), lifted(290), troubled()))


def shown_by(form: Format, document: Document) -> str:
    """What a format shows, as text."""
    needs_print(form.name)
    content = form.render(document)
    match form.name:
        case "xlsx":
            book = load_workbook(BytesIO(content))
            return "\n".join(str(cell.value) for sheet in book for row in sheet.rows for cell in row)
        case "pdf":
            pages = PdfReader(BytesIO(content)).pages
            return " ".join(" ".join(page.extract_text() for page in pages).split())
        case _:
            return content.decode()


def data_of(document: Document) -> Any:
    return document.data


def test_the_standstill_has_its_quartiles(found: Gathered) -> None:
    """By hand: 200, 210, 220, 240 and 209 s (work comes to the last run's lift nine seconds earlier); type 7."""
    assert [run.stood for run in found.charted] == [200, 210, 220, 240, 209]
    assert found.stood is not None
    assert (found.stood.lower, found.stood.median, found.stood.upper) == (209, 210, 220)


def test_a_step_has_the_quartiles_of_all_times_that_it_was_done(found: Gathered) -> None:
    lift = next(one for one in found.steps if one.step == "lift-b")
    assert lift.spread.count == 5
    assert (lift.spread.lower, lift.spread.median, lift.spread.upper) == (60, 70, 80)
    assert lift.on_chain == 5
    assert next(one for one in found.steps if one.step == "wipe-b").on_chain == 0


def test_waits_are_added_up_by_reason(found: Gathered) -> None:
    by_reason = {one.reason: one for one in found.waits}
    assert by_reason[f"{REWIND}, for the other list"].total == 5 * 90
    assert (by_reason[f"release by {LEAD}"].runs, by_reason[f"release by {LEAD}"].total) == (1, 8)
    assert [one.total for one in found.waits] == sorted((one.total for one in found.waits), reverse=True)


def test_a_run_that_is_not_finished_counts_for_exceptions_alone() -> None:
    noted = ev.ExceptionNoted(UMA, moment(60), 1, "material", "minor", "words", "wipe-b", "", False)
    one = gather(
        "Small", several(plain(), [*plain()[:-1], noted], [*plain()[:-1], noted, ev.Abandoned(LENA, moment(300), "")])
    )
    assert [run.outcome for run in one.runs] == ["finished", "open", "abandoned"]
    assert len(one.timed) == 1
    assert [(often.what, often.count, often.runs) for often in one.exceptions] == [("material", 2, 2)]


def test_what_would_shorten_it_is_on_the_chain_and_the_largest_first(found: Gathered) -> None:
    causes = {(cause.kind, cause.runs): cause.seconds for cause in found.causes}
    assert causes["list", 5] == 5 * 90
    assert causes["between", 5] == 5 * 20  # before lower-a and before lift-b
    assert causes["release", 1] == 8
    assert {cause.kind for cause in found.causes} <= set(ADVICE)
    assert [cause.seconds for cause in found.causes] == sorted((c.seconds for c in found.causes), reverse=True)


def test_every_kind_of_cause_is_found_where_it_is() -> None:
    events = [
        *step("stage", 1, 2),
        ev.HoldReached("", moment(10), "lift-a", "lead"), ev.HoldReleased(LENA, moment(20), "lift-a", "lead", (), ()),
        ev.StepBegun(UMA, moment(20), "lift-a", "2a.1", 1, "Lift."),
        ev.Paused(UMA, moment(22), ""), ev.Resumed(UMA, moment(25), "pause", (), ""),
        ev.LookedTwice(ROLF, moment(30), "lift-a", "together", True, ""),
        ev.StepDone(UMA, moment(31), "lift-a", "2a.1", ()),
        ev.StepBegun(UMA, moment(35), "lower-a", "2a.2", 1, "Lower."), ev.StepRepeated("", moment(38), "lower-a", 1, "x"),
        *step("lower-a", 38, 40), *step("wipe-b", 5, 9, ROLF), *step("lift-b", 40, 60, ROLF),
        ev.Finished(LENA, moment(61), 0),
    ]  # fmt: skip
    found = {cause.kind: cause.seconds for cause in causes_of(several(events))}
    # the other list stood from 9 to 40, but for the halt of 3; the second look came 10 after the step began, 3 of it halted
    assert found == {"release": 10, "halt": 3, "second": 7, "between": 4, "again": 3, "list": 28}
    free = causes_of(several([*step("stage", 1, 2), *step("wipe-b", 5, 9, ROLF), ev.Finished(LENA, moment(10), 0)]))
    assert [(cause.kind, cause.seconds) for cause in free] == [("running", 4)]


@pytest.mark.parametrize("form", FORMS)
def test_no_format_names_a_person_or_quotes_what_one_said(form: str, found: Gathered) -> None:
    shown = shown_by(FORMS[form], times_document((found,), Asked()))
    for name in (*NAMES, "eats", "was slow", "said so"):
        assert name not in shown
    assert "lift-b" in shown


def test_text_fits_a_terminal_of_80_columns(found: Gathered) -> None:
    lines = FORMS["text"].render(times_document((found,), Asked())).decode().splitlines()
    assert max(map(cell_len, lines)) <= 80


@pytest.mark.parametrize("form", ["html", "text", "markdown"])
def test_what_was_left_out_and_how_figures_are_made_is_said(form: str, found: Gathered) -> None:
    asked = Asked(dry=True, played=True, limits=(("Since", "2026-11-01"),), left_out=(("its record is damaged", 2),))
    shown = FORMS[form].render(times_document((found,), asked)).decode()
    for words in ("2 runs: its record is damaged", "2026-11-01", "type 7", "nearest rank", DRY.words, PLAYED.words):
        assert words in " ".join(shown.replace("\\", "").split())


def test_a_chart_needs_two_runs_and_few_runs_are_said_to_be_few(found: Gathered) -> None:
    assert "fewer than 20 runs" in FORMS["text"].render(times_document((found,), Asked())).decode().replace("\n", " ")
    one = times_document((gather("Small", several(plain())),), Asked())
    assert data_of(one)["procedures"][0]["chart"] is None
    for form in FORMS.values():
        assert form.render(one)


def test_a_run_outside_of_the_limits_is_marked() -> None:
    lists = [lifted(250 + at % 2) for at in range(12)]
    found = gather("Small", several(*lists, lifted(900)))
    document = times_document((found,), Asked())
    rows = data_of(document)["procedures"][0]["runs"]
    assert [row["number"] for row in rows if row["unusual"]] == [13]
    assert "above the limits" in FORMS["html"].render(document).decode()
    assert "▲ OUT" in FORMS["text"].render(document).decode()


def test_no_run_is_a_sentence_and_no_fault() -> None:
    for name, form in FORMS.items():
        shown = shown_by(form, times_document((), Asked()))
        assert "no run" in shown or name in ("json", "csv")


def test_a_sign_that_acts_stays_a_text_in_every_format() -> None:
    """A trouble's sign is an author's text: markup, control characters and spreadsheet formulas in it do nothing."""
    trouble = ev.TroubleMet(UMA, moment(70), "wipe-b", "2b.1", "x", "=1+1 \x1b[2J<script>", "", "go_on", "")
    noted = ev.ExceptionNoted(UMA, moment(70), 1, "equipment", "minor", "", "wipe-b", "", False)
    document = times_document((gather("Small", several([*plain(), trouble, noted])),), Asked())
    for name, form in FORMS.items():
        shown = shown_by(form, document)
        assert "\x1b" not in shown, name
        assert name != "html" or "<script" not in shown
        assert name != "csv" or (",'=1+1" in shown and ",=1+1" not in shown)


def test_of_many_runs_people_see_the_newest_and_data_have_all() -> None:
    found = gather("Small", several(*[lifted(250 + at % 7) for at in range(MOST_ROWS + 160)]))
    document = times_document((found,), Asked())
    text = FORMS["text"].render(document).decode()
    assert f"The newest {MOST_ROWS} of {MOST_ROWS + 160} runs" in " ".join(text.split())
    (table,) = [block for block in document.blocks if isinstance(block, Table) and block.caption.startswith("Runs")]
    assert [row[0] for row in table.rows] == [str(number) for number in range(161, MOST_ROWS + 161)]
    assert f"run {MOST_ROWS + 160 - MOST_RUNS + 1}" in text  # where the drawing begins
    assert len(data_of(document)["procedures"][0]["runs"]) == MOST_ROWS + 160
    assert len(data_of(document)["procedures"][0]["chart"]["values_s"]) == MOST_ROWS + 160
