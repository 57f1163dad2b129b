"""Whether the register has a person for a procedure as it is now."""

from runner.procedure.model import Change, Procedure
from runner.procedure.qualified import Qualification, may_do
from runner.say.language import spoken
from tests.record.test_run import PROCEDURE

DAY = "2026-11-25"
ENTRY = Qualification("Ana Berg", "lift", 3, "perform", "2026-06-01", "2027-06-01", "Eva Roth")


def revised(*changes: tuple[int, str]) -> Procedure:
    """The procedure `lift` with these changes, (revision, retrain)."""
    rows = tuple(Change(revision, "2026-11-01", "Better.", retrain) for revision, retrain in changes)
    return PROCEDURE._replace(id="lift", revision=max((3, *(row.revision for row in rows))), changes=rows)


def test_who_stands_in_the_register_is_qualified_whatever_the_case_of_the_name() -> None:
    assert may_do(" ana  BERG", revised(), (ENTRY,), DAY) == ""


def test_who_is_not_there_or_only_watched_or_was_only_in_dry_runs_is_not() -> None:
    told = may_do("Olle", revised(), (ENTRY,), DAY)
    assert told.startswith(
        f"The register does not have Olle for {PROCEDURE.title} (lift): the level perform is missing"
    )
    assert "so far: nothing" in told
    assert told.endswith("Somebody else, who saw it, enters it as assessor: changeover qualifications enter.")
    dry = ENTRY._replace(level="simulate")
    assert "perform is missing (so far: simulate)" in may_do("Ana Berg", revised(), (dry,), DAY)
    watched = ENTRY._replace(level="observe")
    assert "perform is missing (so far: observe)" in may_do("Ana Berg", revised(), (watched,), DAY)
    assert "does not have" in may_do("Ana Berg", revised(), (ENTRY._replace(procedure="other"),), DAY)


def test_it_counts_until_its_day_and_without_one_for_good() -> None:
    assert may_do("Ana Berg", revised(), (ENTRY,), "2027-06-01") == ""
    assert "until 2027-06-01 by the register" in may_do("Ana Berg", revised(), (ENTRY,), "2027-06-02")
    assert may_do("Ana Berg", revised(), (ENTRY._replace(until=""),), "2099-01-01") == ""
    renewed = (ENTRY, ENTRY._replace(day="2027-05-30", until="2028-06-01"))
    assert may_do("Ana Berg", revised(), renewed, "2027-06-02") == ""


def test_a_change_asks_for_as_much_as_its_author_says() -> None:
    assert may_do("Ana Berg", revised((4, "none")), (ENTRY,), DAY) == ""
    assert "revision 4 asks for a demonstration" in may_do("Ana Berg", revised((4, "demonstrate")), (ENTRY,), DAY)
    assert "revision 4 was read is not entered" in may_do("Ana Berg", revised((4, "read")), (ENTRY,), DAY)
    read = ENTRY._replace(level="read", revision=4)
    assert may_do("Ana Berg", revised((4, "read")), (ENTRY, read), DAY) == ""
    assert "demonstration" in may_do("Ana Berg", revised((4, "read"), (5, "demonstrate")), (ENTRY, read), DAY)


def test_changes_of_the_revision_that_was_shown_and_of_earlier_ones_ask_for_nothing() -> None:
    assert may_do("Ana Berg", revised((2, "demonstrate"), (3, "demonstrate")), (ENTRY,), DAY) == ""


def test_what_is_missing_is_told_in_the_language_of_the_screen_with_who_can_enter_it() -> None:
    renewed = ENTRY._replace(until="2026-01-01")
    with spoken("de"):
        for told in (
            may_do("Olle", revised(), (), DAY),
            may_do("Ana Berg", revised(), (renewed,), DAY),
            may_do("Ana Berg", revised((4, "demonstrate")), (ENTRY,), DAY),
            may_do("Ana Berg", revised((4, "read")), (ENTRY,), DAY),
        ):
            assert "register" not in told.replace("Register", "")
            assert f"{PROCEDURE.title} (lift)" in told
            assert "changeover qualifications enter" in told
