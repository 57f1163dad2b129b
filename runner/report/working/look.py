"""What a terminal can show: how wide it is, which characters it has, whether it has colour."""

from dataclasses import dataclass

from runner.report.working.marks import Signs


@dataclass(frozen=True, slots=True)
class Look:
    """How text is to be set."""

    width: int
    signs: Signs
    colour: bool
