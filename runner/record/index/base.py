"""The rows on disk: an SQLite file in the folder of records, else in the cache folder, else in memory for this time.

Every fault of the file ends in the same way: what cannot be read counts as not there. A file that is no database, or one
of ours of another version, is made anew; a database of somebody else is left alone. Each row has a checksum, so that a
flipped bit costs a reading and gives no wrong figure. Nothing is synced: what a power cut takes is made again.
"""

import json
import os
import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import fields
from typing import Any
from zlib import crc32

from runner import VERSION
from runner.record.disk import DISK, bytes_at, remove_derived
from runner.record.index.kept import Kept, Stamp
from runner.record.store import Summary

NAME = ".index.sqlite"
"""In the folder of records."""
OURS = 0x43684F76
"""SQLite's application id: a file that has another one is not ours."""
ROWS = 2
"""The version of the tables."""
PATIENCE_S = 2.0
"""How long another terminal that writes is waited for; after that this one goes on without keeping anything."""

SUMMARY = tuple(field.name for field in fields(Summary) if field.name != "path")

TABLES = (
    "create table about(kind text not null)",
    """create table record(path text primary key, size int, modified int, ending int, tail blob, summary text,
    shared text, behind text, sum int, extract text, extract_sum int, more text, more_sum int) without rowid""",
    "create table shared(name text primary key, words text) without rowid",
)
READ = (
    "select path, size, modified, ending, tail, summary, shared, behind, sum{} from record where path between ? and ?"
)


class BrokenError(Exception):
    """The file is none that can be used; it is made anew."""


class Index:
    """The rows of one folder of records."""

    def __init__(self, folder: str, beside: str = "", extracts: str = "") -> None:
        """`beside`: a file to use where the folder takes none. `extracts`: a name for what is worked out, with its version."""
        self.root = os.path.join(folder, "")
        self.kind = json.dumps([ROWS, VERSION, extracts, SUMMARY])
        self.places = (os.path.join(folder, NAME), *([beside] if beside else []), ":memory:")
        self.memory: sqlite3.Connection | None = None
        self.shared: dict[str, str] = {}

    def base(self) -> sqlite3.Connection:
        """The database, at the first place where it can be written."""
        if self.memory is not None:
            return self.memory
        for place in self.places:
            for _ in (1, 2):
                try:
                    base = opened(place, self.kind)
                except BrokenError:
                    with suppress(OSError):
                        remove_derived(place)
                except (sqlite3.Error, OSError):
                    break
                else:
                    if place == ":memory:":
                        self.memory = base
                    return base
        raise AssertionError("a database in memory can always be made")

    def load(self, mode: str, whole: bool = True) -> dict[str, Kept]:
        """All rows of a mode, or of both, by path, with their extracts or without; `more` is left out."""
        first, last = (mode + "/", mode + "0") if mode else ("", "\U0010ffff")  # `0` comes after `/`
        base = self.base()
        try:
            self.shared = {
                name: words for name, words in base.execute("select name, words from shared") if name == name_of(words)
            }
            rows = base.execute(READ.format(", extract, extract_sum" if whole else ""), (first, last)).fetchall()
            sound = [row for row in rows if isinstance(row[4], bytes) and row[8] == sum_of(row[1:8])]
            parsed = json.loads(f"[{','.join([row[5] for row in sound])}]")  # as one text, which takes half the time
            found = [self.kept(row, fields) for row, fields in zip(sound, parsed, strict=True)]
        except (sqlite3.Error, OverflowError, ValueError, TypeError):
            self.renew(base)
            return {}
        finally:
            self.let_go(base)
        return {kept.path: kept for kept in found if kept is not None}

    def kept(self, row: Sequence[Any], fields: list[Any]) -> Kept | None:
        """A row as it was put in; None where what it shares with others is not there."""
        path, size, modified, ending, tail, _, shared, left, _, *extracts = row
        words = self.shared.get(shared, "")
        if shared and not words:
            return None
        extract = extracts[0] if extracts and extracts[1] == sum_of((extracts[0],)) else ""
        place = f"{self.root}{path if os.sep == '/' else path.replace('/', os.sep)}"
        return Kept(path, Stamp(size, modified, ending, tail), summary_of(place, fields), extract, "", words, left)

    def left(self) -> dict[str, tuple[Stamp, str]]:
        """Of the live records, by path: how the file was found then, and what was left open behind the run."""
        base = self.base()
        try:
            rows = base.execute(READ.format(""), ("live/", "live0")).fetchall()
            return {row[0]: (Stamp(*row[1:5]), row[7]) for row in rows if row[8] == sum_of(row[1:8])}
        except (sqlite3.Error, OverflowError, ValueError, TypeError):
            self.renew(base)
            return {}
        finally:
            self.let_go(base)

    def more(self, kept: Kept) -> str:
        """What is asked for of few records only; empty where it is not there any more."""
        base = self.base()
        try:
            row = base.execute("select more, more_sum from record where path = ?", (kept.path,)).fetchone()
        except (sqlite3.Error, OverflowError, UnicodeDecodeError):
            row = None
        finally:
            self.let_go(base)
        return str(row[0]) if row is not None and row[1] == sum_of((row[0],)) else ""

    def put(self, new: Iterable[Kept], gone: Iterable[str]) -> None:
        """Keep rows and drop others. Where another terminal keeps the file busy nothing is kept, and nothing is lost."""
        rows, shared = [], dict[str, str]()
        for one in new:
            name = name_of(one.shared) if one.shared else ""
            if name:
                shared[name] = one.shared
            summary = summary_text(one.summary)
            row = (*one.stamp, summary, name, one.left)
            texts = (one.extract, sum_of((one.extract,)), one.more, sum_of((one.more,)))
            rows.append((one.path, *row, sum_of(row), *texts))
        lost = [(path,) for path in gone]
        if not rows and not lost:
            return
        base = self.base()
        try:
            base.execute("begin immediate")
            base.executemany("insert or replace into shared values(?, ?)", shared.items())
            base.executemany(f"insert or replace into record values({','.join('?' * 13)})", rows)
            base.executemany("delete from record where path = ?", lost)
            base.execute("commit")
        except (sqlite3.OperationalError, UnicodeEncodeError):  # busy, full, or read-only: the next look tries again
            pass
        except sqlite3.Error:
            self.renew(base)
        finally:
            self.let_go(base)

    def renew(self, base: sqlite3.Connection) -> None:
        """The file cannot be trusted: away with it, if it is one."""
        with suppress(sqlite3.Error, OSError):
            place = base.execute("pragma database_list").fetchone()[2]
            base.close()
            if place:
                remove_derived(place)
            return
        for place in self.places[:-1]:  # too broken to say where it lies
            with suppress(OSError):
                if begins_as_base(place):
                    remove_derived(place)

    def let_go(self, base: sqlite3.Connection) -> None:
        """No file stays open between two uses."""
        if base is not self.memory:
            with suppress(sqlite3.Error):
                base.close()


