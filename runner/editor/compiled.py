"""The compiled procedure of a text, kept for the texts looked at last; None while the text does not compile."""

from runner.procedure.compile import compile_procedure
from runner.procedure.include import Fetch
from runner.procedure.model import Procedure

KEPT = 4

LAST: dict[tuple[str, ...], Procedure | None] = {}
"""By the path and all texts that went in: a fragment that has changed makes another key."""


def compiled(path: str, text: str, fetch: Fetch) -> Procedure | None:
    """The procedure, compiled anew only where a text has changed."""
    for key, procedure in LAST.items():
        used = zip(key[2::2], key[3::2], strict=True)
        if key[:2] == (path, text) and all(fetch(name) == known for name, known in used):
            return procedure
    met: list[str] = [path, text]

    def noted(wanted: str) -> str | None:
        found = fetch(wanted)
        if found is not None and wanted not in met[::2]:
            met.extend((wanted, found))
        return found

    procedure = compile_procedure(text, path, noted).procedure
    while len(LAST) >= KEPT:
        del LAST[next(iter(LAST))]
    LAST[tuple(met)] = procedure
    return procedure
