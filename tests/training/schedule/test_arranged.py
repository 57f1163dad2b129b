"""Arrangements by hand: what a second person saves, what may not be put side by side, what is said of a bound."""

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import flow
from runner.report.formats import FORMATS
from runner.training.schedule import split, two_lists
from runner.training.schedule.arranged import BEST, BOUND, arranged, as_data, of_two, played
from runner.training.schedule.chart import lines, strips_of
from runner.training.schedule.recorded import NOTHING, Recorded
from runner.training.schedule.split import Shared, Work, alone, shared, work_of
from runner.training.schedule.timed import ASSUMED, EXPECTED, RECORDED
from runner.training.schedule.told import document
from tests.engine.bench import compiled
from tests.training.simulate.lines import PAIRED, STUCK, small
from tests.training.simulate.test_runs import shipped

PLAIN = """
  - phase: Stage
    press: running
    steps:
      - {id: tape, by: unwind, do: Fetch the tape., expect: 4 min}
      - {id: count, by: rewind, do: Count the tools., expect: 3 min}
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}, expect: 1 min}
      - {id: open, by: rewind, needs: {drive: stopped}, do: Open the guard., makes: {guard: open}, expect: 2 min}
"""

ONE_CRANE = """
  - phase: Both
    press: stopped
    together:
      unwind:
        - {id: u-lift, by: unwind, do: Lift the roll., makes: {crane: carrying}, expect: 10 min}
        - {id: u-down, by: unwind, needs: {crane: carrying}, do: Lower the roll., makes: {crane: free}, expect: 5 min}
        - {id: u-wipe, by: unwind, do: Wipe the roller., expect: 9 min}
      rewind:
        - {id: r-lift, by: rewind, do: Lift the roll., makes: {crane: carrying}, expect: 2 min}
        - {id: r-down, by: rewind, needs: {crane: carrying}, do: Lower the roll., makes: {crane: free}, expect: 1 min}
        - {id: r-wipe, by: rewind, do: Wipe the roller., expect: 20 min}
"""


def test_two_people_share_what_needs_nothing_of_each_other() -> None:
    (phase,) = arranged(compiled(PLAIN), {}).phases
    assert (phase.one_s, phase.comes_s) == (600.0, 600.0)
    assert phase.two_s == 360.0  # tape and stop (5 min), then open; or count, stop, open (6 min): by hand, 6 min
    assert phase.said == BEST


def test_the_best_order_of_two_lists_lets_the_short_lift_go_first() -> None:
    """As it comes the long lift begins, and the long wiping of the other list waits for it."""
    (phase,) = arranged(compiled(ONE_CRANE), {}).phases
    assert phase.comes_s == (15 + 3 + 20) * 60.0
    assert phase.two_s == (3 + 15 + 9) * 60.0
    assert [one.step for one in phase.two if one.start == 0.0] == ["r-lift"]
    assert phase.one_s == (24 + 23) * 60.0


def test_nothing_is_put_beside_a_step_that_wants_everybody() -> None:
    steps = small().phases[0].lists[0].steps
    assert [step.id for step in steps if alone(step)] == ["press"]
    work = work_of(small(), steps, {"stop": 120.0, "press": 180.0, "wipe": 60.0, "foil": 60.0})
    assert work.after == ((), (0,), (1,), (1,))
    assert shared(work).end == 360.0  # stop, then press; wipe beside foil: by hand


def test_a_state_with_one_owner_stays_in_one_pair_of_hands() -> None:
    one_list = """
  - phase: Lift
    press: stopped
    steps:
      - {id: hook, by: unwind, do: Lift the roll., makes: {crane: carrying}, expect: 2 min}
      - {id: wipe, by: unwind, do: Wipe the roller., expect: 8 min}
      - {id: lower, by: unwind, needs: {crane: carrying}, do: Lower the roll., makes: {crane: free}, expect: 2 min}
"""
    (phase,) = arranged(compiled(one_list), {}).phases
    persons = {one.step: one.person for one in phase.two}
    assert persons["hook"] == persons["lower"] != persons["wipe"]
    assert phase.two_s == 480.0


def test_a_list_that_cannot_be_shared_stays_as_it_is() -> None:
    chain = """
  - phase: Stop
    press: stopped
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}, expect: 1 min}
      - {id: open, by: rewind, needs: {drive: stopped}, do: Open the guard., makes: {guard: open}, expect: 2 min}
"""
    (phase,) = arranged(compiled(chain), {}).phases
    assert (phase.two, phase.two_s, phase.said) == ((), 180.0, BEST)


