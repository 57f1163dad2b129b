"""Parsing: any text is a tree or a fault inside it, in bounded time and depth."""

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.check import check
from runner.formula.explain import text_of
from runner.formula.expr import Arithmetic, Call, Name, Negate, Number, Reference, Span, names_in, nodes, references_in
from runner.formula.fault import Fault
from runner.formula.syntax import BINDING, DEEPEST, LONGEST, parse
from tests.formula.vocabulary import tree

PIECES = st.sampled_from([
    "roll_od", "pi", "g_n", "3.2 [kg]", "2", "1e3", ".5", "'x'", '"y"', "lookup", "if", "min", "unwind", "and", "or", "not",
    "+", "-", "*", "/", "^", "==", "!=", "<", "<=", "(", ")", ",", "[", "]", "**", "=", "²", "kg", "%", ".", " ", "\n", "\x00", "€",
])  # fmt: skip
GOOD = [
    "pi * (roll_od^2 - core_od^2) / (4 * caliper)",
    "tension * web_width * bar_factor(unwind, 'tension bar') / g_n - 3.2 [kg]",
    "if(substrate == 'BOPP film' and not (a < b or c >= 2 [m]), lookup(t, substrate, low), max(a, b, -2^2))",
]


@given(st.text(max_size=LONGEST + 10))
def test_any_text_is_a_tree_or_a_fault_inside_it(text: str) -> None:
    is_sound(text)


@settings(max_examples=300)
@given(st.lists(PIECES, max_size=30))
def test_any_pieces_of_formulas_are_a_tree_or_a_fault(pieces: list[str]) -> None:
    is_sound(" ".join(pieces))
    is_sound("".join(pieces))


@settings(max_examples=300)
@given(st.sampled_from(GOOD), st.integers(0, 120), st.integers(0, 6), st.text(max_size=3))
def test_any_change_to_a_good_formula_is_a_tree_or_a_fault(good: str, at: int, cut: int, put: str) -> None:
    is_sound(good[:at] + put + good[at + cut :])


def is_sound(text: str) -> None:
    found = parse(text)
    if isinstance(found, Fault):
        assert 0 <= found.start <= found.end <= len(text)
        assert found.message
        assert found.message.isprintable()
        assert found.hint.isprintable()
        return
    for node in nodes(found):
        assert 0 <= node.span.start < node.span.end <= len(text)
    for fault in check(found, {}).faults:
        assert 0 <= fault.start <= fault.end <= len(text)
    again = parse(text_of(found))
    if not isinstance(again, Fault):  # a formula near the longest may be too long once it is spaced out
        assert text_of(again) == text_of(found)
    else:
        assert len(text_of(found)) > LONGEST


def test_a_formula_is_bounded_in_length_and_depth() -> None:
    assert isinstance(parse("1" * (LONGEST + 1)), Fault)
    for deep in (
        "(" * 200 + "1" + ")" * 200,
        "-" * 300 + "1",
        "not " * 100 + "a",
        "a" + "+a" * 100,
        "abs(" * 60 + "1" + ")" * 60,
    ):
        found = parse(deep)
        assert isinstance(found, Fault), deep
        assert f"no deeper than {DEEPEST}" in found.message


def test_the_parts_of_a_formula_know_their_columns() -> None:
    text = "2 * (roll_od - core_od)^2"
    expr = tree(text)
    spans = {text[node.span.start : node.span.end] for node in nodes(expr)}
    assert spans == {text, "2", "(roll_od - core_od)^2", "(roll_od - core_od)", "roll_od", "core_od"} | {"2"}


def test_operators_bind_as_in_the_table() -> None:
    assert BINDING["or"] < BINDING["and"] < BINDING["not"] < BINDING["<"] < BINDING["+"] < BINDING["*"] < BINDING["^"]
    same = [
        ("a or b and c", "a or (b and c)"),
        ("not a == b and c", "(not (a == b)) and c"),
        ("a + b < c * d", "(a + b) < (c * d)"),
        ("a - b - c", "(a - b) - c"),
        ("a / b * c", "(a / b) * c"),
        ("-x^2", "-(x^2)"),
        ("-x * y", "(-x) * y"),
        ("2 * -x", "2 * (-x)"),
        ("x^-2 * y", "(x^-2) * y"),
    ]
    for short, spelled_out in same:
        assert text_of(tree(short)) == text_of(tree(spelled_out)), short
    assert text_of(tree("a - (b - c)")) == "a - (b - c)"
    assert text_of(tree("(-x)^2")) == "(-x)^2"


def test_a_minus_before_a_number_belongs_to_it_unless_it_is_raised() -> None:
    assert tree("-20 [degC]") == Number(-20.0, "degC", Span(0, 10))
    assert isinstance(tree("-2^2"), Negate)
    assert isinstance(tree("3 - 20 [degC]"), Arithmetic)


def test_names_of_tables_paths_and_columns_are_no_values() -> None:
    expr = tree(
        "lookup(wanted, substrate, roll_od, high) + bar_factor(unwind, 'tension bar') * pi + last(pressure) + g_n"
    )
    assert names_in(expr) == {"substrate", "roll_od", "pressure"}
    assert {(reference.to, reference.id) for reference in references_in(expr)} == {
        ("table", "wanted"), ("column", "high"), ("path", "unwind"),
    }  # fmt: skip


def test_a_column_may_be_in_quotes() -> None:
    expr = tree("lookup(t, k, 'low')")
    assert isinstance(expr, Call)
    assert expr.arguments == (
        Reference("t", "table", Span(7, 8)), Name("k", Span(10, 11)), Reference("low", "column", Span(13, 18)),
    )  # fmt: skip
