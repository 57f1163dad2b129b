"""`changeover lint PATH...`: findings on stdout in one of the lint formats; a summary on stderr.

The most used command of the engineer and of every save in an editor: its imports are few, and a test holds them.
"""

import argparse
import os
import sys

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.lint.linter import Linted, kind_of, lint, of_lint, unreadable
from runner.lint.output import FORMATS, summary, wants_colour
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
    parser.add_argument("--no-cache", action="store_true", help="look at every file anew; every file always is")


def run(options: argparse.Namespace) -> int:
    """Lint every file and print what was found."""
    paths = files_of(options.paths)
    if isinstance(paths, Unreadable):
        print(f"changeover: {paths.words}", file=sys.stderr)
        return USAGE
    findings: list[Finding] = []
    texts: dict[str, str] = {}
    for path in paths:
        linted = lint_file(path, options.stdin_filename)
        findings += linted.findings
        texts.update(linted.texts)
    colour = wants_colour(sys.stdout.isatty(), os.environ)
    sys.stdout.write(FORMATS[options.format].render(in_order(findings), texts, colour))
    sys.stdout.flush()
    count = f"{len(paths)} file{'' if len(paths) == 1 else 's'}"
    print(f"{count}: {summary(findings)}", file=sys.stderr)
    level = LEVELS.get(options.fail_level)
    failed = level is not None and any(finding.severity >= level for finding in findings)
    return FINDINGS if failed else DONE


def files_of(given: list[str]) -> list[str] | Unreadable:
    """The files to look at: those that are named, and in folders those whose names lint knows."""
    found: list[str] = []
    for path in given:
        if path == "-" or os.path.isfile(path):
            if path != "-" and not kind_of(path):
                known = "*.procedure.yaml, *.fragment.yaml, *.job.yaml or *.answers.yaml"
                return Unreadable(f"{path}: lint reads files named {known}")
            found.append(path)
        elif os.path.isdir(path):
            inside = [os.path.join(folder, name) for folder, _, names in os.walk(path) for name in names]
            found += of_lint(inside)
        else:
            return Unreadable(f"{path}: there is no such file or folder")
    return found


def lint_file(path: str, stdin_name: str) -> Linted:
    """The findings of one file."""
    name = stdin_name if path == "-" else path
    text = read_text(path)
    if isinstance(text, Unreadable):
        words = text.words.removeprefix(f"{path}: ")
        return Linted((unreadable(name, words),), {})
    return lint(text, name, fetch_beside(name))
