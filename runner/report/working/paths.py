"""The web paths of a procedure for a job, in the shapes that the formats need: lines, rows with heads, drawings.

The numbers are those of the solved path; one that cannot be worked out has its reason in their place.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees

from runner.formula.evaluate import Value
from runner.procedure.model import Procedure
from runner.report.contents.web_paths import HEADS, NUMBERS, path_lines, roller_rows, solved_path
from runner.report.document import Block, Heading, Note, Picture, Pictures, Table
from runner.report.working.look import Look
from runner.trade.path_drawing.svg import svg
from runner.trade.web_path import Problem, WebPath

ROWS = 20
"""Lines of a drawing in characters."""


@dataclass(frozen=True, slots=True)
class PathsShown:
    """All web paths, solved for one job."""

    procedure: Procedure
    values: Mapping[str, Value]
    solved: Mapping[str, WebPath | Problem]

    @property
    def clean(self) -> bool:
        """True where every path could be worked out."""
        return not any(isinstance(path, Problem) for path in self.solved.values())


def paths_of(procedure: Procedure, values: Mapping[str, Value]) -> PathsShown:
    """The paths over SI values."""
    return PathsShown(procedure, values, {name: solved_path(procedure, name, values) for name in procedure.scope.paths})


def lines_of_paths(shown: PathsShown, look: Look) -> list[str]:
    """For the terminal: a row a roller, lengths, the drawing."""
    if not shown.solved:
        return ["This procedure has no web path."]
    return path_lines(shown.procedure, shown.values, look.width, ROWS, look.signs.plain)


def blocks_of_paths(shown: PathsShown) -> Iterator[Block]:
    """For a page."""
    for number, (name, path) in enumerate(shown.solved.items(), start=1):
        yield Heading(f"Web path {name}")
        if isinstance(path, Problem):
            yield Note(f"It cannot be worked out: {path.message}", "problem")
            continue
        title = f"Web path {name}"
        yield Pictures((Picture(title, svg(path, title, f"path-{number}"), ()),))
        yield Table(f"Rollers of {name}", HEADS, tuple(roller_rows(path)), numeric=frozenset(NUMBERS))
        yield Note(f"{path.length:.3f} m of web lie in it.")
    if not shown.solved:
        yield Note("This procedure has no web path.")


def rows_of_paths(shown: PathsShown) -> Iterator[tuple[str, ...]]:
    """For a table: a row a roller."""
    yield ("web path", *HEADS, "problem")
    for name, path in shown.solved.items():
        if isinstance(path, Problem):
            yield (name, *("" for _ in HEADS), path.message)
        else:
            yield from ((name, *row, "") for row in roller_rows(path))


def data_of_paths(shown: PathsShown) -> list[dict[str, object]]:
    """For other programs: SI, angles in degrees."""
    return [
        {"name": name, "problem": path.message}
        if isinstance(path, Problem)
        else {"name": name, "length_m": path.length, "rollers": list(rollers_data(path))}
        for name, path in shown.solved.items()
    ]


def rollers_data(path: WebPath) -> Iterator[dict[str, object]]:
    """A roller each; what the ends of a path have not is null."""
    last = len(path.rollers) - 1
    for place, (roller, contact) in enumerate(zip(path.rollers, path.contacts, strict=True)):
        between = 0 < place < last
        yield {
            "roller": roller.name,
            "pass": roller.side,
            "diameter_m": roller.diameter,
            "wrap_deg": degrees(contact.wrap) if between else None,
            "arc_m": contact.arc if between else None,
            "next_span_m": path.spans[place] if place < last else None,
            "pull": contact.pull if between else None,
        }
