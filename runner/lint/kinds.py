"""Which files lint reads, and the faults of a file as a whole.

A file is known by the end of its name. What is said here of a file needs no look into it, so that a command which has the
findings from an earlier look loads no more than this.
"""

from collections.abc import Iterable

from runner.procedure.finding import Finding, Place, Severity

PROCEDURE, FRAGMENT, JOB, ANSWERS = ".procedure.yaml", ".fragment.yaml", ".job.yaml", ".answers.yaml"
SITE, SITE_NAME = ".site.yaml", "site.yaml"
SCENARIO = ".scenario.yaml"
KINDS = (PROCEDURE, FRAGMENT, JOB, ANSWERS, SITE, SCENARIO)
"""The ends of the names of files that lint knows."""


def kind_of(path: str) -> str:
    """The end of a path that says what lint does with it, one of KINDS; empty for a file that is none of lint's."""
    if path.replace("\\", "/").rpartition("/")[2] == SITE_NAME:
        return SITE
    return next((kind for kind in KINDS if path.endswith(kind)), "")


def of_lint(paths: Iterable[str]) -> tuple[str, ...]:
    """Those paths of a folder's that lint reads, in the order of their names."""
    return tuple(sorted(path for path in paths if kind_of(path)))


def unreadable(path: str, why: str) -> Finding:
    """A file or folder that could not be read at all, as a finding at its beginning."""
    return Finding("unreadable-file", Severity.ERROR, f"it cannot be read: {why}", Place(path, 1, 1))


def broken_off(path: str, why: str) -> Finding:
    """A file that lint itself failed on, as a finding at its beginning. `why` names the fault for who mends it."""
    message = f"lint itself failed on this file, which has not been looked at to its end: {why}"
    hint = "A fault of this program: report it with the file. CHANGEOVER_DEBUG=1 tells where it stands."
    return Finding("look-broken-off", Severity.ERROR, message, Place(path, 1, 1), hint)
