"""The record of a run as a document: what stands in it, in which order, and what it does not pretend to know."""

from dataclasses import replace
from typing import Any

import pytest

from runner.engine import events as ev
from runner.report.contents.run_record import run_record
from runner.report.document import Document, Facts, Heading, Listing, Note, Table, lines_of
from runner.report.formats import FORMATS
from runner.report.verification import Verification
from tests.report import sample
from tests.report.documents import full, plain, without_end
from tests.report.sample import AT, BO, CY, moment


def data_of(document: Document) -> dict[str, Any]:
    assert isinstance(document.data, dict)
    return document.data


def of(entries: sample.Entries) -> Document:
    return run_record(entries, sample.checked(entries), sample.procedure())


def words_of(document: Document) -> str:
    """All texts of a document, a line each."""
    said: list[str] = [document.title, document.mark]
    for block in document.blocks:
        match block:
            case Heading() | Note():
                said.append(block.text)
            case Facts():
                said += [f"{name}: {line}" for name, cell in block.rows for line in lines_of(cell)]
            case Table():
                said += [block.caption, *(line for row in block.rows for cell in row for line in lines_of(cell))]
            case Listing():
                said += block.points
    return "\n".join(said)


def tables(document: Document) -> dict[str, Table]:
    return {block.caption: block for block in document.blocks if isinstance(block, Table)}


def test_the_sample_has_one_of_every_kind_of_event() -> None:
    kinds = {type(event) for _, event in [*sample.full_run(), *sample.plain_run(), *sample.practice_run()]}
    assert kinds == set(ev.EVENTS)


@pytest.mark.parametrize("kind", ev.EVENTS, ids=lambda kind: kind.__name__)
def test_every_kind_of_event_leaves_a_trace(kind: type[ev.Event]) -> None:
    practice = kind in (ev.ScenarioTaken, ev.TrainingNoted)
    entries = sample.practice_run() if practice else sample.plain_run() if kind is ev.Finished else sample.full_run()
    without = [(number, event) for number, event in entries if not isinstance(event, kind)]
    check = sample.checked(entries)
    whole, less = (run_record(some, check, sample.procedure()) for some in (entries, without))
    assert whole.data != less.data
    # the count of events alone is no trace
    assert words_of(whole).replace(f"Events: {len(entries)}", "") != words_of(less).replace(
        f"Events: {len(without)}", ""
    )


def test_exceptions_come_before_everything_else_that_is_to_be_decided() -> None:
    headings = [block.text for block in full().blocks if isinstance(block, Heading)]
    captions = list(tables(full()))
    assert headings[0] == "For the reviewer to decide"
    assert captions[:3] == ["To decide", "Signatures", "To be signed"]
    assert tables(full())["To decide"].rows[0][0] == "Exception"
    assert captions[3] == "Exceptions"
    assert captions.index("Interruptions") < captions.index("Values from the job ticket")


def test_the_caution_comes_before_the_review() -> None:
    kinds = [(type(block), getattr(block, "tone", "")) for block in full().blocks]
    assert kinds.index((Note, "caution")) < kinds.index((Heading, ""))


def test_an_exception_says_whether_it_is_open_and_how_it_was_closed() -> None:
    first, second, third, *_ = data_of(full())["exceptions"]
    assert (first["open"], first["closed"]["words"], first["closed"]["by"]) == (
        False,
        "Crane brake adjusted, lift tried empty",
        CY,
    )
    assert (second["open"], third["open"]) == (True, True)
    assert tables(full())["Exceptions"].marks == {1, 2, 3, 4}


def test_an_answer_out_of_limits_is_followed_to_its_next_entry() -> None:
    out = data_of(full())["answers_out_of_limits"]
    assert [row["shown"] for row in out] == ["61 bar", "7.4 bar"]
    assert out[1]["then"] == "entered again: 6.1 bar, in limits, event 31"


def test_an_answer_out_of_limits_that_ends_in_trouble_says_so() -> None:
    out = sample.answered(
        AT, moment(640), "lift", "load", "Load", "900", "900 kg", 900.0, "kg", "at most 800 kg", "out"
    )
    trouble = ev.TroubleMet(AT, moment(641), "lift", "2.1", "heavy", "Too heavy", "Lower it.", "stop", "")
    rows = data_of(of(sample.numbered([sample.begun_run(), out, trouble])))["answers_out_of_limits"]
    assert rows[0]["then"] == "trouble: Too heavy, event 3"


