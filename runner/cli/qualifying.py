"""The register of qualifications as commands find it: beside the site file, else where the site file would lie."""

import argparse
import os
import sys

from runner.cli.exits import USAGE
from runner.cli.files import records_folder
from runner.cli.load import Stopped
from runner.cli.site import site_path
from runner.procedure.qualified import Qualification
from runner.record.qualifications import NAME, Qualifications, in_force, qualifications_at
from runner.record.refused import Refused


def register_path(options: argparse.Namespace) -> str:
    """Where the register lies or is to lie."""
    site = site_path(options)
    folder = os.path.dirname(os.path.abspath(site if site else records_folder(options.records)))
    return os.path.join(folder, NAME)


def register_of(options: argparse.Namespace) -> Qualifications | Stopped:
    """The register, said to be damaged where it is; entries before the damage count."""
    found = qualifications_at(register_path(options))
    if isinstance(found, Refused):
        print(f"changeover: {found.words}", file=sys.stderr)
        return Stopped(USAGE)
    if found.flaw:
        print(
            f"changeover: the register of qualifications is damaged, and what stands behind that counts for nobody: {found.flaw}",
            file=sys.stderr,
        )
    return found


def qualifications_beside(site: str) -> tuple[Qualification, ...] | Refused:
    """What counts in the register beside a site file."""
    found = qualifications_at(os.path.join(os.path.dirname(os.path.abspath(site)), NAME))
    return found if isinstance(found, Refused) else in_force(found.entries)
