"""Who releases and agrees. The language has no ranks: the role that releases less in both texts together counts as the lower."""

from collections.abc import Iterator

from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context


def rank(context: Context, was: str, now: str, words: str, doers: tuple[str, ...] = ()) -> Iterator[Found]:
    """One role instead of another; names are the new text's. `doers`: the roles that do the work released."""
    if was == now:
        return
    old, new = context.releases.get(was, 0), context.releases.get(now, 0)
    if now in doers and was not in doers:
        yield Found(Weight.WEAKER, f"{words}, and it is the one that does the work", was, now)
    elif was in doers and now not in doers:
        yield Found(Weight.STRONGER, f"{words}, and no longer the one that does the work", was, now)
    elif new < old:
        yield Found(Weight.WEAKER, f"{words}, one that releases {times(new)} in both texts, not {times(old)}", was, now)
    elif new > old:
        yield Found(
            Weight.STRONGER, f"{words}, one that releases {times(new)} in both texts, not {times(old)}", was, now
        )
    else:
        yield Found(Weight.MAYBE, f"{words}; which ranks higher, the texts do not say", was, now)


def times(count: int) -> str:
    """How often."""
    return "once" if count == 1 else f"{count} times"