def test_an_answer_out_of_limits_without_another_entry_is_marked() -> None:
    out = sample.answered(
        AT, moment(640), "lift", "load", "Load", "900", "900 kg", 900.0, "kg", "at most 800 kg", "out"
    )
    document = of(sample.numbered([sample.begun_run(), out]))
    assert tables(document)["Answers out of limits or unlikely, and what came after them"].marks == {0}


def test_a_correction_keeps_the_old_answer() -> None:
    (correction,) = data_of(full())["answers_corrected"]
    assert (correction["old"], correction["shown"], correction["reason"]) == (
        "6.1 bar",
        "6.6 bar",
        "Read the outer scale",
    )
    corrected = [row for row in data_of(full())["answers"] if row["corrected"]]
    assert [row["shown"] for row in corrected] == ["6.1 bar"]


def test_a_state_differs_from_what_it_was_before_an_interruption() -> None:
    guard, crane = data_of(full())["states_looked_at"]
    assert (guard["seen"], guard["before_interruption"], guard["differed"]) == ("closed", "open", True)
    assert crane["differed"] is False


def test_a_second_look_at_a_state_is_held_against_the_first() -> None:
    looks = [
        ev.StateSeen(AT, moment(1), "crane", "free", "unknown"),
        ev.StateSeen(AT, moment(2), "crane", "carrying", "free"),
    ]
    rows = data_of(of(sample.numbered([sample.begun_run(), *looks])))["states_looked_at"]
    assert [row["differed"] for row in rows] == [False, True]


def test_a_revoked_hold_names_its_release() -> None:
    (revoked,) = data_of(full())["holds_revoked"]
    assert revoked["released"]["by"] == CY
    assert revoked["revoked"]["why"] == "unwind guard is no longer open"
    assert len(data_of(full())["holds"]) == 3


def test_a_hold_says_what_was_confirmed_and_what_it_stood_on() -> None:
    last = data_of(full())["holds"][-1]
    assert last["confirmed"] == ["Both chucks are open", "Drop zone is clear"]
    assert last["basis"] == [["unwind drive", "stopped"], ["unwind guard", "open"]]
    assert last["waited_s"] == 14.0


def test_each_attempt_of_a_step_has_its_own_row() -> None:
    lift = next(row for row in data_of(full())["steps"] if row["step"] == "lift")
    assert [attempt["how"] for attempt in lift["attempts"]] == [
        "trouble: The roll swings (gone back to 2.1 lift)",
        "done",
    ]
    assert [attempt["seconds"] for attempt in lift["attempts"]] == [45.0, pytest.approx(270.4)]
    assert lift["status"] == "done"


def test_a_step_that_nothing_happened_to_is_listed_as_to_do() -> None:
    last = data_of(full())["steps"][-1]
    assert (last["step"], last["status"], last["attempts"]) == ("thread-rewind", "to do", [])


def test_pieces_are_given_for_each_end() -> None:
    pieces = data_of(full())["worked_out"][-2]
    assert pieces["ends"] == [[["5", 3], ["2.5", 1]]] * 2
    assert "end 2: 3 × 5, 1 × 2.5" in words_of(full())


def test_pieces_out_of_tolerance_stand_with_who_accepted_them_and_why() -> None:
    table = tables(full())["Pieces out of tolerance that were accepted"]
    (row,) = table.rows
    assert row[1:3] == ("rewind_pieces", "36.7 kg")
    assert row[3][0] == "36 kg"
    assert row[3][2] == "gives 147.1 N/m (wanted 150 N/m, -1.9 %)"
    assert row[4] == "2 % less tension is within what this film stands"
    worked = data_of(full())["worked_out"][-1]
    assert (worked["verdict"], worked["accepted"]["by"]) == ("held", CY)
    assert "OUT OF TOLERANCE, held" in words_of(full())


def test_what_went_in_stands_with_where_it_came_from() -> None:
    assert "rewind_mass: 36.7 kg (worked out)" in words_of(full())


