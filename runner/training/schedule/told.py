"""An arrangement in words: one document for every format. It says what is proved, what is a bound, and what it cannot know."""

from collections.abc import Iterator

from runner.report.document import Block, Document, Facts, Heading, Note, Picture, Pictures, Table
from runner.training.schedule.arranged import BEST, Arranged, Arrangement, as_data
from runner.training.schedule.chart import lines, minutes, strips_of, svg
from runner.training.schedule.recorded import Recorded

TITLE = "The best order for one person and for two"
PAPER = (
    "This is arithmetic on times, not advice to hurry. It knows states, values, owners, holds and looks; what only the words "
    "of a step say it does not know. It takes no time for a release, a walk or a rest."
)
AS_WRITTEN = (
    "A phase with two lists is arranged as the procedure stands: each list in its order, one person for each, and every order "
    "that the engine's rules allow was compared."
)
SPLIT = (
    "A phase with one list is done by one person at a time, whoever it is. What two could do of it is for a list that would be "
    "split in two, each keeping its order, by people who may both do every step of it: that takes a new revision, which lint "
    "then looks at. Beside a step with a hold, a caution, a wait, a second look or a trouble that stops the run nothing is put."
)
CAUTION = "None of this says that a hold, a look, a wait or a caution may be left out or hurried."


def document(found: Arrangement, known: Recorded) -> Document:
    """The whole answer."""
    procedure = found.procedure
    blocks: list[Block] = [
        Facts(tuple(facts(found, known))), Note(PAPER), Heading("Phases"), phases_table(found),
        Note(AS_WRITTEN), Note(SPLIT), Heading("Chart"), picture(found, known), *orders(found),
    ]  # fmt: skip
    running = f"{procedure.id}, revision {procedure.revision}, text {procedure.digest[:12]}"
    data = {**as_data(found), "recorded": {"runs": known.runs, "stopped_s": known.stood}}
    return Document(f"{TITLE}: {procedure.title}", tuple(blocks), data, caution=CAUTION, running=running)


def facts(found: Arrangement, known: Recorded) -> Iterator[tuple[str, str]]:
    """What it comes to."""
    procedure = found.procedure
    yield "Procedure", f"{procedure.id}, revision {procedure.revision}"
    yield "Times of steps", "; ".join(f"{count} {origin}" for origin, count in found.taken.counts())
    for what, words in (("one", "One person"), ("comes", "As written"), ("two", "Two people at best")):
        yield (
            words,
            f"{minutes(found.total(what))} min, of which the press stands {minutes(found.total(what, 'stopped'))} min",
        )
    if any(one.said != BEST for one in found.phases):
        yield "No plan is shorter than", f"{minutes(found.total('bound'))} min"
    if known.stood is not None:
        yield (
            "Recorded",
            f"the press stands {minutes(known.stood)} min (median of {known.runs} runs, last good to first good)",
        )
    if found.sometimes:
        yield "Counted, though they do not always come", ", ".join(found.sometimes)
    if found.left_out:
        yield "Not counted, as asked", ", ".join(found.left_out)
    if found.stuck:
        yield "Not looked at", f"what follows on {found.stuck}: no order of its steps was found"


def phases_table(found: Arrangement) -> Table:
    """A line for each phase, in minutes."""
    rows = tuple(
        (
            one.phase, one.press, str(one.lists), minutes(one.one_s) if one.one else "none", minutes(one.comes_s),
            minutes(one.two_s), one.said if one.said == BEST else f"{one.said}: {minutes(one.bound_s)}",
        )
        for one in found.phases
    )  # fmt: skip
    heads = ("Phase", "Press", "Lists", "One person", "As written", "Two at best", "How good that is")
    return Table("Minutes of each phase", heads, rows, numeric=frozenset({2, 3, 4, 5}))


def picture(found: Arrangement, known: Recorded) -> Pictures:
    """The chart, with what it shows in words."""
    strips = strips_of(found, known.chain)
    said = f"As written {minutes(found.total('comes'))} min, two people at best {minutes(found.total('two'))} min" + (
        f", chain of the newest run {minutes(known.chain[-1].end)} min." if known.chain else "."
    )
    caption = "Who does what when; person 2 of a phase with one list only where it would be split"
    return Pictures((Picture(caption, svg(strips, "Chart of the arrangement", said), lines(strips)),))


def orders(found: Arrangement) -> Iterator[Block]:
    """The plans that are better than what is written, or that say which list waits."""
    shown = [one for one in found.phases if one.two and (one.lists > 1 or one.two_s < one.comes_s - 0.5)]
    if shown:
        yield Heading("Best orders for two people")
    for one in shown:
        yield order_table(one)


def order_table(one: Arranged) -> Table:
    """A plan, step by step."""
    rows = tuple(
        (minutes(step.start), minutes(step.end), str(step.person + 1), f"{step.number} {step.step}", step.by)
        for step in sorted(one.two, key=lambda step: (step.start, step.person))
    )
    kind = "as its lists stand" if one.lists > 1 else "if its list were split"
    heads = ("From min", "To min", "Person", "Step", "Role")
    return Table(f"{one.phase}, {kind}: {minutes(one.two_s)} min", heads, rows, numeric=frozenset({0, 1}))
