"""Runs as commands name them: RUN is an id, the beginning of one, or the path of a journal; `--records` says where."""

import argparse

from runner.cli.files import records_folder
from runner.record.refused import Refused
from runner.record.store import Store


def add_records(parser: argparse.ArgumentParser) -> None:
    """`--records DIR`, which goes with every command that reads or writes runs."""
    parser.add_argument(
        "--records",
        metavar="DIR",
        help="folder of records (else $CHANGEOVER_RECORDS, else the user's data folder)",
    )


def store_of(options: argparse.Namespace) -> Store:
    """The store that the options name."""
    return Store(records_folder(options.records))


def journal_path(options: argparse.Namespace) -> str | Refused:
    """The journal of the run that the options name."""
    return store_of(options).find(options.run)
