"""Pieces that miss their tolerance hold the steps that use them until another person accepts the nearest choice."""

from dataclasses import replace

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.evolve import replay
from runner.engine.intents import BeginRun
from runner.engine.lookup import step_named
from runner.engine.shown import fill_in

from .bench import Bench, compiled, kinds
from .held_pieces import TEXT, at_the_rack

WHY = "The film stands 6 % more"


def accepted(bench: Bench, by: str = "Lena", step: str = "load", why: str = WHY) -> want.AcceptPieces:
    return want.AcceptPieces(by, step, "bar_pieces", why)


def at_the_load() -> Bench:
    bench = at_the_rack()
    bench.do("fetch")
    return bench


def test_a_job_without_pieces_in_tolerance_begins_and_notes_no_exception() -> None:
    bench = at_the_rack()
    worked = next(e for e in bench.events if isinstance(e, ev.WorkedOut) and e.name == "bar_pieces")
    assert worked.verdict == "held"
    assert worked.shown.startswith(
        "no choice of pieces comes within 1 kg of 36.7098 kg; the nearest is 40 kg: 4 x 5 kg"
    )
    assert worked.gives == "gives 163.4 N/m (wanted 150 N/m, +9.0 %)"
    assert bench.state.exceptions == ()
    assert "hook" not in bench.state.values


def test_a_step_that_uses_them_does_not_begin_and_the_refusal_says_who_may_accept() -> None:
    refused = at_the_load().refused(want.BeginStep("Uma", "load"))
    assert "is held" in refused
    assert "the nearest is 40 kg" in refused
    assert "Shift lead may accept it; or correct an input that is wrong; or stop" in refused


def test_a_step_that_does_not_use_them_begins() -> None:
    at_the_rack().must(want.BeginStep("Uma", "fetch"))


def test_once_accepted_the_step_begins_and_what_rests_on_them_is_worked_out() -> None:
    bench = at_the_load()
    events = bench.must(accepted(bench))
    assert kinds(events) == ["PiecesAccepted", "WorkedOut"]
    event = events[0]
    assert isinstance(event, ev.PiecesAccepted)
    assert (event.by, event.name, event.role, event.step) == ("Lena", "bar_pieces", "lead", "load")
    assert (event.wanted, event.hung, event.shown, event.why) == ("36.7098 kg", "40 kg", "4 x 5 kg at each end", WHY)
    assert event.gives == "gives 163.4 N/m (wanted 150 N/m, +9.0 %)"
    begun = bench.must(want.BeginStep("Uma", "load"))[0]
    assert isinstance(begun, ev.StepBegun)
    assert begun.act == "Load the bar: 4 x 5 kg at each end."
    bench.must(want.GiveAnswer("Uma", "load", "on_bar", "40"))
    bench.must(want.EndStep("Uma", "load"))
    bench.do("tell", "Rolf")
    assert replay(bench.procedure, bench.events) == bench.state


def test_only_the_role_accepts_with_a_reason_and_only_once() -> None:
    bench = at_the_load()
    assert "Only Shift lead (Lena)" in bench.refused(accepted(bench, by="Uma"))
    assert "Only Shift lead (Lena)" in bench.refused(accepted(bench, by="Rolf"))
    assert "Say why" in bench.refused(accepted(bench, why="  "))
    bench.must(accepted(bench, by=" lena"))
    assert "accepted bar pieces already" in bench.refused(accepted(bench))


def test_the_person_who_does_the_step_does_not_accept_in_another_role() -> None:
    bench = Bench(compiled("", TEXT))
    crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "uma"))
    inputs = (("width", "1200"), ("tension", "150"))
    bench.must(BeginRun("Uma", "R1", "live", False, crew, inputs, "test"))
    bench.do("fetch")
    assert "another person must accept its pieces" in bench.refused(accepted(bench, by="UMA"))


def test_who_has_accepted_does_not_do_the_step_after_taking_over() -> None:
    bench = at_the_load()
    bench.must(accepted(bench))
    bench.must(want.HandOver("Uma", "unwind", "Lena", "the bar is empty"))
    assert "Lena accepted bar pieces" in bench.refused(want.BeginStep("Lena", "load"))


def test_nobody_accepts_where_nobody_has_the_role() -> None:
    bench = Bench(compiled("", TEXT))
    crew = (("unwind", "Uma"), ("rewind", "Rolf"))
    bench.must(BeginRun("Uma", "R1", "live", False, crew, (("width", "1200"), ("tension", "150")), "test"))
    bench.do("fetch")
    assert "Nobody has signed on as Shift lead" in bench.refused(accepted(bench))


