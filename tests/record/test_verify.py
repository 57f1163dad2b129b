"""Verifying finds every removal, swap, doubling and insertion, names the line. A second verifier, in `schemas/`, is held against it in `test_stand_alone.py`."""

import itertools
import re

from runner.engine import events as ev
from runner.procedure.clean import is_clean
from runner.record.line import GENESIS, Kind, Mark, encode
from runner.record.verify import MOST_FLAWS, verify, verify_bytes
from tests.record.sample import LIVE, actions, content, lines, moment

WHOLE = lines(actions(4))
OTHER = lines(actions(4, mark=Mark("20261125-0900-abcd", "live")))


def test_a_whole_journal_has_no_flaw_and_a_head() -> None:
    found = verify(WHOLE)
    assert found.flaws == ()
    assert found.whole
    assert (found.run, found.mode, found.events, found.outcome) == (*LIVE, len(WHOLE), "finished")
    assert found.head.encode() == WHOLE[-1].split(b" ")[1]


def test_a_run_without_its_closing_event_is_open() -> None:
    assert verify(lines(actions(1, end=False))).outcome == ""
    assert verify(lines([*actions(1, end=False), (ev.Abandoned("Ada", moment(99), "x"),)])).outcome == "abandoned"


def test_any_line_that_is_taken_out_is_missed() -> None:
    for at in range(len(WHOLE) - 1):
        flaw = verify(WHOLE[:at] + WHOLE[at + 1 :]).flaws[0]
        assert (flaw.line, flaw.kind) == (at + 1, Kind.MISSING)


def test_any_two_lines_that_are_swapped_are_out_of_order() -> None:
    for first, second in itertools.combinations(range(len(WHOLE)), 2):
        swapped = list(WHOLE)
        swapped[first], swapped[second] = swapped[second], swapped[first]
        flaws = verify(swapped).flaws
        assert flaws[0].line == first + 1
        assert {flaw.line for flaw in flaws} >= {first + 1, second + 1}
        assert flaws[0].kind in ({Kind.OUT_OF_ORDER} if second < len(WHOLE) - 1 else {Kind.OUT_OF_ORDER, Kind.MISSING})


def test_any_line_that_is_doubled_anywhere_later_is_found() -> None:
    for at, to in itertools.combinations(range(len(WHOLE) + 1), 2):
        flaws = verify([*WHOLE[:to], WHOLE[at], *WHOLE[to:]]).flaws
        assert [(flaw.line, flaw.kind) for flaw in flaws] == [(to + 1, Kind.DOUBLED)]


def test_any_line_of_another_run_is_found_wherever_it_is_put() -> None:
    for at, to in itertools.product(range(len(OTHER)), range(1, len(WHOLE) + 1)):
        flaws = verify([*WHOLE[:to], OTHER[at], *WHOLE[to:]]).flaws
        assert [(flaw.line, flaw.kind) for flaw in flaws] == [(to + 1, Kind.ANOTHER_RUN)]


def test_a_line_of_another_run_before_the_first_does_not_verify() -> None:
    for line in OTHER:
        assert not verify([line, *WHOLE]).whole


def test_whole_actions_cut_off_the_end_show_only_against_a_head_put_down_elsewhere() -> None:
    done = actions(2)
    full, cut = verify_bytes(content(done)), verify_bytes(content(done[:-2]))
    assert cut.whole
    assert cut.outcome == ""
    assert cut.head != full.head


def test_lines_that_were_written_together_are_kept_all_or_none() -> None:
    flaw = verify(WHOLE[:3]).flaws[0]  # the step's cautions without the hold that was reached in the same action
    assert (flaw.line, flaw.kind) == (3, Kind.INCOMPLETE)


def test_a_line_that_was_made_anew_breaks_the_chain_behind_it() -> None:
    for at in range(1, len(WHOLE) - 1):
        prev = WHOLE[at - 1].split(b" ")[1].decode()
        left = int(re.findall(rb'"left":([0-9]+)', WHOLE[at])[0])
        of = int(re.findall(rb'"of":([0-9]+)', WHOLE[at])[0])
        forged, _ = encode(ev.Paused("Eve", moment(0), "x"), at + 1, prev, LIVE, left, of)
        flaw = verify([*WHOLE[:at], forged, *WHOLE[at + 1 :]]).flaws[0]
        assert (flaw.line, flaw.kind) == (at + 2, Kind.CHANGED)


def test_a_file_that_is_no_journal_ends_after_a_number_of_flaws() -> None:
    assert len(verify([b"no journal\n"] * 5000).flaws) == MOST_FLAWS


def test_a_number_far_ahead_costs_nothing() -> None:
    far, _ = encode(ev.Paused("Ada", moment(0), "x"), 10**12, GENESIS, LIVE)
    assert verify([WHOLE[0], far]).flaws[0].kind == Kind.MISSING


def test_nothing_in_the_words_about_a_line_acts_on_a_terminal() -> None:
    for text in ("\x1b[2J", "\u202e", "x" * 5000):
        odd, _ = encode(ev.Paused("Ada", moment(0), "x"), 2, GENESIS, Mark(text, text))
        flaws = verify([WHOLE[0], odd, odd.replace(b"paused", text.encode())]).flaws
        assert len(flaws) == 2
        assert all(is_clean(str(flaw)) and len(str(flaw)) < 200 for flaw in flaws)
