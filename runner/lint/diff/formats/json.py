"""Differences as JSON (RFC 8259) for other programs: ASCII only, keys in a fixed order."""

from runner.lint.diff.change import Diff, Weight
from runner.lint.diff.formats.format import Format
from runner.procedure.clean import clean
from runner.procedure.finding import Place


def render(diff: Diff, colour: bool) -> str:  # noqa: ARG001 - a row of FORMATS has this shape
    """An object: old, new, counts by weight, and the changes, gravest first."""
    import json

    changes = [
        {
            "kind": change.kind,
            "weight": change.weight.value,
            "subject": clean(change.subject),
            "words": clean(change.words),
            "reason": change.reason,
            "was": clean(change.was),
            "now": clean(change.now),
            "old_place": place(change.old_place),
            "new_place": place(change.new_place),
        }
        for change in diff.changes
    ]
    counts = {weight.value: len(diff.of(weight)) for weight in Weight}
    return (
        json.dumps({"old": clean(diff.old), "new": clean(diff.new), "counts": counts, "changes": changes}, indent=1)
        + "\n"
    )


def place(given: Place | None) -> dict[str, str | int] | None:
    """A place."""
    return None if given is None else {"path": clean(given.path), "line": given.line, "column": given.column}


FORMAT = Format("json", "for other programs", render)
