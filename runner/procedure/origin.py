"""Where nodes come from: the file, its text, and what was put in for a fragment's parameters."""

from collections.abc import Mapping
from typing import NamedTuple


class Origin(NamedTuple):
    """The file that a node came from."""

    path: str
    text: str
    given: Mapping[str, str] = {}
    """Parameters that were put in for `<name>`, where the file is a fragment."""
