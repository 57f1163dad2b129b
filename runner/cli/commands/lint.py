"""`changeover lint PATH...`: findings on stdout in one of the lint formats; a summary on stderr.

The most used command of the engineer and of every save in an editor: its imports are few, and a test holds them. What was found
in a file before is taken again where nothing that it came from has changed.
"""

import argparse
import os
import sys

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.files import Unreadable
from runner.cli.linting.found import beside, files_of
from runner.cli.linting.kept import Kept, kept_in
from runner.cli.linting.look import Looked, Unknown, known
from runner.lint.output import FORMATS, summary, wants_colour
from runner.procedure.clean import clean
from runner.procedure.finding import Finding, Severity, in_order

LEVELS = {severity.word: severity for severity in reversed(Severity)}


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("paths", metavar="PATH", nargs="+", help="files or folders; - for standard input")
    parser.add_argument(
        "--format",
        choices=tuple(FORMATS),
        default="text",
        help="; ".join(f"{form.name}: {form.doc}" for form in FORMATS.values()),
    )
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument(
        "--fail-level", choices=(*LEVELS, "never"), default="error", help="findings from here on make the exit code 1"
    )
    parser.add_argument(
        "--stdin-filename", metavar="NAME", default="stdin.procedure.yaml", help="what standard input is called"
    )
    parser.add_argument(
        "--site", metavar="FILE", help="the site file to hold procedures against (else site.yaml beside each)"
    )
    parser.add_argument("--jobs", metavar="N", type=_count, help="files looked at at once; else as many as cores")
    parser.add_argument("--no-cache", action="store_true", help="look at every file anew, and keep nothing")
    parser.add_argument("--cache-dir", metavar="DIR", help="where what was found is kept for the next time")


def run(options: argparse.Namespace) -> int:
    """Lint every file and print what was found."""
    found = files_of(options.paths, options.stdin_filename)
    if isinstance(found, Unreadable):
        print(f"changeover: {clean(found.words)}", file=sys.stderr)
        return USAGE
    if options.site and not usable(options.site):
        return USAGE
    kept = None if options.no_cache else kept_in(options.cache_dir)
    looked = [Looked(found.findings, {}), *looked_at(found.paths, options, kept)]
    findings = in_order([finding for one in looked for finding in one.findings])
    texts: dict[str, str] = {}
    for one in looked:
        texts |= {path: text for path, text in one.texts.items() if text or path not in texts}
    level = LEVELS.get(options.fail_level)
    print_out(findings, texts, options.format, level)
    count = f"{len(found.paths)} file{'' if len(found.paths) == 1 else 's'}"
    print(f"{count}: {summary(findings)}", file=sys.stderr)
    if kept and kept.note:
        print(f"changeover: {clean(kept.folder)}: {kept.note}", file=sys.stderr)
    failed = level is not None and any(finding.severity >= level for finding in findings)
    return FINDINGS if failed else DONE


def usable(site: str) -> bool:
    """Whether the site file that was named can be used; else it is said why."""
    from runner.cli.load import Stopped
    from runner.cli.site import read_at

    return not isinstance(read_at(site), Stopped)


def looked_at(paths: tuple[str, ...], options: argparse.Namespace, kept: Kept | None) -> list[Looked]:
    """What was found in each file, in their order; only files that are not known as they are now are linted."""
    looked = [known(path, options.stdin_filename, kept, options.site or "") for path in paths]
    unknown = [one for one in looked if isinstance(one, Unknown)]
    if not unknown:
        return [one for one in looked if isinstance(one, Looked)]
    from runner.cli.linting.several import cores, look_at_all

    fresh = iter(look_at_all(unknown, kept, options.jobs or cores()))
    if kept:
        kept.trim()
    return [next(fresh) if isinstance(one, Unknown) else one for one in looked]


def print_out(findings: tuple[Finding, ...], texts: dict[str, str], name: str, level: Severity | None) -> None:
    """Findings on standard output, in a format."""
    form = FORMATS[name]
    if form.beside:
        findings = tuple(f._replace(place=f.place._replace(path=beside(f.place.path))) for f in findings)
        texts = {beside(path): text for path, text in texts.items()}
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="backslashreplace")  # a terminal that lacks a letter still gets the rest
    sys.stdout.write(form.render(findings, texts, wants_colour(sys.stdout.isatty(), os.environ), level))
    sys.stdout.flush()


def _count(text: str) -> int:
    """A number of processes."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:4]) <= 64 or len(text) > 2:
        raise argparse.ArgumentTypeError(f"a whole number from 1 to 64, not {text!r}")
    return int(text)