def test_a_value_of_the_job_says_how_it_came_and_what_it_was_corrected_to() -> None:
    width = replace(
        sample.given(CY, moment(1), "web_width", "Web width", "1250", 1.25, "1250 mm", "mm"), origin="job file"
    )
    new = ev.AnswerCorrected(AT, moment(9), "", "web_width", "1250 mm", "1200", "1200 mm", 1.2, 1200.0, "mm", "misread")
    document = of(sample.numbered([sample.begun_run(), width, new]))
    (row,) = tables(document)["Values from the job ticket"].rows
    assert row[1:3] == (("1250", "job file"), ("1250 mm", "corrected to 1200 mm, event 3"))


def test_a_value_that_went_stale_and_came_back_is_told_apart() -> None:
    first, second, *_ = data_of(full())["worked_out"]
    assert (first["status"], second["status"]) == ("worked out again, event 21", "in force")


def test_a_value_that_stays_stale_says_so() -> None:
    back = ev.WentBack(AT, moment(400), "lift", "Wrong roll", ("lift",), ("roll_mass",))
    entries = sample.numbered(
        [sample.begun_run(), sample.roll_mass(moment(3), "7673 m", "767.3 kg", 767.25, "in"), back]
    )
    assert data_of(of(entries))["worked_out"][0]["status"] == "stale since event 3, not worked out again"


def test_interruptions_say_what_was_unconfirmed() -> None:
    pause, safe, ended = data_of(full())["interruptions"]
    assert (pause["kind"], pause["seconds"]) == ("paused", 300.0)
    assert pause["unconfirmed"] == [["unwind guard", "open"], ["crane", "free"]]
    assert (safe["kind"], safe["acts_done"]) == ("stopped and made safe", ["Press the stop"])
    # noted on opening: a tail and a clock step; the gap began at the last event before them
    assert (ended["kind"], ended["seconds"]) == ("program ended", 601.0)
    assert "NOT CONFIRMED: Switch the unwind off" in words_of(full())


def test_phases_add_up_to_the_whole() -> None:
    phases, times = data_of(full())["phases"], data_of(full())["times"]
    assert [row["phase"] for row in phases] == [
        "Before the first step",
        "Make safe",
        "Load the roll",
        "Thread both sides",
    ]
    assert sum(row["seconds"] for row in phases) == times["total_s"] == 2700.0
    assert times["halted_s"] == 300.0 + 240.0 + 601.0
    assert times["press_running_s"] == 40.0
    assert times["press_stopped_s"] == 1500.0 + 1100.0


def test_a_duration_over_a_restart_of_the_machine_is_not_known() -> None:
    entries = [
        (number, replace(event, at=event.at._replace(boot="boot-b", tick=3.0)) if number > 40 else event)
        for number, event in sample.full_run()
    ]
    data = data_of(of(entries))
    assert data["times"]["total_s"] is None
    assert data["times"]["machine_restarts"] == 1
    step = next(row for row in data["steps"] if row["step"] == "core-pressure")
    assert step["attempts"][-1]["seconds"] is None
    assert "In all: not known" in words_of(of(entries))


def test_a_run_without_an_end_says_so() -> None:
    begun = of(sample.open_run())
    assert data_of(begun)["outcome"]["word"] == "open"
    assert "THE RUN IS OPEN" in words_of(begun)
    assert "THE RUN IS OPEN" not in words_of(plain())


def test_a_damaged_record_says_so_and_names_the_line() -> None:
    words = words_of(without_end())
    assert "THE RECORD IS NOT WHOLE. What follows is what could be read of it: up to event 17." in words
    assert "line 18: changed, its hash does not fit" in words


def test_a_damaged_record_does_not_say_that_nothing_happened() -> None:
    # what stands behind the damage may be an end, an exception, anything
    words = words_of(without_end())
    assert data_of(without_end())["outcome"]["word"] == "not known"
    assert "THE RUN IS OPEN" not in words
    assert "None on record" not in words
    assert "None in what could be read of this record" in words


def test_steps_that_were_not_begun_are_counted() -> None:
    assert "Steps not begun: 1, the first is 3b.1 thread-rewind" in words_of(full())
    assert [row["step"] for row in data_of(full())["steps_not_ended"]] == ["thread-unwind"]


