"""Limits compared side by side: as numbers, as formulas over all allowed jobs, or said to be unclear."""

from collections.abc import Iterator

from runner.formula.expr import Expr
from runner.formula.units import Unit
from runner.lint.diff.bounds import Answer, Compared
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.said import number

NOISE = 1e-12


def bound(
    context: Context, old: Expr | None, new: Expr | None, what: str, was: str, now: str, *, lower: bool
) -> Iterator[Found]:
    """One side of a limit: wider is weaker."""
    if old is None or new is None:
        yield from gone_or_come(old is None, new is None, what, was, now)
        return
    found = context.compare(old, new)
    wider, narrower = (found.less, found.more) if lower else (found.more, found.less)
    yield from judged(wider, narrower, f"its {what} is {'lower' if lower else 'higher'}", f"its {what} is {'higher' if lower else 'lower'}",
                      f"its {what} is worked out otherwise", was, now)  # fmt: skip


def gone_or_come(old_open: bool, new_open: bool, what: str, was: str, now: str) -> Iterator[Found]:
    """A side that is open in one of the texts."""
    if new_open and not old_open:
        yield Found(Weight.WEAKER, f"its {what} is gone", was, "")
    elif old_open and not new_open:
        yield Found(Weight.STRONGER, f"it has a {what} now", "", now)


def judged(
    wider: Answer, narrower: Answer, weaker: str, stronger: str, unclear: str, was: str, now: str
) -> Iterator[Found]:
    """Weaker for some job, stronger for some job, both, or nobody knows."""
    by = looked_into(was, now)
    if wider.so:
        yield Found(Weight.WEAKER, weaker + for_job(wider) + by, was, now)
    if narrower.so:
        yield Found(Weight.STRONGER, stronger + for_job(narrower) + by, was, now)
    if wider.so is None:
        yield Found(Weight.MAYBE, f"{unclear}{by}, and it cannot be shown to be no wider", was, now)
    elif narrower.so is None and not wider.so:
        yield Found(Weight.CHANGED, f"{unclear}{by}; it is wider for no job", was, now)


def looked_into(was: str, now: str) -> str:
    """That the formula reads the same, and the table or web path in it does not."""
    return ", by what it looks into" if was == now else ""


def for_job(answer: Answer) -> str:
    """The job that shows it."""
    return f" for some jobs ({answer.job})" if answer.job else ""


def in_words(found: Compared) -> str:
    """Which way a value goes."""
    ways = [word + for_job(answer) for word, answer in (("less", found.less), ("more", found.more)) if answer.so]
    return " and ".join(ways)


def band(
    old: tuple[float, float] | None, new: tuple[float, float] | None, unit: Unit | None, what: tuple[str, str]
) -> Iterator[Found]:
    """Both sides of a range of numbers; `what` names the lower and the upper one."""
    for side in (0, 1):
        was, now = old[side] if old else None, new[side] if new else None
        shown = number(was, unit), number(now, unit)
        if was is None or now is None:
            yield from gone_or_come(was is None, now is None, what[side], *shown)
            continue
        if abs(now - was) <= NOISE * max(abs(now), abs(was)):
            continue
        wider = now < was if side == 0 else now > was
        word = "lower" if now < was else "higher"
        yield Found(Weight.WEAKER if wider else Weight.STRONGER, f"its {what[side]} is {word}", *shown)


def tolerance(old: float, new: float, unit: Unit | None, what: str) -> Iterator[Found]:
    """A tolerance: wider is weaker."""
    if abs(new - old) > NOISE * max(abs(new), abs(old)):
        weight, word = (Weight.WEAKER, "wider") if new > old else (Weight.STRONGER, "narrower")
        yield Found(weight, f"its {what} is {word}", number(old, unit), number(new, unit))
