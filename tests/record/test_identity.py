"""Who acts, where there is a site file: PINs at the one door to a run, wrong ones kept and slowed, roles judged at once."""

from dataclasses import replace
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.identity import act_word, crew_words, speakers, wait_after
from runner.engine.evolve import replay
from runner.engine.intents import Refusal, WithPin
from runner.engine.moment import Moment
from runner.procedure.site import Person, Site
from runner.record.clock import SteppedClock
from runner.record.pins import hash_of
from runner.record.run import Run
from runner.record.store import Store
from runner.report.contents.people import identity_words
from tests.record.test_run import PROCEDURE, begin_intent, on_disk

UMA, LENA = "2468", "1357"
PEOPLE = (
    Person("Uma", ("unwind",), hash_of(UMA), None),
    Person("Lena", ("lead", "unwind"), hash_of(LENA), (("lift", "2099-12-31"),)),
    Person("Olle", ("lead",), hash_of("9999x"), (("lift", "2020-01-01"),)),
)
SITE = Site(PEOPLE, "refused")
OPEN_SITE = Site(PEOPLE[:1], "allowed")


def begun(folder: Path, clock: SteppedClock, site: Site | None = SITE, mode: str = "live") -> Run:
    run = Run.begin(Store(str(folder)), PROCEDURE, begin_intent(mode=mode), clock, site=site)
    assert isinstance(run, Run), run
    return run


def taken(run: Run, intent: want.AnyIntent, *pins: tuple[str, str]) -> tuple[ev.Event, ...]:
    events = run.submit(WithPin(intent, pins) if pins else intent)
    assert not isinstance(events, Refusal), events
    return events


def refused(run: Run, intent: want.AnyIntent, *pins: tuple[str, str]) -> Refusal:
    refusal = run.submit(WithPin(intent, pins) if pins else intent)
    assert isinstance(refusal, Refusal), refusal
    return refusal


def to_the_hold(run: Run) -> None:
    taken(run, want.BeginStep("Uma", "off"), ("Uma", UMA))
    for intent in (
        want.EndStep("Uma", "off"), want.BeginStep("Uma", "open"), want.EndStep("Uma", "open"),
        want.ReadCautions("Uma", "lift"),
    ):  # fmt: skip
        taken(run, intent)


RELEASE = want.ReleaseHold("Lena", "lift", ("Drop zone is clear",))


