"""Instructions with slots: parsed once, filled without failing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.formula.fault import Fault
from runner.procedure.template import Slot, Template, fill, parse_template


def parsed(text: str) -> Template:
    template = parse_template(text)
    assert isinstance(template, Template)
    return template


@pytest.mark.parametrize(
    ("text", "slot"),
    [
        ("{mass}", ("mass", "", None)),
        ("{mass:.0f}", ("mass", ".0f", None)),
        ("{mass: lb}", ("mass", "", "lb")),
        ("{mass:lb}", ("mass", "", "lb")),
        ("{mass:.1f lb}", ("mass", ".1f", "lb")),
        ("{pull:.3g N/m}", ("pull", ".3g", "N/m")),
        ("{ mass }", ("mass", "", None)),
    ],
)
def test_a_slot_has_a_name_digits_and_a_unit(text: str, slot: tuple[str, str, str | None]) -> None:
    (found,) = parsed(text).slots
    assert (found.name, found.spec, found.unit.text if found.unit else None) == slot


@pytest.mark.parametrize(
    ("text", "column"),
    [
        ("Hang {bar mass} on.", 6),
        ("Hang {bar_mass on.", 5),
        ("Hang bar_mass} on.", 13),
        ("Hang {} on.", 6),
        ("Hang {mass:} on.", 10),
        ("Hang {mass:x} on.", 11),
        ("Hang {mass!r} on.", 6),
        ("Hang {mass.real} on.", 6),
        ("Hang {0} on.", 6),
        ("Hang {mass:.99f} on.", 11),
        ("Hang {a{b}} on.", 6),
    ],
)
def test_a_slot_that_is_not_written_so_is_a_fault_at_its_column(text: str, column: int) -> None:
    fault = parse_template(text)
    assert isinstance(fault, Fault)
    assert fault.start == column
    assert fault.message


def test_a_value_that_is_not_known_says_so_in_its_place() -> None:
    template = parsed("Hang {mass:.1f} on {{both}} ends of {bar}.")
    known = {"mass": "20.5 kg"}
    text, missing = fill(template, lambda slot: known.get(slot.name))
    assert text == "Hang 20.5 kg on {both} ends of (bar: not known yet)."
    assert missing == ("bar",)


@given(st.text(max_size=80))
def test_any_text_is_a_template_or_a_fault_inside_it(text: str) -> None:
    found = parse_template(text)
    if isinstance(found, Fault):
        assert 0 <= found.start <= len(text)
    else:
        shown, _ = fill(found, lambda slot: f"<{slot.name}>")
        assert isinstance(shown, str)


@given(st.text(max_size=80).filter(lambda text: "{" not in text and "}" not in text))
def test_a_text_without_braces_stays_as_it_is(text: str) -> None:
    assert fill(parsed(text), lambda _: None) == (text, ())


@given(st.text(max_size=40))
def test_doubled_braces_bring_any_text_through(text: str) -> None:
    doubled = text.replace("{", "{{").replace("}", "}}")
    assert fill(parsed(doubled), lambda _: None) == (text, ())


def test_a_slot_knows_where_it_stands() -> None:
    assert [slot.start for slot in parsed("{a} and {{b}} and {c:.1f}").slots if isinstance(slot, Slot)] == [0, 18]