def test_a_check_of_other_events_is_noticed() -> None:
    entries = sample.full_run()
    document = run_record(entries, Verification(True, sample.HEAD, len(entries) + 2), sample.procedure())
    assert f"The check read {len(entries) + 2} events, this report {len(entries)}." in words_of(document)


def test_a_procedure_with_another_digest_lends_no_names() -> None:
    entries = sample.full_run()
    other = sample.procedure()._replace(digest="0" * 64)
    document = run_record(entries, sample.checked(entries), other)
    assert "unwind drive" not in words_of(document)
    assert "The pinned procedure was not at hand" in words_of(document)
    assert data_of(document)["run"]["procedure"]["digest"] == sample.DIGEST


def test_a_record_without_any_event_is_still_a_document() -> None:
    document = run_record((), Verification(False, "", 0, ("the journal is empty",)), None)
    assert document.mark == "MODE NOT KNOWN"
    assert all(form.render(document) for form in FORMATS.values())


@pytest.mark.parametrize("kind", ev.EVENTS, ids=lambda kind: kind.__name__)
def test_an_event_alone_is_still_a_document(kind: type[ev.Event]) -> None:
    every = [
        event for _, event in [*sample.full_run(), *sample.plain_run(), *sample.practice_run()] if type(event) is kind
    ]
    document = run_record(sample.numbered(every[:1]), Verification(False, "", 1, ("line 1: no beginning",)), None)
    assert all(form.render(document) for form in FORMATS.values())


@pytest.mark.parametrize(
    ("mode", "played", "status", "mark"),
    [
        ("live", False, "approved", ""),
        ("live", True, "approved", "PLAYED FROM A FILE"),
        ("live", False, "draft", "DRAFT PROCEDURE"),
        ("live", False, "withdrawn", "WITHDRAWN PROCEDURE"),
        ("live", False, "Approved", "PROCEDURE NOT APPROVED"),
        ("dry", False, "approved", "DRY RUN"),
        ("dry", True, "draft", "DRY RUN · PLAYED FROM A FILE · DRAFT PROCEDURE"),
        ("LIVE", False, "approved", "MODE NOT KNOWN"),
        ("live\u200b", False, "approved", "MODE NOT KNOWN"),
        ("", False, "approved", "MODE NOT KNOWN"),
    ],
)
def test_only_a_live_run_of_an_approved_procedure_has_no_mark(mode: str, played: bool, status: str, mark: str) -> None:
    document = of(sample.numbered([sample.begun_run(mode, played, status)]))
    assert document.mark == mark
    assert document.title.startswith(mark)


def test_a_person_who_is_handed_a_role_stands_among_the_people() -> None:
    crew = [(row["person"], row["role"]) for row in data_of(full())["crew"]]
    assert crew == [(AT, "unwind"), (CY, "lead"), (BO, "rewind"), (BO, "unwind")]


def test_a_plain_run_leaves_nothing_to_decide() -> None:
    listing = next(block for block in plain().blocks if isinstance(block, Listing))
    assert len(listing.points) == 1
    assert listing.points[0].startswith("None on record: exceptions, troubles met")
    assert all(not table.marks for table in tables(plain()).values())


def test_a_carried_exception_says_where_it_is_from_who_read_it_and_who_let_work_go_on() -> None:
    words = words_of(full())
    for told in (
        "from run 20261124-131000-qp7d, exception 2 (Recover from a web break)",
        f"read by {AT}",
        f"accepted for this run by {CY} (lead)",
        "Second latch holds",
    ):
        assert told in words
    carried = next(row for row in data_of(full())["exceptions"] if "carried" in row)
    assert (carried["open"], carried["carried"]["run"]) == (True, "20261124-131000-qp7d")


def test_a_carried_exception_that_is_closed_here_says_how() -> None:
    entries = sample.full_run()
    closed = ev.ExceptionClosed(BO, moment(2800), 5, "Latch changed")
    behind = 1 + next(at for at, (_, event) in enumerate(entries) if isinstance(event, ev.ExceptionAccepted))
    with_it = [*entries[:behind], (entries[behind][0], closed), *entries[behind:]]
    carried = next(row for row in data_of(of(with_it))["exceptions"] if "carried" in row)
    assert (carried["open"], carried["closed"]["words"]) == (False, "Latch changed")