def test_the_first_act_of_each_person_asks_for_their_pin_and_the_next_does_not(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    assert refused(run, want.BeginStep("Uma", "off")).pin_of == "Uma"
    events = taken(run, want.BeginStep("Uma", "off"), ("Uma", UMA))
    given = events[0]
    assert isinstance(given, ev.IdentityGiven)
    assert (given.by, given.act, given.step, given.how) == ("Uma", "begin-step", "off", "verified by PIN")
    assert not any(isinstance(event, ev.IdentityGiven) for event in taken(run, want.EndStep("Uma", "off")))


def test_a_hold_is_released_with_a_pin_each_time_and_no_other_persons_pin_does(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)
    assert refused(run, RELEASE).pin_of == "Lena"
    assert "not the PIN of Lena" in refused(run, RELEASE, ("Lena", UMA)).reason
    assert refused(run, RELEASE, ("Uma", UMA)).pin_of == "Lena"
    assert run.state.record("lift").hold != "released"
    taken(run, RELEASE, ("Lena", LENA))
    assert run.state.record("lift").released_by == "Lena"
    taken(run, want.LookAt("Uma", "guard", "closed"))  # what the release stood on has changed: it is revoked
    taken(run, want.LookAt("Uma", "guard", "open"))
    assert refused(run, RELEASE).pin_of == "Lena"


def test_an_intent_that_claims_to_be_verified_is_not_believed(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    assert refused(run, want.BeginStep("Uma", "off", verified=("Uma",))).pin_of == "Uma"


def test_what_is_wrong_besides_the_pin_is_said_before_a_pin_is_asked_for(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)
    for intent in (replace(RELEASE, by="Uma"), replace(RELEASE, confirmed=())):
        refusal = refused(run, intent)
        assert refusal.pin_of == ""


def test_no_pin_stands_in_the_record_and_every_wrong_try_does(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)
    refused(run, RELEASE, ("Lena", "86420"))
    taken(run, RELEASE, ("Lena", LENA))
    (wrong,) = (event for event in on_disk(run) if isinstance(event, ev.PinRefused))
    assert (wrong.name, wrong.act, wrong.step, wrong.tries) == ("Lena", "release-hold", "lift", 1)
    text = Path(run.path).read_text(encoding="utf-8")
    assert not any(pin in text for pin in ("86420", UMA, LENA, "$argon2"))
    assert UMA not in repr(WithPin(RELEASE, (("Uma", UMA),)))
    assert run.state == replay(PROCEDURE, on_disk(run))


def test_wrong_pins_are_slowed_also_after_the_program_was_started_again(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begun(tmp_path, clock)
    act = want.BeginStep("Uma", "off")
    for _ in range(3):
        refused(run, act, ("Uma", "0000x"))
    assert "5 s to go" in refused(run, act, ("Uma", UMA)).reason
    clock.advance(3)
    run.close()
    again = Run.resume(run.path, clock, site=SITE)
    assert isinstance(again, Run)
    resume = want.Resume("Uma")
    assert "2 s to go" in refused(again, resume, ("Uma", UMA)).reason
    clock.advance(2)
    taken(again, resume, ("Uma", UMA))
    assert not again.state.wrong_pins


def test_after_another_boot_the_whole_wait_runs_again(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begun(tmp_path, clock)
    for _ in range(3):
        refused(run, want.BeginStep("Uma", "off"), ("Uma", "0000x"))
    run.close()
    other = SteppedClock(boot="another")
    again = Run.resume(run.path, other, site=SITE)
    assert isinstance(again, Run)
    other.advance(4)
    assert "1 s to go" in refused(again, want.Resume("Uma"), ("Uma", UMA)).reason
    other.advance(1)
    taken(again, want.Resume("Uma"), ("Uma", UMA))


def test_the_wait_of_one_name_holds_up_nobody_else(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)
    for _ in range(5):
        refused(run, RELEASE, ("Lena", "0000x"))
    taken(run, want.LookAt("Uma", "drive", "stopped"))
    assert refused(run, want.HandOver("Uma", "unwind", "Lena", "guard open")).pin_of == "Lena"


def test_the_wait_grows_from_nothing_to_five_minutes_and_no_further() -> None:
    assert [wait_after(tries) for tries in range(1, 11)] == [0, 0, 5, 10, 20, 40, 80, 160, 300, 300]
    assert wait_after(10**9) == 300


@pytest.mark.parametrize(
    "intent",
    [
        want.MakeSafe("Uma"),
        want.Pause("Uma", "lift"),
        want.NoteException("Uma", "", "other", "note", "a smell"),
        want.Abandon("Uma", "no roll"),
    ],
    ids=lambda intent: type(intent).__name__,
)
def test_stopping_pausing_noting_and_abandoning_wait_for_no_pin(tmp_path: Path, intent: want.AnyIntent) -> None:
    taken(begun(tmp_path, SteppedClock()), intent)


def test_after_an_interruption_everybody_says_anew_who_they_are(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)
    taken(run, RELEASE, ("Lena", LENA))
    taken(run, want.Pause("Uma", "lift"))
    assert refused(run, want.Resume("Lena")).pin_of == "Lena"
    taken(run, want.Resume("Lena"), ("Lena", LENA))
    assert run.state.recognised == ("lena",)
    assert refused(run, want.LookAt("Uma", "guard", "open")).pin_of == "Uma"


def test_who_lacks_the_role_is_told_at_once(tmp_path: Path) -> None:
    other = replace(begin_intent(), crew=(("unwind", "Olle"), ("lead", "Uma")))
    refusal = Run.begin(Store(str(tmp_path)), PROCEDURE, other, SteppedClock(), site=SITE)
    assert isinstance(refusal, Refusal)
    assert [words.split(" by the")[0] for words in refusal.missing] == [
        "Olle is not Operator, unwind side (unwind)", "Uma is not Shift lead (lead)",
    ]  # fmt: skip
    assert list(tmp_path.iterdir()) == []


def test_who_is_no_longer_qualified_does_not_sign_on(tmp_path: Path) -> None:
    crew = replace(begin_intent(), crew=(("unwind", "Uma"),))
    run = Run.begin(Store(str(tmp_path)), PROCEDURE, crew, SteppedClock(), site=SITE)
    assert isinstance(run, Run)
    assert "until 2020-01-01" in refused(run, want.SignOn("Olle", "lead"), ("Olle", "9999x")).reason
    assert "Shift lead" in refused(run, want.SignOn("Uma", "lead")).reason
    assert refused(run, want.SignOn("Lena", "lead")).pin_of == "Lena"
    taken(run, want.SignOn("Lena", "lead"), ("Lena", LENA))


def test_a_name_that_the_site_does_not_know_is_refused_or_allowed_as_it_says(tmp_path: Path) -> None:
    stranger = replace(begin_intent(), crew=(("unwind", "Zoe"), ("lead", "Lena")))
    refusal = Run.begin(Store(str(tmp_path)), PROCEDURE, stranger, SteppedClock(), site=SITE)
    assert isinstance(refusal, Refusal)
    assert refusal.missing == ("Zoe is not in the site file, which takes no other names.",)
    run = begun(tmp_path, SteppedClock(), OPEN_SITE)
    to_the_hold(run)
    events = taken(run, RELEASE)
    assert events[0] == ev.IdentityGiven("Lena", run.now(), "release-hold", "lift", "identity not verified")


def test_a_run_with_pins_goes_on_with_them_alone(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begun(tmp_path, clock)
    run.close()
    again = Run.resume(run.path, clock)
    assert isinstance(again, Run)
    assert refused(again, want.Resume("Uma")).pin_of == "Uma"
    assert "--site FILE" in refused(again, want.Resume("Uma"), ("Uma", UMA)).reason


def test_dry_and_played_runs_and_runs_without_a_site_ask_for_no_pin(tmp_path: Path) -> None:
    for number, (site, mode, played) in enumerate([(SITE, "dry", False), (SITE, "live", True), (None, "live", False)]):
        intent = replace(begin_intent(f"20261125-0800-aaa{number}", mode), played=played)
        run = Run.begin(Store(str(tmp_path)), PROCEDURE, intent, SteppedClock(), site=site)
        assert isinstance(run, Run)
        assert run.state.identity == "identity not verified"
        taken(run, want.BeginStep("Uma", "off"))
        assert not any(isinstance(event, ev.IdentityGiven) for event in on_disk(run))


def test_the_record_says_not_verified_until_all_who_acted_were(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock())
    to_the_hold(run)

    def said() -> str:
        return identity_words(list(enumerate(on_disk(run), 1)))

    assert said() == "verified by PIN: Uma; identity not verified: Lena"
    assert crew_words(run.state) == "identity not verified: Lena"
    taken(run, RELEASE, ("Lena", LENA))
    assert said() == crew_words(run.state) == "verified by PIN"


def test_an_agreement_takes_the_pin_of_the_one_who_agrees_and_of_the_one_who_works() -> None:
    left_out = want.LeaveOut("Uma", "wipe", "done before", "Lena", at=Moment("", 0.0, ""))
    assert speakers(left_out) == (("Uma", False), ("Lena", True))
    assert speakers(want.HandOver("Uma", "unwind", "Lena", "all")) == (("Lena", True),)
    assert act_word(left_out) == "leave-out"
