"""What a report format is: a name, a file ending, and a function from a document to bytes.

A format knows the blocks of `runner.report.document` and nothing of what they say. Everything it writes passes
`runner.procedure.clean.clean`, or an encoding that leaves no character to act.
"""

from collections.abc import Callable
from typing import NamedTuple

from runner.report.document import Document


class Format(NamedTuple):
    """One way to write a document."""

    name: str
    suffix: str
    """Ending of a file of this format, with its dot."""
    render: Callable[[Document], bytes]
    """UTF-8."""
    doc: str
    """One line for help."""