def test_times_are_those_of_the_records_where_there_are_any_and_it_is_said_which() -> None:
    procedure = compiled(PLAIN.replace(", expect: 1 min", ""))
    found = arranged(procedure, {"tape": 10.0})
    assert dict(found.taken.counts()) == {EXPECTED: 2, RECORDED: 1, ASSUMED: 1}
    assert found.phases[0].one_s == 10.0 + 180.0 + 60.0 + 120.0


def test_a_step_that_is_asked_not_to_be_counted_takes_no_time() -> None:
    found = arranged(compiled(ONE_CRANE), {}, frozenset({"r-wipe", "u-wipe"}))
    assert found.phases[0].two_s == 18 * 60.0
    assert found.left_out == ("1a.3", "1b.3")


def test_where_no_order_is_found_it_is_said_and_what_follows_is_not_looked_at() -> None:
    found = arranged(compiled(STUCK), {})
    assert found.stuck == "Stop"
    assert any("no order of its steps was found" in str(row) for row in document(found, NOTHING).blocks)


def test_a_search_that_is_broken_off_tells_a_bound_and_not_a_best() -> None:
    procedure = compiled(ONE_CRANE)
    position = flow.start(procedure)
    seconds = arranged(procedure, {}).taken.seconds
    before = two_lists.MOST_MOMENTS
    try:
        two_lists.MOST_MOMENTS = 2
        plan, bound, said = of_two(procedure, position, seconds, frozenset())
    finally:
        two_lists.MOST_MOMENTS = before
    assert said == BOUND
    assert bound == 24 * 60.0
    assert bound <= max(one.end for one in plan)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(1, 50), min_size=12, max_size=14))
def test_a_split_that_is_broken_off_is_no_shorter_than_its_bound(minutes: list[int]) -> None:
    work = Work(tuple(map(float, minutes)), ((),) * len(minutes), ())
    before = split.MOST_NODES
    try:
        split.MOST_NODES = 20
        found = shared(work)
    finally:
        split.MOST_NODES = before
    assert found.bound <= found.end
    assert shared(work).end >= found.bound
    assert found.proved == (found.bound == found.end)


TAKEN = """
  - phase: Take
    press: stopped
    together:
      unwind: [{id: take, by: unwind, do: Lift the roll., makes: {crane: carrying}, expect: 1 min}]
      rewind: [{id: rest, by: rewind, do: Wipe the roller., expect: 1 min}]
  - phase: Go on
    press: stopped
    steps:
      - {id: swing, by: unwind, needs: {crane: carrying}, do: Turn the roll., expect: 2 min}
      - {id: sweep, by: rewind, do: Wipe the floor., expect: 2 min}
"""


def test_what_somebody_owns_when_a_list_begins_stays_theirs() -> None:
    take, go_on = arranged(compiled(TAKEN), {}).phases
    assert take.two_s == 60.0
    assert (go_on.two_s, go_on.said) == (120.0, BEST)
    position = played(compiled(TAKEN), flow.start(compiled(TAKEN)), take.comes, frozenset())
    assert split.owners_among(compiled(TAKEN).phases[1].lists[0].steps, position) == {"unwind"}


def test_a_plan_that_the_order_rules_refuse_is_not_told() -> None:
    """A step that wants the locks of both people is in neither of two lists: 29 CFR 1910.147(e)(3), each their own lock."""
    found = {one.phase: one for one in arranged(shipped("slitter-knives"), {}).phases}
    refused = found["Look over and clear"]
    assert as_data(arranged(compiled(PAIRED), {}))["stuck"] == ""
    assert (refused.two, refused.said) == ((), BEST)
    assert refused.two_s == refused.comes_s
    swapped = split.plan_of(
        compiled(PLAIN), flow.start(compiled(PLAIN)), compiled(PLAIN).phases[0].lists[0].steps,
        Shared((0, 1, 0, 1), (0.0, 0.0, 0.0, 180.0), 300.0, True, 300.0),
        {"tape": 240.0, "count": 180.0, "stop": 60.0, "open": 120.0},
    )  # fmt: skip
    assert swapped == ()  # open may not begin while the drive is still being stopped


def test_the_chart_has_a_strip_for_each_person_and_is_no_wider_than_80_cells() -> None:
    found = arranged(compiled(ONE_CRANE), {})
    drawn = lines(strips_of(found))
    assert len(drawn) == 5
    assert max(map(len, drawn)) <= 80
    assert drawn[-1].endswith("38.0")


def test_the_page_has_no_script_and_says_in_words_what_the_chart_shows() -> None:
    found = arranged(compiled(ONE_CRANE), {})
    page = FORMATS["html"].render(document(found, Recorded(3, {}, 1800.0, ()))).decode()
    assert "<script" not in page
    assert "Content-Security-Policy" in page
    assert "<desc>As written 38.0 min, two people at best 27.0 min.</desc>" in page
    assert "median of 3 runs" in page
