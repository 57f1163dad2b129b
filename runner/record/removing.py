"""A record that is taken away on purpose, at the end of the time for which it is kept: said in the register, and told from then on.

The register takes no record away and knows nobody: it keeps who said so, when and why, so that a record that is missing
without a word differs from one that somebody answers for. Who may do so is for the site to say.
"""

from collections.abc import Sequence
from contextlib import suppress

from runner.record.disk import DISK, Io
from runner.record.refused import Refused
from runner.record.register import REMOVED, Known, Register
from runner.record.registering import enter, register_at, runs_there

LONGEST = 500
"""Characters of a name, and of a reason."""


def remove(folder: str, runs: Sequence[str], by: str, why: str, utc: str, io: Io = DISK) -> tuple[Known, ...] | Refused:
    """Enter that the records of these runs were taken away; all of them or none. What was entered, once it is on the disk."""
    words = worded(by, "who took it away: --by NAME") or worded(why, "why: --why WORDS")
    if words:
        return Refused(words)
    register = register_at(folder, io)
    if isinstance(register, Refused):
        return register
    if register is None:
        return Refused(f"There is no register of heads in {folder}: nothing there knows of a record.")
    if register.flaw:
        return Refused(
            f"The register is damaged: {register.flaw}. `changeover verify {folder} --rebuild` begins it anew."
        )
    there = runs_there(folder, io)
    found: dict[str, Known] = {}
    for text in runs:
        newest = newest_of(register, text)
        if isinstance(newest, Refused):
            return newest
        if newest.run in there:
            return Refused(
                f"The record of {newest.run} lies at {there[newest.run][0]}. Take it away first, then say so here."
            )
        if newest.kind == REMOVED:
            return Refused(
                f"That the record of {newest.run} was taken away was said already: by {newest.by}, {newest.at}."
            )
        found[newest.run] = Known(
            REMOVED, newest.run, newest.mode, newest.head, newest.count, utc, by=by.strip(), why=why.strip()
        )
    entries = tuple(found.values())
    return enter(folder, entries, io) or entries


def worded(text: str, what: str) -> str:
    """What is wrong with a name or a reason; empty where nothing is."""
    if not text.strip():
        return f"Say {what}."
    if len(text) > LONGEST:
        return f"Say {what}, in {LONGEST} characters or fewer."
    with suppress(UnicodeEncodeError):
        text.encode()
        return ""
    return f"Say {what}, in characters that are text."


def newest_of(register: Register, text: str) -> Known | Refused:
    """The newest line about a run: its id, or the beginning of one that fits one run only."""
    known = register.runs()
    fitting = [text] if text in known else [run for run in known if text and run.startswith(text)]
    if len(fitting) == 1:
        return known[fitting[0]]
    if fitting:
        return Refused(f"{text} fits {len(fitting)} runs that the register knows. Give more of it.")
    return Refused(f"The register does not know a run {text}: that it is not there does not show.")
