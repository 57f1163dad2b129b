"""What a report format is: a name, a file ending, and a function from a document to bytes.

A format knows the blocks of `runner.report.document` and nothing of what they say. Everything it writes passes
`runner.procedure.clean.clean`, or an encoding that leaves no character to act. A format that needs more than comes with
the program says which extra brings it, and raises `Missing` where that is not installed.
"""

from collections.abc import Callable
from typing import NamedTuple

from runner.report.document import Document


class Missing(Exception):  # noqa: N818 - it says what is the case, as findings do
    """What a format needs is not installed. The text says what to install; commands show it as it is."""

    def __init__(self, name: str, extra: str) -> None:
        words = f"the format {name} needs more than is installed here: pip install 'changeover-runner[{extra}]'"
        super().__init__(words)


class Format(NamedTuple):
    """One way to write a document."""

    name: str
    suffix: str
    """Ending of a file of this format, with its dot."""
    render: Callable[[Document], bytes]
    """UTF-8 where the format is text. Raises `Missing`."""
    doc: str
    """One line for help."""
    extra: str = ""
    """The extra of the package that it needs; empty for none."""
    binary: bool = False
    """True where it is no text, and is not written to a terminal."""
