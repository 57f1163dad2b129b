"""The database of a plant: its tables, and the few things that are asked of it. The only module that loads psycopg.

One record is one statement and one commit: what a server told is kept, and what it did not tell is sent again. Nothing is
raised at a user: every trouble is a `Refused`, in which no password stands.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from runner.record.refused import Refused

if TYPE_CHECKING:
    import psycopg

T = TypeVar("T")

TABLES = 1
"""The version of the tables, in `changeover_about`. A program leaves a database of a newer one alone."""

LOCK = 0x43684F76
"""Only one terminal at a time makes tables."""

CREATE = (
    "create table if not exists changeover_about(version int not null)",
    """create table if not exists changeover_run(
        run text not null, head text not null, mode text not null, procedure text not null, title text not null,
        revision int not null, played bool not null, began timestamptz not null, last timestamptz not null,
        events bigint not null, outcome text not null, terminal text not null, sent timestamptz not null default now(),
        journal bytea not null, kind text not null, summary text not null, extract text not null, more text not null,
        shared text not null, primary key (run, head))""",
    "create index if not exists changeover_run_began on changeover_run(mode, procedure, began)",
)

COLUMNS = (
    "run", "head", "mode", "procedure", "title", "revision", "played", "began", "last", "events", "outcome", "terminal",
    "journal", "kind", "summary", "extract", "more", "shared",
)  # fmt: skip

NEWEST = "select distinct on (run) {} from changeover_run where mode = %s order by run, events desc, sent desc"
"""A run that was reviewed after it had been sent is there twice; the longer record has all of the shorter."""

FORKED = """select distinct one.run from changeover_run one join changeover_run other on one.run = other.run
    and one.head <> other.head and one.events <= other.events
    where position(convert_to(one.head, 'UTF8') in other.journal) = 0 order by one.run"""

WAIT = {"connect_timeout": 5, "keepalives_idle": 10, "keepalives_interval": 5, "keepalives_count": 2,
        "tcp_user_timeout": 15_000}  # fmt: skip
"""A server that has gone is given up after so long: s, but for the last, which is ms."""


class Sent(NamedTuple):
    """A record as the plant has it; the fields are the columns."""

    run: str
    head: str
    mode: str
    procedure: str
    title: str
    revision: int
    played: bool
    began: str
    last: str
    events: int
    outcome: str
    terminal: str
    journal: bytes
    kind: str
    """Of summary, extract, more and shared: which version of the program worked them out."""
    summary: str
    extract: str
    more: str
    shared: str


class Row(NamedTuple):
    """What is read of a run without its journal."""

    run: str
    kind: str
    summary: str
    extract: str
    more: str
    shared: str


class Plant:
    """A connection to the database."""

    def __init__(self, base: "psycopg.Connection[tuple[object, ...]]") -> None:
        self.base = base

    def heads(self) -> set[tuple[str, str]] | Refused:
        """(run, head) of all that is there."""
        return self.asked(
            lambda: {(str(run), str(head)) for run, head in self.all("select run, head from changeover_run")}
        )

    def put(self, one: Sent) -> bool | Refused:
        """Keep a record; False where it was there already. True only after the server has said that it is kept."""
        places = ", ".join(["%s"] * len(COLUMNS))
        order = f"insert into changeover_run({', '.join(COLUMNS)}) values({places}) on conflict (run, head) do nothing"
        return self.asked(lambda: self.base.execute(order, one).rowcount == 1)

    def rows(self, mode: str) -> list[Row] | Refused:
        """All runs of a mode, the newest by its beginning first."""
        fields = ", ".join(Row._fields)
        inner = NEWEST.format(f"{fields}, began")
        order = f"select {fields} from ({inner}) as newest order by began desc, run desc"
        return self.asked(lambda: [Row(*map(str, row)) for row in self.all(order, mode)])

    def journal(self, run: str) -> bytes | Refused:
        """The journal of a run, by its id or the beginning of one that fits one run only."""
        found = self.asked(lambda: [str(row[0]) for row in self.all(
            "select distinct run from changeover_run where left(run, length(%s)) = %s order by run limit 6", run, run)])  # fmt: skip
        if isinstance(found, Refused):
            return found
        if run not in found and len(found) != 1:
            some = (
                f" fits several runs there ({', '.join(found[:5])}). Give more of it." if found else " is no run there."
            )
            return Refused(f"{run}{some}")
        name = run if run in found else found[0]
        order = "select journal from changeover_run where run = %s order by events desc, sent desc limit 1"
        return self.asked(lambda: taken(self.all(order, name)[0][0]))

    def counts(self) -> list[tuple[str, str, int, int]] | Refused:
        """(mode, procedure, runs, terminals), by procedure."""
        order = """select mode, procedure, count(distinct run), count(distinct terminal) from changeover_run
            group by mode, procedure order by mode desc, procedure"""
        return self.asked(
            lambda: [(str(m), str(p), int(str(runs)), int(str(who))) for m, p, runs, who in self.all(order)]
        )

    def forked(self) -> list[str] | Refused:
        """Runs of which the plant has two records, and the shorter is no beginning of the longer: one was written anew."""
        return self.asked(lambda: [str(row[0]) for row in self.all(FORKED)])

    def all(self, order: str, *values: object) -> list[tuple[object, ...]]:
        """All rows of a question."""
        return self.base.execute(order.encode(), values).fetchall()

    def asked(self, ask: Callable[[], T]) -> T | Refused:
        """What the database answers; Refused where it does not."""
        import psycopg

        try:
            return ask()
        except psycopg.Error as error:
            return Refused(trouble(error))

    def close(self) -> None:
        """Let go. What counts was kept when it was told."""
        self.base.close()


def taken(content: object) -> bytes:
    """Bytes as the database gives them."""
    return bytes(content) if isinstance(content, bytes | memoryview | bytearray) else b""


def trouble(error: Exception) -> str:
    """What a database complains of, in one line."""
    words = " ".join(str(error).split())
    return f"The plant's database does not answer as it should: {words[:300] or type(error).__name__}"


def connected(where: str) -> Plant | Refused:
    """The database at a connection string of PostgreSQL, its tables made where there are none."""
    try:
        import psycopg
        import psycopg.conninfo
    except ImportError:
        return Refused("The plant's database needs the extra `plant`: pip install 'changeover-runner[plant]'.")
    try:
        psycopg.conninfo.conninfo_to_dict(where)
    except psycopg.Error:  # its words would quote the whole of it, password and all
        return Refused("The connection to the plant is none that PostgreSQL understands: postgresql://user@host/name.")
    try:
        base = psycopg.connect(where, autocommit=True, **WAIT)  # type: ignore[arg-type]  # numbers, as libpq takes them
    except psycopg.Error as error:
        return Refused(trouble(error))
    try:
        base.execute("set statement_timeout = '60s'")
        base.execute("set synchronous_commit = on")
        base.execute("set timezone = 'UTC'")
        with base.transaction():
            base.execute("select pg_advisory_xact_lock(%s)", (LOCK,))
            for table in CREATE:
                base.execute(table.encode())
            versions = base.execute("select version from changeover_about").fetchall()
            if not versions:
                base.execute("insert into changeover_about values(%s)", (TABLES,))
    except psycopg.Error as error:
        base.close()
        return Refused(trouble(error))
    newest = max((int(row[0]) for row in versions), default=TABLES)
    if newest > TABLES:
        base.close()
        return Refused(
            f"The plant's database is of version {newest}, and this program knows up to {TABLES}. Bring it up to date."
        )
    return Plant(base)
