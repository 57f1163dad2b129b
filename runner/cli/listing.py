"""What the home page lists: unfinished runs with their place, what is still open at a press, procedures, scenarios, records.

Records, and the exceptions that they left open, come from the index where it still fits them, and from the journals else.
"""

import os
from typing import TYPE_CHECKING

from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.procedure.model import Procedure
from runner.record.store import Store, Summary
from runner.say.text import say

if TYPE_CHECKING:
    from runner.record.still_open import StillOpen
    from runner.screen.pages.home import HomeLine, Listing


TITLE = 32
"""Signs of a run's title that are listed, so that place, time and people have room on a narrow terminal."""


def listing_of(folder: str, store: Store, blocks: tuple[str, ...] = ()) -> "Listing":
    """What there is to pick; `blocks` are the severities that block by the site."""
    from runner.cli.records import index_of
    from runner.record.index.look import look, newest
    from runner.record.left_behind import from_text
    from runner.record.still_open import open_in
    from runner.screen.pages.home import Listing

    rows = look(store, index_of(store), "")
    left = ((kept.summary.path, from_text(kept.left)) for kept in rows if kept.left and kept.path.startswith("live/"))
    found = [kept.summary for kept in rows]
    unfinished = tuple(summary for summary in found if not summary.outcome)
    ended = newest((summary for summary in found if summary.outcome), len(found))
    return Listing(
        tuple(run_line(summary) for summary in unfinished),
        procedures_in(folder),
        tuple(run_line(summary) for summary in ended),
        tuple(
            open_line(one) for one in sorted(open_in(left, severities=blocks), key=lambda one: not one.left.blocking)
        ),
        scenarios_in(folder),
    )


def run_line(summary: Summary) -> "HomeLine":
    """A run in one line: what, how far or how it ended, when, who."""
    from runner.record.shared.address import is_kept
    from runner.screen.pages.home import HomeLine

    modes = [] if summary.mode == "live" else [say("DRY RUN")]
    modes += [say("PLAYED")] if summary.played else []
    title = summary.title if len(summary.title) <= TITLE else f"{summary.title[: TITLE - 2].rstrip()}.."
    if summary.words:
        parts = [*modes, summary.run, say(summary.words)]
    elif summary.outcome:
        parts = [*modes, title, say(summary.outcome), when(summary.last), summary.people]
    else:
        since = say("since {time}", time=when(summary.began)[5:])
        joins = [say("you join it")] if is_kept(summary.path) else []  # it is open at another terminal
        parts = [*modes, title, *joins, place_words(summary.place), since, summary.people]
    find = " ".join((summary.title, summary.run, summary.procedure, summary.job, summary.began[:10], summary.last[:10]))
    return HomeLine(summary.path, "; ".join(part for part in parts if part), find)


def place_words(place: str) -> str:
    """Where an open run stands, from a summary's `begun 2.4`."""
    word, _, number = place.partition(" ")
    if word == "on":
        return say("under way")
    if not number:
        return say("before its first step")
    if word == "begun":
        return say("at step {number}", number=number)
    return say("after step {number}", number=number)


def when(utc: str) -> str:
    """Date and time to the minute, UTC."""
    return utc[:16].replace("T", " ")


def open_line(one: "StillOpen") -> "HomeLine":
    """An exception in one line: whether it blocks, what, at which press, since when."""
    from runner.screen.pages.home import HomeLine

    left = one.left
    heavy = say("BLOCKS") if left.blocking else say(left.severity)
    words = f"{heavy}: {left.words.rstrip('.')}; {one.equipment}; {when(left.at)}"
    return HomeLine(one.path, words, f"{left.run} {left.title} {left.by} {left.kind} {left.severity}")


def procedures_in(folder: str) -> "tuple[HomeLine, ...]":
    """The procedures of a folder, or the one that is named, each with its title, revision and status."""
    from runner.procedure.compile import compile_procedure
    from runner.screen.pages.home import HomeLine

    found = []
    names = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
    paths = [os.path.join(folder, name) for name in names if name.endswith(".procedure.yaml")]
    for path in [folder] if os.path.isfile(folder) else paths:
        name, text = os.path.basename(path), read_text(path)
        if isinstance(text, Unreadable):
            continue
        procedure = compile_procedure(text, path, fetch_beside(path)).procedure
        if procedure is None:
            found.append(HomeLine(path, f"{name}; {say('has faults; lint it')}", name))
        else:
            find = f"{name} {procedure.id} {procedure.equipment}"
            found.append(HomeLine(path, f"{procedure.title}; {stands(procedure)}", find))
    return tuple(found)


def scenarios_in(folder: str) -> "tuple[HomeLine, ...]":
    """The scenarios of a folder and of the folders in it, each with its title and procedure; the title tells no fault."""
    from runner.procedure.scenarios.reading import read_scenario
    from runner.screen.pages.home import HomeLine

    inside = sorted(entry.path for entry in os.scandir(folder) if entry.is_dir()) if os.path.isdir(folder) else []
    paths = [
        os.path.join(place, name)
        for place in ([folder, *inside] if os.path.isdir(folder) else [])
        for name in sorted(os.listdir(place))
        if name.endswith(".scenario.yaml")
    ]
    found = []
    for path in paths:
        name, text = os.path.basename(path), read_text(path)
        if isinstance(text, Unreadable):
            continue
        scenario = read_scenario(text, path).scenario
        if scenario is None:
            found.append(HomeLine(path, f"{say('DRY RUN')}; {name}; {say('has faults; lint it')}", name))
        else:
            words = f"{say('DRY RUN')}; {name.removesuffix('.scenario.yaml')}; {scenario.title}; {scenario.procedure}"
            found.append(HomeLine(path, words, f"{name} {scenario.id}"))
    return tuple(found)


def stands(procedure: Procedure) -> str:
    """Revision and status."""
    return say("revision {revision}  {status}", revision=procedure.revision, status=say(procedure.status))
