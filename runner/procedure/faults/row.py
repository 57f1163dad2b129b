"""What the table of faults is made of."""

from typing import NamedTuple

from runner.procedure.finding import Severity

ERROR, WARNING, NOTE = Severity.ERROR, Severity.WARNING, Severity.NOTE


class FaultRow(NamedTuple):
    """One fault that loading can report."""

    rule: str
    severity: Severity
    what: str
    """What it is, in one sentence."""
    why: str
    """Why it matters, in one sentence."""
    wrong: str
    """Text that has the fault."""
    right: str
    """The text mended."""
