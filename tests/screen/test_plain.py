"""Plain mode: the same run line by line, with everything the screen has."""

from collections.abc import Iterator

from runner.engine import events as ev
from runner.screen.desk import Begin
from runner.screen.keys import KEYS, MOVES
from runner.screen.plain import run_plain, run_plain_start
from tests.screen.bench import CREW, INPUTS, MemoryRun, compiled

WHOLE = """
.
.
.
.
.
.
1
2
S. Lind
release
.
.
.
6.2
no
.
.
.
.
all
.
.
.
.
.
square
.
S. Lind
1
.
.
LATER
.
.
"""
"""A whole run: a dot is Enter alone."""


class Lines:
    """Answers from a text; LATER lets ten seconds pass."""

    def __init__(self, run: MemoryRun, text: str) -> None:
        self.run = run
        self.left: Iterator[str] = iter(text.strip().split("\n"))
        self.written: list[str] = []

    def ask(self, question: str) -> str:
        """The next line; the end of the input after the last."""
        self.written.append(question)
        line = next(self.left, None)
        if line == "LATER":
            self.run.tick += 10
            line = next(self.left, None)
        if line is None:
            raise EOFError
        return "" if line == "." else line

    @property
    def text(self) -> str:
        """All that was written and asked."""
        return "\n".join(self.written)


def played(text: str, mode: str = "live") -> tuple[MemoryRun, Lines, str]:
    run = MemoryRun(compiled(), mode=mode)
    lines = Lines(run, text)
    return run, lines, run_plain(run, lines.ask, lines.written.append)


def test_a_procedure_runs_to_its_end_line_by_line() -> None:
    run, lines, outcome = played(WHOLE)
    assert outcome == "finished", lines.text[-1500:]
    assert run.state.outcome == "finished"
    assert "0123 4567" in lines.text


def test_the_end_of_the_input_pauses_and_leaves() -> None:
    run, lines, outcome = played(".\n.")
    assert outcome == "open"
    assert run.state.halted == "pause"
    assert "stays open" in lines.text


def test_every_command_of_the_table_is_listed_by_a_question_mark_somewhere() -> None:
    _, lines, _ = played("?\n.\n.\n.\n.\n?\n.\n.\n?\nback\nsteps\n?\nback\nvalues\n?")
    for key in KEYS:
        if key.word not in ("go", "side"):
            assert f" {key.word} " in lines.text, key.word
    assert len(MOVES) == 4


def test_words_are_commands_but_never_answers_where_a_number_is_asked() -> None:
    run, lines, _ = played(".\n.\nnonsense\n12")
    assert "no command here" in lines.text
    assert "nothing to pick here" in lines.text
    assert run.count(ev.StepDone) == 1


def test_where_any_words_are_an_answer_a_command_begins_with_a_slash() -> None:
    run, _, _ = played("pause\n1\npause\n")
    assert run.state.intention == "pause"
    run, _, _ = played("pause\n1\n/back\n/back\nsafe")
    assert run.state.halted == "make-safe"


def test_a_dry_run_says_so_on_every_page() -> None:
    _, lines, _ = played("values\nback\nsteps", mode="dry")
    pages = [text for text in lines.written if text.startswith("\n")]
    assert pages
    assert all(page.startswith("\nDRY RUN") for page in pages)


def test_the_key_names_of_the_screen_are_words_here() -> None:
    _, lines, _ = played(WHOLE)
    assert "F5" not in lines.text
    assert "`release` releases the hold" in lines.text


def test_crew_and_job_are_asked_and_the_run_begins() -> None:
    first = MemoryRun(compiled())
    lines = Lines(first, ".\nN. Petrov\nT. Oduya\nS. Lind\n1250\n1 m\nkraft paper\n.\n.")
    outcome, run = run_plain_start(
        first.procedure, "live", (), (), lambda crew, inputs: MemoryRun(first.procedure, crew, inputs), first.now,
        lines.ask, lines.written.append,
    )  # fmt: skip
    assert outcome == "open"
    assert run is not None
    assert run.state.record("drive-off").attempt == 1


def test_leaving_before_a_run_began_gives_no_run() -> None:
    first = MemoryRun(compiled())
    lines = Lines(first, "back")

    def never(crew: object, inputs: object) -> MemoryRun:
        raise AssertionError(Begin)

    outcome, run = run_plain_start(
        first.procedure, "live", CREW, INPUTS, never, first.now, lines.ask, lines.written.append
    )
    assert (outcome, run) == ("", None)
