"""What the site file says of a person who acts: may they take the role, and is the PIN theirs.

Asked outside the engine, which is only told whose PIN was right. A wrong PIN becomes an event with the name and never
the PIN; how long no further one is taken goes by the monotonic clock and by what the journal knows of earlier ones.
"""

from dataclasses import replace

from runner.engine import intents as want
from runner.engine.decisions.identity import act_word, wait_after, wait_left
from runner.engine.events import PinRefused, SiteRead
from runner.engine.intents import AnyIntent, Refusal
from runner.engine.moment import Moment, seconds_words
from runner.engine.shown import role_label
from runner.engine.state import DONE_BY, REVIEWER, RunState, name_key
from runner.procedure.model import Procedure
from runner.procedure.qualified import may_do
from runner.procedure.site import Site, may_take
from runner.say.text import say


def of_site(site: Site, procedure: Procedure, intent: want.BeginRun, now: Moment) -> want.BeginRun:
    """The intent to begin, with what the run pins of the site: its people in live runs of people alone."""
    intent = replace(intent, facts=site.facts)
    if intent.mode != "live" or intent.played:
        return intent
    intent = replace(intent, told=unqualified(site, procedure, intent, now))
    return replace(intent, site_people=tuple(person.name for person in site.people), unknown=site.unknown)


def site_changed(site: Site | None, state: RunState, now: Moment) -> tuple[SiteRead, ...]:
    """What the site file says now of lifting gear and shifts, where that is not on record yet; the pieces stay those of
    the beginning."""
    if site is None or state.outcome:
        return ()
    facts = site.facts._replace(pieces=state.site.pieces)
    return (SiteRead("", now, *facts),) if facts != state.site else ()


def role_refusal(site: Site, procedure: Procedure, intent: AnyIntent, now: Moment) -> Refusal | None:
    """Refused at once where somebody takes a role that the site does not give them, or is not qualified."""
    if isinstance(intent, want.DisposeExceptions | want.SignRun):
        return reviewer_refusal(site, procedure, intent, now)
    taken, day = roles_taken(intent), now.utc[:10]
    reasons = [may_take(site, procedure.id, role, role_label(procedure, role), name, day) for role, name in taken]
    if site.needs_qualification == "refuse":
        names = dict.fromkeys(name.strip() for _, name in taken)
        reasons += [may_do(name, procedure, site.register, day) for name in names]
    against = tuple(reason for reason in reasons if reason)
    if not against:
        return None
    return Refusal(against[0]) if len(against) == 1 else Refusal(say("The roles cannot be taken so."), against)


def roles_taken(intent: AnyIntent) -> tuple[tuple[str, str], ...]:
    """(role, name) of each role that an intent gives to somebody."""
    match intent:
        case want.BeginRun():
            return tuple((role, name) for role, name in intent.crew if name.strip())
        case want.SignOn():
            return ((intent.role, intent.by),)
        case want.HandOver():
            return ((intent.role, intent.to),)
        case _:
            return ()


def unqualified(
    site: Site | None, procedure: Procedure, intent: AnyIntent, now: Moment
) -> tuple[tuple[str, str, str], ...]:
    """(role, name, why) of those who take a role without standing in the register, where the site wants it told."""
    if site is None or site.needs_qualification != "tell":
        return ()
    said = [
        (role, name.strip(), may_do(name.strip(), procedure, site.register, now.utc[:10]))
        for role, name in roles_taken(intent)
    ]
    return tuple(row for row in said if row[2])


def reviewer_refusal(
    site: Site, procedure: Procedure, intent: want.DisposeExceptions | want.SignRun, now: Moment
) -> Refusal | None:
    """Refused where the site does not have a person as the one who reviews; what was done is signed in any role."""
    if isinstance(intent, want.SignRun) and intent.meaning == DONE_BY:
        return None
    label = role_label(procedure, REVIEWER)
    if site.person(intent.by) is None:
        return Refusal(
            say(
                "{name} is not in the site file; a run is reviewed by one of its people ({label}).",
                name=intent.by.strip(),
                label=label,
            )
        )
    against = may_take(site, procedure.id, REVIEWER, label, intent.by, now.utc[:10])
    return Refusal(against) if against else None


def checked(
    site: Site | None, state: RunState, intent: AnyIntent, name: str, pin: str, opened: Moment, now: Moment
) -> PinRefused | Refusal | None:
    """None where the PIN is the person's; else the wrong try as it is to be kept, or why no PIN is taken now."""
    person = site.person(name) if site is not None else None
    if person is None:
        where = say("There is no site file here") if site is None else say("{name} is not in the site file", name=name)
        return Refusal(say("{where}, so no PIN can be checked. Leave, and resume with --site FILE.", where=where))
    wrong = state.wrong_pins.get(name_key(name))
    left = wait_left(wrong, opened, now)
    if left > 0:
        return Refusal(
            say(
                "Too many wrong PINs for {name}: {time} to go before the next try.",
                name=person.name,
                time=seconds_words(left),
            )
        )
    from runner.record.pins import fits

    if fits(pin, person.pin):
        return None
    tries = 1 + (wrong.tries if wrong is not None else 0)
    step = getattr(intent, "step", "")
    return PinRefused("", now, person.name, act_word(intent), step, tries, wait_after(tries))


def wrong_pin(refused: PinRefused) -> Refusal:
    """What is said after a wrong PIN."""
    told = say("That is not the PIN of {name}; it is on record.", name=refused.name)
    if refused.wait_s:
        time = seconds_words(refused.wait_s)
        told += " " + say("The next try for {name} is taken in {time}.", name=refused.name, time=time)
    return Refusal(told)
