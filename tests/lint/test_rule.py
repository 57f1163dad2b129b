"""Docstrings become pages, and pages of rules and of the compiler's faults look alike."""

from runner.lint.pages import FILE_FAULTS, entry_of, every_rule, printed
from runner.lint.rule import all_rules, read_page
from runner.procedure.faults import FAULTS

DOC = """A thing is wrong.

    It is said in two lines
    of one paragraph.

    Why: because
    it is: really.
    Source: common practice, no source.

    Wrong:
        a:
          b: 1  # here

    Right:
        a:
          b: 2
    """


def test_a_docstring_is_read_in_its_parts() -> None:
    page = read_page(DOC)
    assert page.what == "A thing is wrong. It is said in two lines of one paragraph."
    assert page.why == "because it is: really."
    assert page.source == "common practice, no source."
    assert page.wrong == "a:\n  b: 1  # here\n"
    assert page.right == "a:\n  b: 2\n"


def test_a_docstring_without_parts_is_all_what() -> None:
    assert read_page("Only this.") == ("Only this.", "", "", "", "")


def test_every_rule_and_every_fault_has_an_entry() -> None:
    of_files = [row.rule for row in FILE_FAULTS]
    assert [entry.id for entry in every_rule()] == [*all_rules(), *FAULTS, *of_files]


def test_a_printed_page_says_everything() -> None:
    entry = entry_of("vague-words")
    assert entry is not None
    page = printed(entry)
    assert page.startswith("vague-words (note)\n\n")
    for part in (
        entry.what,
        entry.why,
        entry.source,
        "Lift the roll slowly",
        "Lift the roll at creep speed",
        "# lint: allow",
    ):
        assert part in page
    assert "No comment silences it." in printed(next(e for e in every_rule() if e.id == "needs-unmet"))


def test_there_is_no_page_for_what_does_not_exist() -> None:
    assert entry_of("no-such-rule") is None
