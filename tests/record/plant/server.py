"""A real PostgreSQL of the test's own: in a temporary folder, reached through a socket in it, and gone afterwards.

It refuses to run as root, so root starts it as the user `postgres`.
"""

import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from glob import glob
from pathlib import Path


def programs() -> str:
    """The folder with initdb and postgres; empty where there is none."""
    found = sorted(glob("/usr/lib/postgresql/*/bin/postgres"))
    path = found[-1] if found else shutil.which("postgres")
    return os.path.dirname(os.path.realpath(path)) if path else ""


def user() -> str:
    """The user to start it as; empty where it is this one."""
    if os.getuid() != 0:
        return ""
    try:
        return pwd.getpwnam("postgres").pw_name
    except KeyError:
        return "nobody"


class Server:
    """One server with one database."""

    def __init__(self, folder: str) -> None:
        self.folder = folder
        self.data = os.path.join(folder, "data")
        self.process: subprocess.Popen[bytes] | None = None
        self.command(
            os.path.join(programs(), "initdb"),
            "-D",
            self.data,
            "-A",
            "trust",
            "-U",
            "plant",
            "-N",
            "-E",
            "UTF8",
            "--locale=C",
        )

    @property
    def where(self) -> str:
        """The connection string."""
        return f"host={self.folder} user=plant dbname=postgres"

    def as_user(self, words: tuple[str, ...]) -> list[str]:
        """A command line for the right user."""
        return ["runuser", "-u", user(), "--", *words] if user() else list(words)

    def command(self, *words: str) -> None:
        """One command to its end."""
        subprocess.run(self.as_user(words), check=True, capture_output=True, cwd=self.folder)

    def start(self) -> None:
        """Start it and wait until it answers."""
        words = (os.path.join(programs(), "postgres"), "-D", self.data, "-k", self.folder, "-h", "", "-F")
        self.process = subprocess.Popen(
            self.as_user(words), cwd=self.folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        ready = os.path.join(programs(), "pg_isready")
        for _ in range(200):
            if subprocess.run([ready, "-q", "-h", self.folder], check=False).returncode == 0:
                return
            time.sleep(0.05)
        raise AssertionError("the server did not start")

    def main_process(self) -> int:
        """The id of the server's first process, as it wrote it down."""
        return int(Path(self.data, "postmaster.pid").read_text(encoding="utf-8").split("\n", 1)[0])

    def kill(self) -> None:
        """As when the power goes: no process of it lives on."""
        first = self.main_process()
        children = Path(f"/proc/{first}/task/{first}/children").read_text(encoding="ascii").split()
        for process in (first, *map(int, children)):
            with suppress(ProcessLookupError):
                os.kill(process, signal.SIGKILL)
        if self.process is not None:
            self.process.wait()
        Path(self.data, "postmaster.pid").unlink(missing_ok=True)

    def stop(self) -> None:
        """At once, in order."""
        if self.process is not None and self.process.poll() is None:
            os.kill(self.main_process(), signal.SIGINT)
            self.process.wait()


@contextmanager
def server() -> Iterator[Server]:
    """A server that runs; its folder has a short name, since a socket's path may be only so long."""
    folder = tempfile.mkdtemp(prefix="pg-", dir="/tmp")
    try:
        if user():
            shutil.chown(folder, user())
        one = Server(folder)
        one.start()
        try:
            yield one
        finally:
            one.stop()
    finally:
        shutil.rmtree(folder, ignore_errors=True)
