"""Rules about the comments that allow a finding; they read the comments, after all other rules have spoken."""

from collections.abc import Iterable, Iterator, Mapping

from runner.lint.allow import Allow
from runner.lint.analysis import Analysis
from runner.lint.rule import Remark, Rule, rule
from runner.procedure.finding import Severity


@rule(Severity.WARNING, lasting=True)
def allow_without_reason(analysis: Analysis) -> Iterator[Remark]:
    """A comment allows a finding and gives no reason; it silences nothing.

    Why: the next engineer has to know why it was allowed, to see whether it still holds.
    Source: common practice, no source.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              # lint: allow vague-words  # here
              - {id: lift, by: unwind, do: Lift the roll slowly.}
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              # lint: allow vague-words, the crane has one speed below walking pace
              - {id: lift, by: unwind, do: Lift the roll slowly.}
    """
    yield from without_reason(analysis.allows)


def without_reason(allows: Iterable[Allow]) -> Iterator[Remark]:
    """What there is to say about comments that give no reason."""
    for allow in allows:
        if not allow.reason:
            yield Remark(
                allow.place,
                f"`{allow.rule}` is allowed without a reason, so it is not silenced",
                f"Write `# lint: allow {allow.rule}, ` and the reason.",
            )


@rule(Severity.WARNING, lasting=True)
def allow_unknown_rule(analysis: Analysis) -> Iterator[Remark]:
    """A comment allows a rule that does not exist.

    Why: a slip in the name silences nothing, and looks as if it did.
    Source: common practice, no source.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              # lint: allow vague-word, the crane has one speed below walking pace  # here
              - {id: lift, by: unwind, do: Lift the roll slowly.}
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              # lint: allow vague-words, the crane has one speed below walking pace
              - {id: lift, by: unwind, do: Lift the roll slowly.}
    """
    yield from unknown(analysis.allows, analysis.silenceable)


def unknown(allows: Iterable[Allow], silenceable: Mapping[str, bool]) -> Iterator[Remark]:
    """What there is to say about comments that name no rule."""
    for allow in allows:
        if allow.rule not in silenceable:
            from runner.formula.fault import nearest_name

            close = nearest_name(allow.rule, tuple(silenceable))
            hint = f"Did you mean `{close}`?" if close else "`changeover rules` lists them."
            yield Remark(allow.place, f"there is no rule `{allow.rule}`", hint)


@rule(Severity.WARNING, lasting=True)
def allow_not_possible(analysis: Analysis) -> Iterator[Remark]:
    """A comment allows what no comment may silence: an error, or a rule that keeps people from harm.

    Why: what the press would refuse, or what may hurt somebody, does not go away by a comment.
    Source: overriding by a higher authority only is informed by DOE O 422.1 (from memory).

    Wrong:
        # without make_safe
        # lint: allow no-way-to-make-safe, everybody knows how  # here
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    Right:
        make_safe:
          - {do: Press the stop button of the unwind.}
        phases:
          - phase: Clean
            park: after
            steps:
              - {id: wipe, by: unwind, do: Wipe the roller.}
    """
    yield from impossible(analysis.allows, analysis.silenceable)


def impossible(allows: Iterable[Allow], silenceable: Mapping[str, bool]) -> Iterator[Remark]:
    """What there is to say about comments that name a rule which none silences."""
    for allow in allows:
        if silenceable.get(allow.rule) is False:
            yield Remark(
                allow.place, f"`{allow.rule}` cannot be silenced", "Delete the comment and mend the procedure."
            )


@rule(Severity.WARNING)
def allow_unused(analysis: Analysis) -> Iterator[Remark]:
    """A comment allows a finding that is not there.

    Why: the fault has been mended or the comment stands on the wrong line. Left there, it would silence the next one unseen.
    Source: common practice, no source.

    Wrong:
        phases:
          - phase: Lift
            park: after
            steps:
              # lint: allow vague-words, the crane has one speed below walking pace  # here
              - {id: lift, by: unwind, do: Lift the roll at creep speed.}
    Right:
        phases:
          - phase: Lift
            park: after
            steps:
              - {id: lift, by: unwind, do: Lift the roll at creep speed.}
    """
    for allow in analysis.allows:
        if not allow.used and allow.reason and analysis.silenceable.get(allow.rule):
            yield Remark(
                allow.place, f"`{allow.rule}` has nothing to say about line {allow.line}", "Delete the comment."
            )


def of_part(allows: tuple[Allow, ...], silenceable: Mapping[str, bool]) -> Iterator[tuple[Rule, Remark]]:
    """What there is to say about the comments of a file that is looked at without its procedure.

    Whether a comment of a fragment is used hangs on the procedure, so that is not told here.
    """
    for found in without_reason(allows):
        yield allow_without_reason, found
    for found in unknown(allows, silenceable):
        yield allow_unknown_rule, found
    for found in impossible(allows, silenceable):
        yield allow_not_possible, found
