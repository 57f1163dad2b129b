"""What a lint rule is: one function whose docstring is its page and whose page holds its tests.

A rule is named after the fault, from the function's name. Its docstring has the parts of `Page`, in their order; the
wrong example holds `# here` on every line where the rule must speak, the right one must be silent. Theme modules are
listed once, in `RULE_MODULES`.
"""

from collections.abc import Callable, Iterator
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, NamedTuple

from runner.procedure.finding import Finding, Place, Severity

if TYPE_CHECKING:
    from runner.lint.analysis import Analysis

RULE_MODULES = (
    "order",
    "lists",
    "departures",
    "ways",
    "states",
    "people",
    "holds",
    "looks",
    "cautions",
    "harms",
    "troubles",
    "motion",
    "isolation",
    "interruption",
    "site",
    "closing",
    "limits",
    "answers",
    "calculations",
    "paths",
    "dimensions",
    "tables",
    "jobs",
    "unused",
    "wording",
    "orders",
    "figures",
    "names",
    "allowing",
)
"""The theme modules in `runner.lint.rules`, in the order in which their rules are listed to people."""


class Remark(NamedTuple):
    """What a rule has to say about one place; the rule adds its own id and severity."""

    place: Place
    message: str
    hint: str = ""
    trace: tuple[str, ...] = ()


Check = Callable[["Analysis"], Iterator[Remark]]


class Page(NamedTuple):
    """A rule's page, as `changeover explain` shows it."""

    what: str
    why: str
    source: str
    """The published source, or `common practice, no source`."""
    wrong: str
    """Part of a procedure, laid over the smallest whole one; `# here` marks the lines of the findings."""
    right: str


class Rule(NamedTuple):
    """One fault that lint looks for."""

    id: str
    severity: Severity
    lasting: bool
    """True where no comment may silence it. An error never may be, whatever this says."""
    check: Check

    @property
    def silenceable(self) -> bool:
        """Whether an allowing comment may silence it."""
        return not self.lasting and self.severity is not Severity.ERROR

    @property
    def page(self) -> Page:
        """The docstring in its parts."""
        return read_page(self.check.__doc__ or "")


def rule(severity: Severity, *, lasting: bool = False) -> Callable[[Check], Rule]:
    """Make a check a rule; its id is the function's name with hyphens."""

    def made(check: Check) -> Rule:
        return Rule(check.__name__.replace("_", "-"), severity, lasting, check)

    return made


@cache
def all_rules() -> dict[str, Rule]:
    """Every rule by its id, in the order of the theme modules and of the functions in them."""
    found: dict[str, Rule] = {}
    for name in RULE_MODULES:
        module = import_module(f"runner.lint.rules.{name}")
        found.update({value.id: value for value in vars(module).values() if isinstance(value, Rule)})
    return found


def findings_of(wanted: Rule, analysis: "Analysis") -> Iterator[Finding]:
    """What one rule finds."""
    for remark in wanted.check(analysis):
        yield Finding(wanted.id, wanted.severity, remark.message, remark.place, remark.hint, remark.trace)


def read_page(doc: str) -> Page:
    """A docstring in its parts: the first paragraph, then the indented or following text of `Why:`, `Source:` and so on."""
    parts: dict[str, list[str]] = {"what": []}
    part = "what"
    for line in doc.expandtabs().splitlines():
        head, colon, rest = line.strip().partition(":")
        if colon and head in ("Why", "Source", "Wrong", "Right") and _indent(line) <= 4:
            part = head.lower()
            parts[part] = [rest.strip()] if rest.strip() else []
        else:
            parts[part].append(line)
    return Page(
        what=_paragraph(parts["what"]),
        why=_paragraph(parts.get("why", [])),
        source=_paragraph(parts.get("source", [])),
        wrong=_example(parts.get("wrong", [])),
        right=_example(parts.get("right", [])),
    )


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _paragraph(lines: list[str]) -> str:
    return " ".join(line.strip() for line in lines if line.strip())


def _example(lines: list[str]) -> str:
    used = [line for line in lines if line.strip()]
    if not used:
        return ""
    margin = min(_indent(line) for line in used)
    return "\n".join(line[margin:].rstrip() for line in used) + "\n"
