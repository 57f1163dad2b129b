"""Rules about names: a thing has one, capitals are explained, and what is carried to the press is on the list.

All are notes. Names are those of the procedure itself: labels of states, rollers, tools, racks. Nothing is known of the press beyond them.
"""

from collections.abc import Iterator
from itertools import pairwise

from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import KINDS_OF_THING, KNOWN_CAPITALS, TOOLS
from runner.lint.words import find_words, singular, words_of
from runner.lint.written import Written
from runner.procedure.finding import Severity


@rule(Severity.NOTE)
def thing_called_otherwise(analysis: Analysis) -> Iterator[Remark]:
    """A text calls a thing by another word than the procedure's own lists do: entry roller for entry idler.

    Why: who looks for an entry roller finds two, or none. One thing has one name, the same as on its plate and on the drawing.
    Source: one name for a thing is informed by ASD-STE100 and HSG48.

    Wrong:
        web_paths:
          unwind_path:
            rollers:
              - {roller: new roll, at: [0 mm, 1000 mm], diameter: 600 mm, pass: over}
              - {roller: entry idler, at: [1000 mm, 1300 mm], diameter: 100 mm, pass: over}
              - {roller: infeed nip, at: [2400 mm, 1300 mm], diameter: 180 mm, pass: over}
        phases:
          - phase: Thread
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the entry roller.}  # here
              - {id: thread, by: unwind, do: Pull the web to the infeed nip., thread: unwind_path}
    Right:
        web_paths:
          unwind_path:
            rollers:
              - {roller: new roll, at: [0 mm, 1000 mm], diameter: 600 mm, pass: over}
              - {roller: entry idler, at: [1000 mm, 1300 mm], diameter: 100 mm, pass: over}
              - {roller: infeed nip, at: [2400 mm, 1300 mm], diameter: 180 mm, pass: over}
        phases:
          - phase: Thread
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the entry idler.}
              - {id: thread, by: unwind, do: Pull the web to the infeed nip., thread: unwind_path}
    """
    known = _names(analysis)
    heads: dict[str, set[str]] = {}
    for first, head in known:
        heads.setdefault(first, set()).add(head)
    firsts: dict[str, set[str]] = {}
    for first, head in known:
        firsts.setdefault(head, set()).add(first)
    for written in analysis.written:
        words = written.words
        for first, head in pairwise(words):
            if first not in heads and head not in firsts and singular(head) not in firsts:
                continue
            head = singular(head)
            meant = "" if (first, head) in known else _meant(first, head, heads, firsts)
            if meant and (at := written.plain.find(f"{first} {head}")) >= 0:
                yield Remark(
                    analysis.in_written(written, at),
                    f"`{first} {head}` is `{meant}` elsewhere in this procedure",
                    "Call it the same everywhere, as its plate does.",
                )


def _names(analysis: Analysis) -> frozenset[tuple[str, str]]:
    """The last two words of every name of two words or more."""
    procedure = analysis.procedure
    texts = [tracked.label for tracked in procedure.states] + [rack.name for rack in procedure.racks]
    texts += [roller.name for rollers in procedure.scope.paths.values() for roller in rollers]
    texts += procedure.tools
    split = [words_of(text) for text in texts]
    return frozenset((words[-2], singular(words[-1])) for words in split if len(words) > 1)


def _meant(first: str, head: str, heads: dict[str, set[str]], firsts: dict[str, set[str]]) -> str:
    """The name that two words come near to: another word of the same kind after the first, or a letter apart; empty for none."""
    for kind in KINDS_OF_THING:
        if head in kind:
            near = [other for other in heads.get(first, ()) if other in kind]
            if len(near) == 1:
                return f"{first} {near[0]}"
    if len(head) > 3 and first in heads:
        for other in sorted(heads[first]):
            if len(other) > 3 and _letter_apart(head, other):
                return f"{first} {other}"
    if len(first) > 4 and head in firsts:
        for other in sorted(firsts[head]):
            if len(other) > 4 and _letter_apart(first, other):
                return f"{other} {head}"
    return ""


