"""Whether a translation has the fields of its message: no fewer, no other ones, no stray brace. Asked before it is used."""

from functools import lru_cache
from string import Formatter

COUNT = "n"
"""The number of a counted message; a form may do without it: `one step`."""


def fields_of(text: str) -> frozenset[str] | None:
    """Names of the fields; None where the text is no form: a stray brace, a field without a name or with more than one."""
    try:
        parts = list(Formatter().parse(text))
    except ValueError:
        return None
    names = set()
    for _, name, spec, _ in parts:
        if name is None:
            continue
        if not name.isidentifier() or "{" in (spec or ""):
            return None
        names.add(name)
    return frozenset(names)


@lru_cache(maxsize=4096)
def fit(text: str, message: str, counted: bool = False) -> bool:
    """True where `text` can be filled in wherever `message` can."""
    own, wanted = fields_of(text), fields_of(message)
    if own is None or wanted is None:
        return False
    if counted:
        return own - {COUNT} == wanted - {COUNT}
    return own == wanted
