"""What a list of runs shows of a journal without reading all of it: people, job, and the place of an open run."""

from dataclasses import replace
from pathlib import Path

from runner.engine import events as ev
from runner.record.store import summarise
from tests.record.sample import Action, actions, begun, content, moment


def glance(folder: Path, done: list[Action], tail: bytes = b"") -> tuple[str, str, str]:
    """People, job and place of a journal of these actions."""
    path = folder / "20261125-0800-k7m2.journal"
    path.write_bytes(content(done) + tail)
    found = summarise(str(path))
    assert found is not None
    return found.people, found.job, found.place


def test_people_and_job_come_from_the_first_action(tmp_path: Path) -> None:
    assert glance(tmp_path, actions(1))[:2] == ("Ada, Ben", "1250 mm")


def test_the_place_is_that_of_the_newest_step_and_only_of_an_open_run(tmp_path: Path) -> None:
    assert glance(tmp_path, actions(3))[2] == ""
    whole = actions(3, end=False)
    assert glance(tmp_path, whole)[2] == "done 2.3"  # 2.3 done, then a step that does not apply
    assert glance(tmp_path, whole[:-1])[2] == "begun 2.3"
    assert glance(tmp_path, whole[:1])[2] == ""


def test_what_follows_the_step_in_the_journal_does_not_hide_it(tmp_path: Path) -> None:
    noted: list[Action] = [
        (ev.ExceptionNoted("Ada", moment(200 + at), at, "other", "note", "a draught " * 40, "", "", False),)
        for at in range(1, 300)
    ]
    assert glance(tmp_path, [*actions(3, end=False), *noted])[2] == "done 2.3"
    assert glance(tmp_path, [*actions(3, end=False), *noted, *noted])[2] == "on"  # further back nobody looks


def test_zeros_behind_the_end_and_a_torn_line_are_passed_over(tmp_path: Path) -> None:
    assert glance(tmp_path, actions(2, end=False), b"\0" * 70_000)[2] == "done 2.2"
    assert glance(tmp_path, actions(2, end=False), b'300 0123 {"event":"step-begun"')[2] == "done 2.2"


def test_a_crew_with_one_person_twice_or_nobody_names_each_once(tmp_path: Path) -> None:
    crew = (("unwind", "Ada"), ("rewind", "Ada"), ("lead", ""))
    assert glance(tmp_path, [(replace(begun(), crew=crew),)])[0] == "Ada"
