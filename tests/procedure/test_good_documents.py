"""Every good document, and every procedure that is shipped, compiles without an error or a warning."""

from pathlib import Path

import pytest

from runner.procedure.finding import Severity
from runner.procedure.model import Procedure, steps_of
from tests.procedure.documents import GOOD, compiled

SHIPPED = sorted((Path(__file__).parents[2] / "procedures").glob("*.procedure.yaml"))


@pytest.mark.parametrize("path", GOOD + SHIPPED, ids=lambda path: path.name)
def test_a_good_document_compiles_without_a_warning(path: Path) -> None:
    result = compiled(path)
    assert [finding for finding in result.findings if finding.severity > Severity.NOTE] == []
    assert result.procedure is not None
    assert steps_of(result.procedure)


def good(name: str) -> Procedure:
    result = compiled(next(path for path in GOOD if path.name == f"{name}.procedure.yaml"))
    assert result.procedure is not None
    return result.procedure


def test_texts_that_yaml_1_1_would_guess_at_stay_texts() -> None:
    procedure = good("guessed-types")
    assert procedure.title == "no"
    assert procedure.tools[:7] == ("on", "off", "yes", "y", "null", "~", "010")
    assert procedure.tools[-3:] == ("2026-11-20", "=", "<<")
    assert [state.of for state in procedure.states] == [("on", "off"), ("010", "10")]
    assert procedure.inputs[0].choices == ("1e3", "1000", "null")


def test_folded_texts_are_one_line_and_paragraphs_stay_apart() -> None:
    procedure = good("folded")
    step = steps_of(procedure)[0]
    assert procedure.title == "Look round the unwind"
    assert step.do.text == "Look round at {half:.0f}, then look again."
    assert step.why == "Two looks find more than one."
    assert step.explain == "The first look finds what stands out.\nThe second finds the rest."


def test_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    assert good("crlf").title == "Look"
    assert good("byte-order-mark").id == "byte-order-mark"


def test_nested_fragments_bring_their_steps_in_order() -> None:
    ids = [step.id for step in steps_of(good("nested-fragments"))]
    assert ids == ["guard-left-inner", "drive-left-inner", "guard-right-inner", "drive-right-inner"]


def test_doubled_braces_are_braces() -> None:
    step = steps_of(good("braces"))[0]
    assert [slot.name for slot in step.do.slots] == ["roll_number"]
    assert step.do.parts[1] == " stands in {braces} on the label."


def test_calculations_come_after_what_they_use() -> None:
    assert [made.name for made in good("any-order").calculations] == ["first", "second", "third"]
