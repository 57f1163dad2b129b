"""Who signs something on the command line: by PIN where the site file knows the person, else by name and said so."""

import argparse
import sys

from runner.cli.exits import USAGE
from runner.cli.load import Stopped
from runner.cli.site import site_of
from runner.engine.state import NOT_VERIFIED, VERIFIED


def identified(options: argparse.Namespace, name: str) -> str | Stopped:
    """How it is established who a person is; the command ends where the PIN is wrong or the site refuses the name."""
    site = site_of(options)
    if isinstance(site, Stopped):
        return site
    person = site.person(name) if site is not None else None
    if site is None or person is None:
        if site is not None and site.unknown == "refused":
            print(f"changeover: the site file does not know {name}", file=sys.stderr)
            return Stopped(USAGE)
        return NOT_VERIFIED
    from runner.record.pins import fits

    if fits(asked(name), person.pin):
        return VERIFIED
    print(f"changeover: that is not the PIN of {name}; nothing is signed", file=sys.stderr)
    return Stopped(USAGE)


def asked(name: str) -> str:
    """The PIN, which no terminal shows; without a terminal a line of standard input."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    from getpass import getpass

    try:
        return getpass(f"PIN of {name} (not shown): ", sys.stderr)
    except EOFError:
        return ""