def test_an_acceptance_counts_until_the_value_is_worked_out_anew() -> None:
    bench = at_the_load()
    bench.must(accepted(bench))
    events = bench.must(want.CorrectAnswer("Uma", "", "tension", "151", "misread"))
    assert kinds(events)[0] == "AnswerCorrected"
    assert bench.state.values["bar_pieces"].verdict == "held"
    assert "is held" in bench.refused(want.BeginStep("Uma", "load"))
    bench.must(want.CorrectAnswer("Uma", "", "tension", "150", "it was right"))
    assert "is held" in bench.refused(want.BeginStep("Uma", "load"))
    bench.must(accepted(bench))
    bench.must(want.BeginStep("Uma", "load"))


def test_a_step_in_progress_does_not_end_on_pieces_that_are_held_again() -> None:
    bench = at_the_load()
    bench.must(accepted(bench))
    bench.must(want.BeginStep("Uma", "load"))
    bench.must(want.GiveAnswer("Uma", "load", "on_bar", "40"))
    bench.must(want.CorrectAnswer("Uma", "", "tension", "151", "misread"))
    assert "is held" in bench.refused(want.EndStep("Uma", "load"))
    bench.must(accepted(bench))
    bench.must(want.EndStep("Uma", "load"))


def test_a_corrected_input_that_fits_the_rack_needs_nobody() -> None:
    bench = at_the_load()
    bench.must(want.CorrectAnswer("Uma", "", "tension", "163.45", "misread"))
    assert bench.state.values["bar_pieces"].verdict == "in"
    bench.must(want.BeginStep("Uma", "load"))
    assert "no pieces called bar pieces that hold" in bench.refused(accepted(bench))


def test_a_step_that_uses_them_through_another_value_is_held_too() -> None:
    ask = TEXT[TEXT.index("        read: {on_bar") : TEXT.index("      - {id: tell")]
    bench = Bench(compiled("", TEXT.replace("{bar_pieces}", "the pieces").replace(ask, "")))
    begin = at_the_rack().begin_intent()
    bench.must(replace(begin, inputs=(("width", "1200"), ("tension", "150"))))
    bench.do("fetch")
    bench.do("load")
    assert "is held" in bench.refused(want.BeginStep("Rolf", "tell"))
    bench.must(accepted(bench, step="tell"))
    bench.do("tell", "Rolf")


def test_without_a_role_the_job_is_refused_with_what_can_be_done() -> None:
    bench = Bench(compiled("", TEXT.replace(", release: lead", "")))
    begin = replace(bench.begin_intent(), inputs=(("width", "1200"), ("tension", "150")))
    words = bench.refused(begin)
    assert "the nearest is 40 kg" in words
    assert "correct an input that is wrong; get other pieces" in words


def test_the_limit_of_a_calculation_is_never_accepted_this_way() -> None:
    limited = TEXT.replace("pull / g_n, unit: kg", 'pull / g_n, unit: kg, limit: "<= 30 [kg]"')
    bench = Bench(compiled("", limited))
    begin = replace(bench.begin_intent(), inputs=(("width", "1200"), ("tension", "150")))
    assert "bar_mass: 36.7098 kg (allowed: <= 30 kg)" in bench.refused(begin)


def test_less_than_nothing_is_never_accepted() -> None:
    lighter = TEXT.replace("pull / g_n, unit: kg", '"pull / g_n - 50 [kg]", unit: kg')
    bench = Bench(compiled("", lighter))
    begin = replace(bench.begin_intent(), inputs=(("width", "1200"), ("tension", "150")))
    assert "less than nothing cannot be hung" in bench.refused(begin)


@pytest.mark.parametrize(
    ("typed", "origin"), [((), "job ticket"), ((("tension", "job file"),), "job ticket, job file")]
)
def test_where_each_input_came_from_is_in_the_event(typed: tuple[tuple[str, str], ...], origin: str) -> None:
    bench = Bench(compiled("", TEXT))
    begin = replace(bench.begin_intent(), inputs=(("width", "1200"), ("tension", "150")), origins=typed)
    bench.must(begin)
    pull = next(e for e in bench.events if isinstance(e, ev.WorkedOut) and e.name == "pull")
    assert pull.origins == (("tension", origin), ("width", "job ticket"))
    mass = next(e for e in bench.events if isinstance(e, ev.WorkedOut) and e.name == "bar_mass")
    assert mass.origins == (("pull", "worked out"), ("g_n", "constant 9.80665 m/s²"))


def test_a_corrected_input_says_who_corrected_it() -> None:
    bench = at_the_rack()
    bench.must(want.CorrectAnswer("Uma", "", "tension", "151", "misread"))
    bench.must(want.CorrectAnswer("Rolf", "", "tension", "152", "misread"))
    pull = [e for e in bench.events if isinstance(e, ev.WorkedOut) and e.name == "pull"][-1]
    assert pull.origins[0] == ("tension", "job ticket, corrected by Rolf")


def test_an_act_with_pieces_that_nobody_has_accepted_reads_as_an_act() -> None:
    bench = at_the_rack()
    step = step_named(bench.procedure, "load")
    assert step is not None
    act, missing = fill_in(bench.state, step.do)
    assert missing == ()
    assert act == "Load the bar: 4 x 5 kg at each end (pieces not accepted yet)."