def _letter_apart(one: str, other: str) -> bool:
    """Whether two words differ by one letter inside: changed, left out, doubled, or two that changed places."""
    if one == other or one[0] != other[0] or singular(one) == singular(other):
        return False
    if len(one) == len(other):
        unlike = [place for place, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
        if len(unlike) == 2:
            return (
                unlike[1] == unlike[0] + 1 and one[unlike[0]] == other[unlike[1]] and one[unlike[1]] == other[unlike[0]]
            )
        return len(unlike) == 1
    short, long = sorted((one, other), key=len)
    return len(long) == len(short) + 1 and any(long[:at] + long[at + 1 :] == short for at in range(1, len(long) - 1))


@rule(Severity.NOTE)
def capitals_unexplained(analysis: Analysis) -> Iterator[Remark]:
    """A text uses capitals that the procedure explains nowhere.

    Why: the person who joined last week does not know them, and asks nobody with a roll on the crane.
    Source: explained abbreviations are informed by IEC/IEEE 82079-1 (from memory) and HSG48.

    Wrong:
        phases:
          - phase: Stop
            park: after
            steps:
              - {id: stop, by: unwind, do: Set the DSR to zero.}  # here
    Right:
        phases:
          - phase: Stop
            park: after
            steps:
              - {id: stop, by: unwind, do: Set the drive speed regulator (DSR) to zero.}
              - {id: read, by: unwind, do: Read the DSR.}
    """
    found: dict[str, tuple[Written, int]] = {}
    for written in analysis.written:
        if written.text.lower() == written.text[:1].lower() + written.text[1:]:
            continue  # no capital but the first
        for word in written.text.split():
            plain = word.strip(".,;:!?()\"'")
            if 2 <= len(plain) <= 5 and plain.isalpha() and plain.isupper() and plain not in KNOWN_CAPITALS:
                found.setdefault(plain, (written, written.text.find(plain)))
    if not found:
        return
    listed = _listed_words(analysis)
    whole = "\n".join(analysis.texts.values())
    for capitals, (written, at) in found.items():
        if capitals not in listed and f"({capitals})" not in whole and f"{capitals} (" not in whole:
            yield Remark(
                analysis.in_written(written, at),
                f"nothing says what {capitals} stands for",
                f"Write it out where it stands first, with the short form in brackets: ... ({capitals}).",
            )


def _listed_words(analysis: Analysis) -> set[str]:
    """Words that the procedure itself lists as names or answers."""
    procedure = analysis.procedure
    texts = [procedure.equipment, *procedure.tools, *(words for _, words in procedure.people)]
    texts += [text for given in procedure.inputs for text in given.choices]
    texts += [text for tracked in procedure.states for text in (tracked.label, *tracked.of)]
    texts += [roller.name for rollers in procedure.scope.paths.values() for roller in rollers]
    return {word.strip(".,;:") for text in texts for word in text.split()}


@rule(Severity.NOTE)
def tool_not_listed(analysis: Analysis) -> Iterator[Remark]:
    """A step uses a tool that `tools` does not list.

    Why: it is missed with the press open, and it is not counted when the guards are closed.
    Source: support equipment is listed before the work: informed by S1000D procedural data and DOE-STD-1029-92 (both from memory).

    Wrong:
        tools: [Core knife]
        phases:
          - phase: Fit
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the web with the core knife.}
              - {id: tighten, by: unwind, do: Tighten the latch with the torque wrench.}  # here
    Right:
        tools: [Core knife, Torque wrench]
        phases:
          - phase: Fit
            park: after
            steps:
              - {id: cut, by: unwind, do: Cut the web with the core knife.}
              - {id: tighten, by: unwind, do: Tighten the latch with the torque wrench.}
    """
    if not analysis.procedure.tools:
        return
    listed = {singular(word) for tool in analysis.procedure.tools for word in words_of(tool)}
    told: set[str] = set()
    for order in analysis.orders:
        for joint in ("with", "using", "under"):
            at = find_words(order.plain, joint) if joint in order.words else -1
            named = words_of(order.plain[at + len(joint) :])[:4] if at >= 0 else []
            tool = next((word for word in named if word in TOOLS or singular(word) in TOOLS), "")
            if tool and named[0] in ("the", "a", "an") and singular(tool) not in listed | told:
                told.add(singular(tool))
                yield Remark(
                    analysis.in_written(order, order.plain.find(tool, at)),
                    f"`tools` lists no {tool}",
                    "Add it to `tools`, so that it is staged and counted.",
                )


@rule(Severity.NOTE)
def tool_unused(analysis: Analysis) -> Iterator[Remark]:
    """`tools` lists a tool that no text names.

    Why: it is staged, carried and counted for nothing, or the step that needs it does not say so.
    Source: common practice, no source.

    Wrong:
        tools: [Core knife, Torque wrench]  # here
        phases:
          - {phase: Cut, park: after, steps: [{id: cut, by: unwind, do: Cut the web with the core knife.}]}
    Right:
        tools: [Core knife]
        phases:
          - {phase: Cut, park: after, steps: [{id: cut, by: unwind, do: Cut the web with the core knife.}]}
    """
    if not analysis.procedure.tools:
        return
    read = {singular(word) for written in analysis.written for word in written.words}
    for number, tool in enumerate(analysis.procedure.tools):
        head = words_of(tool.partition(" with ")[0])[-1:]
        if head and singular(head[0]) not in read:
            yield Remark(
                analysis.top("tools", number),
                f"no text names the tool '{tool}'",
                "Name it where it is used, or take it off the list.",
            )
