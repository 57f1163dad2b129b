"""What a name means where the language lets an author write one: the one table of definitions and references.

A row is a place (record, key, and whether the name is a key of a map there or a value) and the sort of thing. A test holds
it to the tables of the language: every place for a name or an id has a row here.
"""

from typing import NamedTuple

Site = tuple[str, str, str]
"""Record, key of the record, and the role of the scalar: key or value."""

VALUES = frozenset({"input", "calculation", "reading", "choice", "scan", "feed"})
"""Sorts of things that formulas and slots may name as a value."""

SHARED = VALUES | {"table", "web path"}
"""All that share one set of names in a procedure."""


class Meaning(NamedTuple):
    """What stands at a site."""

    sort: str
    """The sort of thing; `value` is any of VALUES."""
    defines: bool


def defines(sort: str, *sites: Site) -> dict[Site, Meaning]:
    """Rows for places that bring a thing into being."""
    return {site: Meaning(sort, defines=True) for site in sites}


def refers(sort: str, *sites: Site) -> dict[Site, Meaning]:
    """Rows for places that name one."""
    return {site: Meaning(sort, defines=False) for site in sites}


STEP, JOB, ANSWERS = "a step", "a job", "an answers file"

MEANINGS: dict[Site, Meaning] = {
    **defines("procedure", ("a procedure", "id", "value")),
    **refers("procedure", (JOB, "procedure", "value"), (ANSWERS, "procedure", "value")),
    **defines("role", ("a procedure", "people", "key")),
    **refers(
        "role",
        (STEP, "by", "value"),
        (STEP, "optional", "value"),
        ("a hold", "release", "value"),
        ("a second look", "by", "value"),
        ("a split", "release", "value"),
        ("a phase", "together", "key"),
        (JOB, "crew", "key"),
        (ANSWERS, "crew", "key"),
        ("an act", "hand_over", "value"),
    ),
    **defines("caution", ("a procedure", "cautions", "key")),
    **refers("caution", (STEP, "cautions", "value")),
    **defines("input", ("a procedure", "inputs", "key")),
    **refers("input", (JOB, "inputs", "key"), (ANSWERS, "inputs", "key")),
    **defines("table", ("a procedure", "tables", "key")),
    **defines("column", ("a table", "columns", "key")),
    **defines("rack", ("a procedure", "pieces", "key")),
    **refers("rack", ("a split", "from", "value")),
    **defines("web path", ("a procedure", "web_paths", "key")),
    **refers("web path", (STEP, "thread", "value")),
    **defines("roller", ("a roller", "roller", "value")),
    **defines("state", ("a procedure", "states", "key")),
    **refers(
        "state",
        (STEP, "needs", "key"),
        (STEP, "makes", "key"),
        ("an act of making safe", "makes", "key"),
        ("an act", "look", "key"),
    ),
    **defines("state value", ("a state", "of", "value")),
    **refers(
        "state value",
        ("a state", "at_start", "value"),
        ("a state", "at_end", "value"),
        (STEP, "needs", "value"),
        (STEP, "makes", "value"),
        ("an act of making safe", "makes", "value"),
        ("an act", "look", "value"),
    ),
    **defines("calculation", ("a procedure", "calculations", "key")),
    **refers("calculation", ("a split", "split", "value"), ("an act", "accept", "value")),
    **defines("reading", (STEP, "read", "key")),
    **defines("choice", (STEP, "choose", "key")),
    **defines("scan", (STEP, "scan", "key")),
    **refers(
        "value",
        ("a split", "gives", "value"),
        (STEP, "lifts", "key"),
        ("a choice", "match", "value"),
        ("a scan", "match", "value"),
        ("a worked example", "given", "key"),
        ("an act", "correct", "value"),
        ("an entry", "answers", "key"),
        ("an entry", "second", "key"),
    ),
    **defines("step", (STEP, "id", "value")),
    **refers("step", ("a trouble", "back_to", "value"), ("an entry", "step", "value"), ("an act", "go_back", "value")),
    **defines("trouble", ("a trouble", "id", "value")),
    **refers(
        "trouble",
        ("a reading", "else", "value"),
        ("a choice", "else", "value"),
        ("a scan", "else", "value"),
        ("a repeat", "else", "value"),
        ("an entry", "trouble", "value"),
    ),
    **defines("fragment", ("a fragment", "id", "value")),
    **refers("file", ("a use of a fragment", "use", "value")),
    **defines("parameter", ("a fragment", "parameters", "value")),
    **refers("parameter", ("a use of a fragment", "with", "key")),
}
