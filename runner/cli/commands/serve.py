"""`changeover serve [PROC]`: the same screen in a browser or on a tablet. Each page is a process with its own run.

It serves this machine alone unless another address is named, and then it asks everybody for a token. A run is open in
one place at a time, as ever; a page that is closed leaves its run to be resumed.
"""

import argparse
import os
import secrets
import sys

from runner.cli.exits import DONE, USAGE
from runner.cli.files import Unreadable, read_text
from runner.cli.load import Stopped
from runner.cli.looks import add_language
from runner.cli.records import add_records
from runner.cli.serving.gate import gate_of, is_loopback, unfit
from runner.cli.site import add_site, site_of
from runner.say.language import OPTION

NEEDED = (
    "changeover: serve needs the extra `web`, which is not installed. "
    "Install it with: pip install 'changeover-runner[web]'"
)
OPEN_AIR = (
    "What goes over the network is not encrypted: use it only in a network that is the press's own, "
    "or behind a proxy that encrypts."
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("procedure", metavar="PROC", nargs="?", help="the one procedure to offer (else --procedures)")
    parser.add_argument("--procedures", metavar="DIR", default="procedures", help="folder of procedures (procedures)")
    parser.add_argument("--host", default="127.0.0.1", help="address to serve (127.0.0.1: this machine alone)")
    parser.add_argument("--port", type=int, default=8400, help="port to serve (8400)")
    parser.add_argument("--token-file", metavar="FILE", help="take the token from a file instead of making one")
    add_records(parser)
    add_site(parser)
    add_language(parser)


def run(options: argparse.Namespace) -> int:
    """Serve until a signal."""
    if not 1 <= options.port <= 65535:
        print(f"changeover: {options.port} is no port; take one from 1024 to 65535", file=sys.stderr)
        return USAGE
    offered = options.procedure or options.procedures
    if options.procedure and not os.path.isfile(options.procedure):
        print(f"changeover: {options.procedure}: no such file", file=sys.stderr)
        return USAGE
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    token, unusable = token_of(options)
    if unusable:
        print(f"changeover: {unusable}", file=sys.stderr)
        return USAGE
    try:
        from runner.cli.serving.server import Server, serve
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] not in ("textual_serve", "aiohttp"):
            raise
        print(NEEDED, file=sys.stderr)
        return USAGE
    server = Server(
        (*command_of(offered, options.records, options.site), *spoken_there(options)),
        gate_of(options.host, options.port, token),
        options.port,
        "Changeover",
    )
    try:
        serve(server, options.host, options.port, lambda: print(told(options, token), file=sys.stderr, flush=True))
    except OSError as fault:
        print(f"changeover: {options.host}:{options.port}: {fault.strerror or fault}", file=sys.stderr)
        return USAGE
    return DONE


def token_of(options: argparse.Namespace) -> tuple[str, str]:
    """(the token, what is wrong). Without a file, one is made for an address that others can reach."""
    if not options.token_file:
        return ("" if is_loopback(options.host) else secrets.token_urlsafe(24)), ""
    text = read_text(options.token_file)
    if isinstance(text, Unreadable):
        return "", text.words
    fault = unfit(text.strip())
    return text.strip(), f"{options.token_file}: {fault}" if fault else ""


def command_of(offered: str, records: str | None, site: str | None = None) -> tuple[str, ...]:
    """The process behind a page: the home page, and what is picked there."""
    places: tuple[str, ...] = ("--records", os.path.abspath(records)) if records else ()
    if site:
        places += ("--site", os.path.abspath(site))
    return (sys.executable, "-m", "runner", "home", "--procedures", offered, *places)


def spoken_there(options: argparse.Namespace) -> tuple[str, ...]:
    """The language, where one was asked for; what the environment says reaches the process by itself."""
    return (OPTION, options.language) if options.language else ()


def told(options: argparse.Namespace, token: str) -> str:
    """What is said at the start; a token that was made is said here and nowhere else."""
    name = f"[{options.host}]" if ":" in options.host else options.host
    name = "ADDRESS-OF-THIS-MACHINE" if options.host in ("0.0.0.0", "::") else name
    address = f"http://{name}:{options.port}/"
    lines = [f"changeover serves {address}  (Ctrl-C ends it)"]
    if token and not options.token_file:
        lines.append(f"Open {address}?token={token} once on each device; without the token nobody comes in.")
    elif token:
        lines.append(f"The token is the one in {options.token_file}: open {address}?token=... once on each device.")
    if not is_loopback(options.host):
        lines.append(OPEN_AIR)
    return "\n".join(lines)