def opened(place: str, kind: str) -> sqlite3.Connection:
    """A database with our tables that can be written. sqlite3.Error where it cannot be, BrokenError where it is to be made anew."""
    if place != ":memory:" and os.path.dirname(place):
        if os.path.islink(place):
            raise OSError("it is a link")
        if not os.path.isdir(os.path.dirname(place)):
            DISK.make_folder(os.path.dirname(place))
    base = sqlite3.connect(place, timeout=PATIENCE_S, isolation_level=None)
    try:
        base.execute("pragma synchronous=off")
        base.execute("begin immediate")
        ours = base.execute("pragma application_id").fetchone()[0]
        tables = base.execute("select count(*) from sqlite_master").fetchone()[0]
        if ours != OURS and tables:
            raise sqlite3.OperationalError("a database of somebody else")
        if not tables:
            for table in TABLES:
                base.execute(table)
            base.execute("insert into about values(?)", (kind,))
            base.execute(f"pragma application_id={OURS}")
        elif base.execute("select kind from about").fetchall() != [(kind,)]:
            raise BrokenError
        base.execute("commit")
    except BaseException as error:
        base.close()
        if isinstance(error, sqlite3.DatabaseError) and not isinstance(error, sqlite3.OperationalError):
            raise BrokenError from error
        raise
    return base


def begins_as_base(place: str) -> bool:
    """Whether a file begins as SQLite's do, so that nothing else is ever taken away."""
    return bytes_at(place, 0, 16) in (b"SQLite format 3\0", b"")


def summary_text(summary: Summary) -> str:
    """A summary as JSON, without its path."""
    return json.dumps([getattr(summary, field) for field in SUMMARY], ensure_ascii=False)


def summary_from(path: str, words: str) -> Summary:
    """The summary again."""
    return summary_of(path, json.loads(words))


def summary_of(path: str, fields: list[Any]) -> Summary:
    """The summary of its fields in their order; what was a tuple came back as a list."""
    values: list[Any] = [tuple(field) if type(field) is list else field for field in fields]
    return Summary(path, *values)


def sum_of(row: Sequence[object]) -> int:
    """A checksum over what a row, or a part of one, holds."""
    return crc32("\0".join(map(str, row)).encode("utf-8", "surrogatepass"))


def name_of(words: str) -> str:
    """What a shared text is called: by its content, so that two of one name are the same."""
    from hashlib import sha256

    return sha256(words.encode("utf-8", "surrogatepass")).hexdigest()[:32]
