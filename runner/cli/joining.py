"""Two terminals on one run, as commands see it: the run that is opened here lets others in, and what to type to join one."""

import argparse
import os
import shlex
import socket
import sys
from typing import TYPE_CHECKING

from runner.cli.terminal import served
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.record.clock import Clock
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.shared.address import is_kept
from runner.record.shared.keeper import Keeper
from runner.say.text import say

if TYPE_CHECKING:
    from runner.record.shared.joined import Joined


def shared(run: Run) -> Keeper:
    """The run, with others let in; it goes on alone where the system has no place for them to come to."""
    keeper = Keeper(run).open()
    if keeper.alone:
        print(f"changeover: {keeper.alone}", file=sys.stderr)
    return keeper


def joined_run(path: str, clock: Clock, terminal: str, site: Site | None) -> "Joined | Refused":
    """The run that another terminal has open, from here; kept here with this site's people, once it is taken over."""

    from runner.record.shared.joined import join

    def reopen() -> Keeper | Refused:
        opened = Run.resume(path, clock, site=site)
        return opened if isinstance(opened, Refused) else shared(opened)

    return join(path, clock, os.urandom(16).hex(), terminal or this_terminal(), reopen)


def this_terminal() -> str:
    """What this terminal is called where nobody has said it: the name that the system has for it."""
    if served():
        return say("browser page")
    for fd in (0, 1, 2):
        try:
            return os.ttyname(fd).removeprefix("/dev/")
        except (OSError, AttributeError):
            continue
    return f"process {os.getpid()} on {socket.gethostname()}"


def offer(options: argparse.Namespace, path: str, run: str) -> None:
    """Say how to join a run that is open at another terminal."""
    if is_kept(path):
        print(say("join it from here with: {command}", command=join_command(options, path, run)), file=sys.stderr)


def join_command(options: argparse.Namespace, path: str, run: str) -> str:
    """The exact command."""
    site = ["--site", options.site] if options.site else []
    return shlex.join(["changeover", "join", path if options.records else run, *site])


def lane_of(procedure: Procedure, side: str) -> int | Refused:
    """The list that a terminal shows first in phases with several: that of a role; the second where none is said."""
    roles = [lane.person for phase in procedure.phases if len(phase.lists) > 1 for lane in phase.lists]
    if not side:
        return 1 if roles else 0
    for phase in procedure.phases:
        for at, lane in enumerate(phase.lists):
            if len(phase.lists) > 1 and lane.person == side:
                return at
    known = ", ".join(dict.fromkeys(roles)) or "-"
    return Refused(
        say("There is no list of {role} here. Roles with a list of their own: {known}.", role=side, known=known)
    )
