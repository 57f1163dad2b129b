"""Runs as commands name them: RUN is an id, the beginning of one, or the path of a journal; `--records` says where."""

import argparse
import os
from typing import TYPE_CHECKING

from runner.cli.files import records_folder
from runner.record.refused import Refused
from runner.record.store import Store

if TYPE_CHECKING:
    from runner.record.index.base import Index

EXTRACTS = "times 3"
"""What the index keeps beside the summaries, with its version: raise it where figures are worked out otherwise than before."""


def add_records(parser: argparse.ArgumentParser) -> None:
    """`--records DIR`, which goes with every command that reads or writes runs."""
    parser.add_argument(
        "--records",
        metavar="DIR",
        help="folder of records (else $CHANGEOVER_RECORDS, else the user's data folder)",
    )


def store_of(options: argparse.Namespace) -> Store:
    """The store that the options name, with what is kept of it."""
    folder = records_folder(options.records)
    return Store(folder, index=lambda: index_of(Store(folder)))


def index_of(store: Store) -> "Index":
    """What is kept of the records of a store: in their folder, else in the user's cache folder."""
    from hashlib import sha256

    from platformdirs import user_cache_dir

    from runner.record.index.base import Index

    name = sha256(os.fsencode(store.folder)).hexdigest()[:16] + ".sqlite"
    beside = os.path.join(user_cache_dir("changeover", appauthor=False), "records", name)
    return Index(store.folder, beside, EXTRACTS)


def journal_path(options: argparse.Namespace) -> str | Refused:
    """The journal of the run that the options name; brought from the plant where they say so."""
    from runner.cli.plant import from_plant, plant_journal

    return plant_journal(options) if from_plant(options) else store_of(options).find(options.run)
