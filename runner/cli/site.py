"""The site file as commands find it: `--site FILE`, else CHANGEOVER_SITE, else `site.yaml` beside the folder of records.

A site file that is named or found and cannot be used ends the command: nobody works on without PINs by a slip of the pen.
"""

import argparse
import os
import sys

from runner.cli.exits import USAGE
from runner.cli.files import Unreadable, read_text, records_folder
from runner.cli.load import Stopped
from runner.procedure.site import Site, read_site
from runner.say.text import say

NAME = "site.yaml"


def add_site(parser: argparse.ArgumentParser) -> None:
    """`--site FILE`, which goes with every command that leads a person through a run or works a job out."""
    parser.add_argument(
        "--site",
        metavar="FILE",
        help="people, pieces, lifting gear and shifts of this place (else $CHANGEOVER_SITE, else site.yaml beside the folder of records)",
    )


def site_path(options: argparse.Namespace) -> str:
    """Where the site file is to lie; empty where there is none."""
    named = options.site or os.environ.get("CHANGEOVER_SITE", "")
    if named:
        return str(named)
    beside = os.path.join(os.path.dirname(os.path.abspath(records_folder(getattr(options, "records", None)))), NAME)
    return beside if os.path.isfile(beside) else ""


def site_of(options: argparse.Namespace) -> Site | Stopped | None:
    """The site; None without a site file."""
    path = site_path(options)
    site = read_at(path) if path else None
    if not isinstance(site, Site) or site.needs_qualification == "off":
        return site
    from runner.cli.qualifying import qualifications_beside
    from runner.record.refused import Refused

    register = qualifications_beside(path)
    if isinstance(register, Refused):
        print(f"changeover: {register.words}", file=sys.stderr)
        return Stopped(USAGE)
    return site._replace(register=register)


def read_at(path: str) -> Site | Stopped:
    """The site file at a path."""
    text = read_text(path)
    if isinstance(text, Unreadable):
        print(say("changeover: the site file cannot be read: {why}", why=text.words), file=sys.stderr)
        return Stopped(USAGE)
    site, findings = read_site(text, path)
    if site is not None:
        return site
    for finding in findings:
        print(f"{finding.place}: {finding.severity.word} {finding.rule}: {finding.message}", file=sys.stderr)
        if finding.hint:
            print(f"    {finding.hint}", file=sys.stderr)
    print(
        say("changeover: the site file {path} cannot be used; mend it, nothing is run without it", path=path),
        file=sys.stderr,
    )
    return Stopped(USAGE)
