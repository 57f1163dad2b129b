"""The plant's database as commands name it: `--plant` reads from there, CHANGEOVER_PLANT or `--plant-at` says where it is.

A connection string may hold a password: it is never printed.
"""

import argparse
import os
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from runner.record.index.kept import Kept
from runner.record.refused import Refused
from runner.record.store import SUFFIX, Store

if TYPE_CHECKING:
    from runner.record.plant.base import Plant

PLANT = "CHANGEOVER_PLANT"

FORKED: set[str] = set()
"""Paths of journals from the plant which has another record of the same run that does not go with it."""

FOLDERS: list["TemporaryDirectory[str]"] = []
"""In which journals from the plant lie until the process ends."""


def add_plant_at(parser: argparse.ArgumentParser) -> None:
    """`--plant-at`, which goes with every command that asks the plant."""
    parser.add_argument(
        "--plant-at",
        metavar="CONNECTION",
        help=f"the plant's PostgreSQL, as postgresql://user@host/name (else ${PLANT}; keep passwords in ~/.pgpass)",
    )


def add_plant(parser: argparse.ArgumentParser) -> None:
    """`--plant` and `--plant-at`, which go with every command that can read from there."""
    parser.add_argument(
        "--plant", action="store_true", help="from the plant's database instead of the folder of records"
    )
    add_plant_at(parser)


def from_plant(options: argparse.Namespace) -> bool:
    """Whether the plant is to be read."""
    return bool(getattr(options, "plant", False) or getattr(options, "plant_at", None))


def plant_of(options: argparse.Namespace) -> "Plant | Refused":
    """The database that the options or the environment name."""
    from runner.record.plant.base import connected

    where = getattr(options, "plant_at", None) or os.environ.get(PLANT, "")
    if not where:
        return Refused(f"Say where the plant's database is: --plant-at CONNECTION, or {PLANT} in the environment.")
    return connected(where)


def plant_journal(options: argparse.Namespace) -> str | Refused:
    """The journal of the run that the options name, brought here for as long as the process lasts."""
    plant = plant_of(options)
    if isinstance(plant, Refused):
        return plant
    content, forked = plant.journal(options.run), plant.forked()
    plant.close()
    if isinstance(content, Refused):
        return content
    if isinstance(forked, Refused):
        return forked
    path = put_file(options.run, content)
    if any(run.startswith(options.run) for run in forked):
        FORKED.add(path)
    return path


def twins_of(path: str) -> tuple[str, ...]:
    """What speaks against a journal that was brought from the plant: it has another record of the same run."""
    return (
        ("plant: it has another record of this run that is no part of this one; verify both",) if path in FORKED else ()
    )


def plant_rows(options: argparse.Namespace, mode: str) -> list[Kept] | Refused:
    """All runs of a mode, newest first."""
    from runner.cli.reading import READER
    from runner.cli.records import index_of
    from runner.record.plant.read import WHERE, rows_of

    plant = plant_of(options)
    if isinstance(plant, Refused):
        return plant

    def read(run: str, content: bytes) -> Kept | None:
        row = READER.read(put_file(run, content))
        return row and row._replace(path=WHERE + run)

    rows = rows_of(plant, mode, index_of(Store(os.curdir)), read)
    plant.close()
    return rows


def put_file(run: str, content: bytes) -> str:
    """The path of a journal that was put into a folder of its own, which goes when the process ends."""
    folder = TemporaryDirectory(prefix="changeover-")
    FOLDERS.append(folder)
    name = "".join(sign for sign in run if sign.isalnum() or sign == "-")[:64]
    path = os.path.join(folder.name, name + SUFFIX)
    with open(path, "xb") as file:
        file.write(content)
    return path
