"""The one question that loading asks of a text's shape: is it sound?

The quick check answers yes without any library. Where it says no, jsonschema with the schema made from the same
tables finds every fault, and `wording` says it in the author's words.
"""

from runner.procedure.desk import Desk
from runner.procedure.language.fits import fits
from runner.procedure.language.shape import Record
from runner.procedure.nodes import Map, node_place

FILE_WORDS = {
    "format": "a procedure",
    "fragment": "a fragment",
    "job": "a job",
    "answers": "an answers file",
    "site": "a site file",
    "scenario": "a scenario",
}
"""Which file it is, by its first key."""


def sound(root: Map, record: Record, desk: Desk) -> Map | None:
    """The map itself where it fits; else its findings, and what is left when faulty parts are taken out, or None."""
    if fits(record)(root):
        return root
    from runner.procedure.prune import pruned
    from runner.procedure.wording import faults

    for rule, message, place, hint in faults(root, record):
        desk.add(rule, message, place, hint)
    desk.partial = True
    saved = pruned(root, record)
    return saved if isinstance(saved, Map) else None


def wrong_file(root: Map, first_key: str, desk: Desk) -> bool:
    """True, with a finding, where the text is another kind of file than the one with this first key."""
    if first_key in root:
        return False
    for key, what in FILE_WORDS.items():
        if key in root:
            message = f"this is {what}, not {FILE_WORDS[first_key]}"
            desk.add(
                "other-file",
                message,
                node_place(root),
                f"{FILE_WORDS[first_key].capitalize()} begins with `{first_key}: 1`.",
            )
            return True
    return False
