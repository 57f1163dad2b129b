"""Plain mode: the same run line by line, with everything the screen has."""

from collections.abc import Iterator

from runner.engine import events as ev
from runner.engine.intents import Refusal, Wanted
from runner.screen import words
from runner.screen.desk import Begin
from runner.screen.keys import KEYS, LESSON, MOVES, SIGHT
from runner.screen.plain import run_plain, run_plain_start
from tests.screen.bench import CREW, INPUTS, MemoryRun, compiled

WHOLE = """
begin
done
begin
done
read
hold
S. Lind
1
tick
release
begin
done
begin
6.2
no
done
begin
done
begin
all
done
begin
done
other
begin
square
second
S. Lind
1
done
begin
LATER
done
finish
leave
"""
"""A whole run by words alone."""


class Lines:
    """Answers from a text; a dot is Enter alone, LATER lets ten seconds pass."""

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
    assert "04HM-ASW9-NF6Y-Y093-B" in lines.text


def test_what_is_written_before_the_first_page_fits_the_width() -> None:
    _, lines, _ = played("begin")
    before = lines.text.partition("LIVE RUN")[0].split("\n")
    assert words.AID[:20] in before[0]
    assert len(before) > 4, "the cautions take several lines"
    assert all(len(line) <= 79 for line in before)


def test_the_end_of_the_input_pauses_and_leaves() -> None:
    run, lines, outcome = played("begin\ndone")
    assert outcome == "open"
    assert run.state.halted == "pause"
    assert "stays open" in lines.text


def test_every_command_of_the_table_is_listed_by_a_question_mark_somewhere() -> None:
    _, lines, _ = played(
        "?\nbegin\ndone\nbegin\ndone\n?\nread\nhold\nS. Lind\n1\n2\n?\nback\nback\nsteps\n?\nback\nvalues\n?"
    )
    for key in KEYS:
        if key.word not in ("go", "side") and key.action not in (*SIGHT, *LESSON):
            assert f" {key.word} " in lines.text, key.word
    assert len(MOVES) == 4


def test_words_are_commands_but_never_answers_where_a_number_is_asked() -> None:
    run, lines, _ = played("begin\ndone\nnonsense\n12")
    assert "no command here" in lines.text
    assert "nothing to pick here" in lines.text
    assert run.count(ev.StepDone) == 1


def test_where_any_words_are_an_answer_a_command_begins_with_a_slash() -> None:
    run, _, _ = played("pause\n1\npause\n")
    assert run.state.intention == "pause"
    run, _, _ = played("pause\n1\n/back\n/back\nsafe")
    assert run.state.halted == "make-safe"


def test_after_a_resume_only_the_number_of_what_is_seen_puts_a_look_down() -> None:
    before = "begin\ndone\nbegin\ndone\npause\n1\nfetch the sling\nresume\n1"
    run, lines, _ = played(f"{before}\n.\n.\ngo\nsame\n.\ngo")
    assert len(run.state.unconfirmed) == 3
    assert "what do you see?" in lines.text
    assert "it was stopped" not in lines.text
    run, lines, _ = played(f"{before}\n1\n2")
    assert [event.value for event in run.events if isinstance(event, ev.StateSeen)] == ["stopped", "closed"]
    assert "You confirm: drive stopped, as it was before." in lines.text
    assert "it was open before" in lines.text


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
    lines = Lines(first, "read\nN. Petrov\nT. Oduya\n/go\n1250\n1 m\nkraft paper\nbegin\nbegin")
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


def test_a_held_enter_passes_nothing() -> None:
    run, lines, _ = played("\n".join(["."] * 200))
    assert run.count(ev.StepBegun) == 0
    assert lines.written.count("[type begin; ? lists commands] > ") > 200
    for start in ("begin", "begin\ndone\nbegin\ndone", "begin\ndone\nbegin\ndone\nread\nhold\nS. Lind\n1\n2"):
        quiet, _, _ = played(start)
        held, _, _ = played(start + "\n." * 50)
        assert [type(event) for event in held.events] == [type(event) for event in quiet.events]


def test_an_act_is_taken_by_its_own_word_only() -> None:
    run, lines, _ = played("done\ngo\nread")
    assert run.count(ev.StepBegun) == 0
    assert "Type begin." in lines.text
    run, _, _ = played("BEGIN\nbegin\nbegin")
    assert run.count(ev.StepBegun) == 1
    assert run.count(ev.StepDone) == 0


def test_a_question_mark_says_what_to_type() -> None:
    _, lines, _ = played("?\nbegin\n?")
    assert "An empty line does nothing" in lines.text
    assert "  begin      begin" in lines.text
    assert "  done       DONE" in lines.text


def test_again_tells_the_page_once_more() -> None:
    _, lines, _ = played("again\nagain")
    assert sum("Set the unwind speed to zero." in text for text in lines.written) == 3


def test_an_empty_answer_that_is_allowed_has_a_word() -> None:
    run, lines, _ = played("pause\n1\n.\n.\n/go")
    assert "(/go: leave it empty; commands begin with /)" in lines.text
    assert run.state.halted == "pause"


def test_a_command_word_is_no_name_of_a_releasing_person() -> None:
    run, lines, _ = played("begin\ndone\nbegin\ndone\nread\nhold\npause\nS. Lind\n1\n2\nrelease")
    assert "pause is a command and no name" in lines.text
    assert run.last(ev.HoldReleased).by == "S. Lind"


class Refusing(MemoryRun):
    """Takes nothing more once `refusing` is set; with `breaks` the record is poisoned by the attempt."""

    refusing = False
    breaks = ""

    def submit(self, intent: Wanted) -> tuple[ev.Event, ...] | Refusal:
        """As the record would."""
        if not self.refusing:
            return super().submit(intent)
        self.poisoned = self.breaks
        return Refusal("The disk said no.")


def test_the_end_of_the_input_says_what_became_of_the_pause() -> None:
    for breaks, told in (("", "was not paused"), ("no space left", words.BROKEN)):
        run = Refusing(compiled())
        run.refusing, run.breaks = True, breaks
        lines = Lines(run, "again")
        run_plain(run, lines.ask, lines.written.append)
        assert "The run is paused" not in lines.text
        assert told in lines.text


def test_one_of_a_thing_is_one() -> None:
    _, lines, _ = played("not\n1\n1\nThe lamp flickers")
    assert "! 1 exception open" in lines.text
