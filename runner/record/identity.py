"""What the site file says of a person who acts: may they take the role, and is the PIN theirs.

Asked outside the engine, which is only told whose PIN was right. A wrong PIN becomes an event with the name and never
the PIN; how long no further one is taken goes by the monotonic clock and by what the journal knows of earlier ones.
"""

from dataclasses import replace

from runner.engine import intents as want
from runner.engine.decisions.identity import act_word, wait_after, wait_left
from runner.engine.events import PinRefused
from runner.engine.intents import AnyIntent, Refusal
from runner.engine.moment import Moment, seconds_words
from runner.engine.shown import role_label
from runner.engine.state import RunState, name_key
from runner.procedure.model import Procedure
from runner.procedure.site import Site, may_take


def of_site(site: Site, intent: want.BeginRun) -> want.BeginRun:
    """The intent to begin, with what the run pins of the site."""
    return replace(intent, site_people=tuple(person.name for person in site.people), unknown=site.unknown)


def role_refusal(site: Site, procedure: Procedure, intent: AnyIntent, now: Moment) -> Refusal | None:
    """Refused at once where somebody takes a role that the site does not give them, or is not qualified."""
    match intent:
        case want.BeginRun():
            taken = tuple((role, name) for role, name in intent.crew if name.strip())
        case want.SignOn():
            taken = ((intent.role, intent.by),)
        case want.HandOver():
            taken = ((intent.role, intent.to),)
        case _:
            return None
    day = now.utc[:10]
    reasons = [may_take(site, procedure.id, role, role_label(procedure, role), name, day) for role, name in taken]
    against = tuple(reason for reason in reasons if reason)
    if not against:
        return None
    return Refusal(against[0]) if len(against) == 1 else Refusal("The roles cannot be taken so.", against)


def checked(
    site: Site | None, state: RunState, intent: AnyIntent, name: str, pin: str, opened: Moment, now: Moment
) -> PinRefused | Refusal | None:
    """None where the PIN is the person's; else the wrong try as it is to be kept, or why no PIN is taken now."""
    person = site.person(name) if site is not None else None
    if person is None:
        where = "There is no site file here" if site is None else f"{name} is not in the site file"
        return Refusal(f"{where}, so no PIN can be checked. Leave, and resume with --site FILE.")
    wrong = state.wrong_pins.get(name_key(name))
    left = wait_left(wrong, opened, now)
    if left > 0:
        return Refusal(f"Too many wrong PINs for {person.name}: {seconds_words(left)} to go before the next try.")
    from runner.record.pins import fits

    if fits(pin, person.pin):
        return None
    tries = 1 + (wrong.tries if wrong is not None else 0)
    step = getattr(intent, "step", "")
    return PinRefused("", now, person.name, act_word(intent), step, tries, wait_after(tries))


def wrong_pin(refused: PinRefused) -> Refusal:
    """What is said after a wrong PIN."""
    wait = f" The next try for {refused.name} is taken in {seconds_words(refused.wait_s)}." if refused.wait_s else ""
    return Refusal(f"That is not the PIN of {refused.name}; it is on record.{wait}")
