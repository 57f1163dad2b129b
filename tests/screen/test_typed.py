"""The line that is typed into."""

from hypothesis import given
from hypothesis import strategies as st

from runner.procedure.clean import is_clean
from runner.screen.typed import LONGEST, Line


@given(
    st.lists(
        st.text(max_size=400) | st.sampled_from(["left", "right", "home", "end", "backspace", "delete"]), max_size=12
    )
)
def test_whatever_is_put_in_the_line_stays_one_clean_line_of_at_most_256(parts: list[str]) -> None:
    line = Line()
    for part in parts:
        line = line.edit(part) or line.add(part)
    assert len(line.text) <= LONGEST
    assert is_clean(line.text)
    assert 0 <= line.at <= len(line.text)


def test_a_paste_with_a_line_end_gives_its_first_line_and_no_enter() -> None:
    assert Line().add("6.2\r\n7.0\n").text == "6.2"


def test_editing_works_at_the_cursor() -> None:
    line = Line().add("1250")
    for key in ("left", "left", "backspace"):
        line = line.edit(key) or line
    assert line.text == "150"
    assert line.add("9").text == "1950"
    assert (line.edit("ctrl+u") or line).text == ""


def test_what_is_typed_after_a_refusal_takes_its_place_and_does_not_hang_on_it() -> None:
    refused = Line().add("60,5")._replace(refused=True)
    assert refused.add("6") == Line("6", 1)
    assert refused.add("6").add("2").text == "62"
    assert Line().add("Rune Tavik")._replace(refused=True).add("M").text == "M"


def test_a_refused_entry_is_mended_with_backspace_and_gets_its_unit_behind_a_digit() -> None:
    refused = Line().add("62")._replace(refused=True)
    assert (refused.edit("backspace") or refused).add("5").text == "65"
    assert refused.add("p").add("s").text == "62ps"
