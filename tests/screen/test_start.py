"""Before a run: cautions, crew, the job's values one by one, and the home page."""

from dataclasses import replace

from runner.engine import flow
from runner.engine.events import InputGiven
from runner.engine.intents import Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.screen import words
from runner.screen.desk import Begin
from runner.screen.door import Door, Idle
from runner.screen.mode import DRY
from runner.screen.pages.home import NO_PROCEDURE, HomeLine, HomePage, Listing
from runner.screen.pages.start import StartPage
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, MemoryRun, compiled

Pairs = tuple[tuple[str, str], ...]


class Starting:
    """A person before a run."""

    def __init__(self, crew: Pairs = (), inputs: Pairs = (), mode: str = "live") -> None:
        self.procedure = compiled()
        self.tick = 0.0
        self.mode = mode
        idle = Idle(self.procedure, RunState(flow.start(self.procedure)), "" if mode == "live" else DRY)
        self.shell = Shell(self.now, StartPage(crew, inputs, mode), idle=idle)

    def now(self) -> Moment:
        """By hand."""
        return Moment("2026-11-25T09:40:14.250Z", self.tick, "boot")

    def press(self, *keys: str) -> "Starting":
        """One key a second."""
        for key in keys:
            self.tick += 1
            wanted = self.shell.key(key, key if len(key) == 1 else None)
            if isinstance(wanted, Begin):
                self.shell.began(self.begin(wanted.crew, wanted.inputs))
        return self

    def begin(self, crew: Pairs, inputs: Pairs) -> Door | Refusal:
        """What the command line hands in."""
        return MemoryRun(self.procedure, crew, inputs, self.mode)

    def type(self, *texts: str) -> "Starting":
        """Texts, each with Enter."""
        for text in texts:
            self.press(*text, "enter")
        return self

    def screen(self) -> str:
        """What is on the screen."""
        return "\n".join(text_of(line) for line in self.shell.picture().lines)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_usual_cautions_come_first() -> None:
    text = flat(Starting().screen())
    assert "not a lockout, an interlock or a load limiter" in text.replace("note ", "")
    assert "machine's manual" in text
    assert "identity not verified" in text


def test_crew_and_job_are_asked_one_by_one_and_the_run_begins() -> None:
    person = Starting().press("enter").type("N. Petrov", "T. Oduya", "S. Lind", "1250", "1 m")
    person.press("1", "enter")
    assert "Outer diameter of the new roll: 1 m" in person.screen()
    person.press("enter")
    assert person.shell.run is not None
    assert "1.1" in person.screen()


def test_a_value_that_is_not_allowed_is_refused_in_words_with_the_limits() -> None:
    person = Starting(CREW).press("enter").type("2000")
    assert "outside what the procedure allows (400 to 1300 mm)" in flat(person.screen())
    assert "allowed: 400 to 1300 mm" in person.screen()


def test_an_unusual_value_is_asked_for_again() -> None:
    person = Starting(CREW).press("enter").type("500")
    assert "unusual" in person.screen()
    person.press("enter")
    assert "Outer diameter" in person.screen()


def test_a_decimal_comma_is_asked_about() -> None:
    person = Starting(CREW).press("enter").type("1,25 m")
    assert "1.25" in person.screen()
    assert "Web width" in person.screen()


def test_what_a_job_file_brought_is_shown_to_be_confirmed_and_can_be_changed() -> None:
    person = Starting(CREW, INPUTS).press("enter")
    text = person.screen()
    for part in ("N. Petrov", "Web width: 1250 mm", "Substrate: kraft paper", "BEGIN"):
        assert part in text
    person.press("4", "enter").type("1100").press("enter")
    run = person.shell.run
    assert isinstance(run, MemoryRun)
    given = [event.shown for event in run.events if isinstance(event, InputGiven)]
    assert given[0] == "1100 mm"


def test_each_value_shows_both_its_bands_and_where_it_came_from() -> None:
    person = Starting(CREW, INPUTS)
    page = person.shell.pages[0]
    assert isinstance(page, StartPage)
    person.shell.pages[0] = replace(page, brought=tuple((name, typed, "from night.job.yaml") for name, typed in INPUTS))
    text = flat(person.press("enter").screen())
    assert "Web width: 1250 mm (allowed: 400 to 1300 mm; likely: 900 to 1300 mm; from night.job.yaml)" in text
    assert "Substrate: kraft paper (from night.job.yaml)" in text
    text = flat(person.press("4", "enter").type("1100").screen())
    assert "Web width: 1100 mm (allowed: 400 to 1300 mm; likely: 900 to 1300 mm; typed)" in text
    assert text.count("night.job.yaml") == 2


def test_many_values_are_paged_before_the_run_begins_on_a_small_screen() -> None:
    more = "".join(
        f"  extra_{n}: {{ask: Another width {n}, unit: mm, within: [400, 1300], likely: [900, 1300]}}\n"
        for n in range(12)
    )
    procedure = compiled(change=(("inputs:\n", f"inputs:\n{more}"),))
    given = (*INPUTS, *((f"extra_{n}", "1000 mm") for n in range(12)))
    person = Starting(CREW, given)
    person.procedure = procedure
    person.shell.idle = Idle(procedure, RunState(flow.start(procedure)))
    seen = person.press("enter").screen()
    for _ in range(4):
        assert person.shell.run is None
        if "Another width 11" in person.screen():
            break
        seen += person.press("enter").screen()
    for n in range(12):
        assert f"Another width {n}: 1000 mm" in seen
    person.press("enter")
    assert person.shell.run is not None


def test_a_wrong_value_of_a_job_file_is_asked_for() -> None:
    person = Starting(CREW, (("web_width", "9000"), *INPUTS[1:])).press("enter")
    assert "Web width" in person.screen()
    assert "BEGIN" not in person.screen()


def test_a_dry_run_says_so_before_it_begins() -> None:
    person = Starting(mode="dry")
    assert person.screen().count("DRY RUN") >= 3
    assert person.press("enter").screen().count("DRY RUN") >= 2


def test_the_home_page_lists_unfinished_runs_first_and_gives_what_was_picked() -> None:
    listing = Listing(
        (HomeLine("r/1.journal", "run 1, step 2.1"),),
        (HomeLine("p/change-roll.procedure.yaml", "Change the substrate roll, rev 4 draft"),),
        (HomeLine("r/0.journal", "run 0, finished"),),
    )
    shell = Shell(
        lambda: Moment("2026-11-25T09:40:14.250Z", 0, ""),
        HomePage(listing),
        idle=Idle(NO_PROCEDURE, RunState(flow.start(NO_PROCEDURE))),
    )
    text = "\n".join(text_of(line) for line in shell.picture().lines)
    assert text.index("run 1") < text.index("Change the substrate") < text.index("run 0")
    assert words.AID[:20] in text
    shell.now = lambda: Moment("2026-11-25T09:40:16.250Z", 2, "")
    shell.key("down", None)
    shell.key("down", None)
    shell.now = lambda: Moment("2026-11-25T09:40:18.250Z", 4, "")
    shell.key("enter", "\r")
    assert shell.left is not None
    assert shell.left.choice == ("run", "p/change-roll.procedure.yaml")
