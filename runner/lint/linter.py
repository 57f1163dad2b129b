"""Text to findings: compile, apply the rules, heed the comments that allow a finding.

Nothing here touches a file: texts come in, and `fetch` brings those that a text names. A file is known by the end of its
name: a procedure is compiled and ruled, a fragment on its own, a job and answers are checked for their shape.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from runner.lint.allow import ALLOW, Allow, allows_in, silence
from runner.lint.analysis import Analysis
from runner.lint.kinds import SITE_NAME, kind_of
from runner.lint.rule import Rule, all_rules, findings_of
from runner.procedure.compile import compile_procedure
from runner.procedure.finding import Finding, Severity, in_order
from runner.procedure.include import with_use
from runner.procedure.model import Procedure
from runner.procedure.site_facts import with_pieces

if TYPE_CHECKING:
    from runner.procedure.site import Site

Fetch = Callable[[str], str | None]
"""The text at a path, None where there is none."""

ABOUT_COMMENTS = "runner.lint.rules.allowing"
"""The theme whose rules speak last, of the comments themselves."""


class Options(NamedTuple):
    """What the caller wants of lint."""

    only: frozenset[str] = frozenset()
    """Ids of lint rules; empty: all of them. What keeps a text from compiling is always told."""
    today: str = ""
    """YYYY-MM-DD, to tell days of a site file that are past; empty: none is."""
    site: str = ""
    """The path of the site file, as `fetch` takes it; empty: `site.yaml` beside the procedure."""


class Linted(NamedTuple):
    """What was found, and the texts that it was found in."""

    findings: tuple[Finding, ...]
    texts: Mapping[str, str]
    """By path: the text itself and all that it names."""


DEFAULT = Options()


def lint_text(text: str, path: str, fetch: Fetch, options: Options = DEFAULT) -> tuple[Finding, ...]:
    """All findings of one text, by place."""
    return lint(text, path, fetch, options).findings


def lint(text: str, path: str, fetch: Fetch, options: Options = DEFAULT) -> Linted:
    """All findings of one text with the texts that they stand in, by path."""
    texts = {path: text}

    def noted(wanted: str) -> str | None:
        found = fetch(wanted)
        if found is not None:
            texts[wanted] = found
        return found

    match kind_of(path):
        case ".fragment.yaml" | ".job.yaml" | ".answers.yaml" | ".site.yaml" as kind:
            from runner.lint.shapes import shape_findings

            return Linted(in_order(shape_findings(kind, text, path, options.today)), texts)
        case ".scenario.yaml":
            from runner.lint.scenarios import scenario_findings

            return Linted(in_order(scenario_findings(text, path, noted)), texts)
        case _:
            compiled = compile_procedure(text, path, noted)
    if compiled.procedure is None:
        return Linted(in_order(list(compiled.findings)), texts)
    site = site_beside(path, fetch, options.site)
    procedure = compiled.procedure if site is None else with_pieces(compiled.procedure, site.facts.pieces)
    return Linted(ruled(procedure, compiled.findings, path, texts, options, site), texts)


def site_beside(path: str, fetch: Fetch, named: str) -> "Site | None":
    """The site file that is named, else the one beside the procedure; None without one, or where it is faulty."""
    folder, slash, _ = path.rpartition("/")
    written = fetch(named or f"{folder}{slash}{SITE_NAME}")
    if written is None:
        return None
    from runner.procedure.site import read_site

    return read_site(written, named or SITE_NAME).site


def ruled(
    procedure: Procedure,
    compiled: Iterable[Finding],
    path: str,
    texts: Mapping[str, str],
    options: Options,
    site: "Site | None" = None,
) -> tuple[Finding, ...]:
    """The findings of compiling and of the rules, less those that comments allow."""
    rules = all_rules()
    analysis = Analysis(procedure, path, texts, site=site)
    found = list(compiled)
    used_at = dict(procedure.used_at)
    comment_rules: list[Rule] = []
    for wanted in rules.values():
        if options.only and wanted.id not in options.only:
            continue
        if wanted.check.__module__ == ABOUT_COMMENTS:
            comment_rules.append(wanted)
        else:
            found += [with_use(finding, used_at) for finding in findings_of(wanted, analysis)]
    if not any(ALLOW in text for text in texts.values()):
        return in_order(found)
    allows = tuple(allow for name, text in texts.items() for allow in allows_in(text, name))
    silenceable = may_be_silenced(rules, found)
    found, allows = silence(found, allows, silenceable)
    about = Analysis(procedure, path, texts, _of_file(allows, path), silenceable)
    for wanted in comment_rules:
        found += findings_of(wanted, about)
    return in_order(found)


def may_be_silenced(rules: Mapping[str, Rule], found: Iterable[Finding]) -> dict[str, bool]:
    """For every rule that a comment may name, whether it may be silenced; an error never may."""
    from runner.lint.pages import FILE_FAULTS
    from runner.procedure.faults import FAULTS

    known = {row.rule: row.severity is not Severity.ERROR for row in (*FAULTS.values(), *FILE_FAULTS)}
    known |= {name: wanted.silenceable for name, wanted in rules.items()}
    return known | {f.rule: False for f in found if f.severity is Severity.ERROR}


def _of_file(allows: tuple[Allow, ...], path: str) -> tuple[Allow, ...]:
    """The comments of the file itself: whether one in a fragment is used depends on who else uses the fragment."""
    return tuple(allow for allow in allows if allow.place.path == path or not allow.reason)
