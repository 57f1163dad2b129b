"""Two procedures to all differences: every row over every pair of its subject, then what the head does not tell.

Pure. The same text, in whatever words of YAML and however cut into fragments, gives no difference.
"""

from collections.abc import Iterator

from runner.lint.diff.change import Change, Diff, Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.row import Row
from runner.lint.diff.rows import ROWS
from runner.lint.diff.subjects import SUBJECTS, Pair, Subject
from runner.lint.diff.untold import untold
from runner.procedure.model import Procedure

WEIGHTS = tuple(Weight)

RENAMED = "renamed"
RENAMED_REASON = "Whoever names it elsewhere, in job and answers files or in talk, has to know."


def diff(old: Procedure, new: Procedure) -> Diff:
    """All differences between two procedures."""
    context = Context(old, new)
    found: list[Change] = []
    for subject in SUBJECTS.values():
        rows = [row for row in ROWS if row.subject == subject.name]
        for pair in subject.pairs(context):
            found += renamed(subject, pair)
            for row in rows:
                found += told(row, pair, context)
    place = next(SUBJECTS["procedure"].pairs(context))
    found += [change(kind, one, reason, place) for kind, one, reason in untold(old, new, found)]
    main = new.phases[0].place.path if new.phases else ""
    order = sorted(found, key=lambda one: (WEIGHTS.index(one.weight), *where(one, main)))
    return Diff(words(old), words(new), tuple(dict.fromkeys(order)))


def where(one: Change, main: str) -> tuple[bool, str, int, int]:
    """The place in the new text: the procedure before its fragments."""
    place = one.new_place
    return (False, "", 0, 0) if place is None else (place.path != main, place.path, place.line, place.column)


def told(row: Row, pair: Pair, context: Context) -> Iterator[Change]:
    """What a row finds in a pair."""
    if row.alone or (pair.old is not None and pair.new is not None):
        for found in row.find(pair.old, pair.new, context):
            yield change(row.name, found, row.reason, pair)


def change(kind: str, found: Found, reason: str, pair: Pair) -> Change:
    """A difference with all that is to be told of it."""
    return Change(
        kind, found.weight, pair.title, found.words, reason, found.was, found.now,
        found.old_place or pair.old_place, found.new_place or pair.new_place,
    )  # fmt: skip


def renamed(subject: Subject, pair: Pair) -> Iterator[Change]:
    """A thing of another name."""
    if subject.called is None or pair.old is None or pair.new is None:
        return
    was, now = subject.called(pair.old), subject.called(pair.new)
    automatic = subject.name == "ask" and pair.new.ask.kind in ("thread", "advance", "wait")  # named after its step
    if was and now and was != now and not automatic:
        yield change(RENAMED, Found(Weight.CHANGED, "it is renamed", was, now), RENAMED_REASON, pair)


def words(procedure: Procedure) -> str:
    """A procedure in a few words."""
    return f"{procedure.id}, revision {procedure.revision}, {procedure.status}"
