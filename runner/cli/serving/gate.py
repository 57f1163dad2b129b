"""Who may come in: on this machine's own address anybody here, from elsewhere only who has the token. Pure.

A page of another site that is open in the same browser is kept out too: it cannot forge the address that a request
is for (`Host`), nor where a page came from (`Origin`).
"""

import hmac
from ipaddress import ip_address
from typing import NamedTuple

SHORTEST = 16
"""Characters of a token from a file; one that is made here has 32."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; img-src 'self' data:; "
    "connect-src 'self' ws://{host} wss://{host}; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""The terminal in the page writes its own style elements; everything else comes from files of this server."""

HEADERS = (
    ("X-Frame-Options", "DENY"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Permissions-Policy", "camera=(), microphone=(), geolocation=()"),
    ("Cache-Control", "no-store"),
)
"""Of every answer, with the policy."""


class Gate(NamedTuple):
    """What lets in."""

    token: str
    """Empty where none is asked for."""
    hosts: frozenset[str] = frozenset()
    """What a request may call this server; empty: anything."""


class Asked(NamedTuple):
    """What a request says of itself."""

    host: str
    origin: str = ""
    """Empty where the browser gave none."""
    token: str = ""


def is_loopback(host: str) -> bool:
    """Whether an address reaches no further than this machine. Any name but `localhost` may."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def gate_of(host: str, port: int, token: str) -> Gate:
    """The gate of an address."""
    if not is_loopback(host):
        return Gate(token)
    names = ("127.0.0.1", "localhost", "[::1]", f"[{host}]" if ":" in host else host)
    return Gate(token, frozenset(f"{name}:{port}" for name in names))


def kept_out(gate: Gate, asked: Asked, socket: bool = False) -> tuple[int, str]:
    """(status, why) for who does not come in; (0, "") for who does. A socket must come from a page of this server."""
    if gate.hosts and asked.host not in gate.hosts:
        return 403, "This address is not the one that changeover serves."
    if (socket or asked.origin) and asked.origin.partition("://")[2] != asked.host:
        return 403, "Only a page of this server may ask for this."
    if gate.token and not same(asked.token, gate.token):
        return 401, "This page asks for the token: open the address that `changeover serve` printed."
    return 0, ""


def same(given: str, token: str) -> bool:
    """Compared in a time that tells nothing of how much is right."""
    return hmac.compare_digest(given.encode("utf-8", "replace"), token.encode("utf-8", "replace"))


def unfit(token: str) -> str:
    """Why a token is not taken; empty where it is."""
    if len(token) < SHORTEST:
        return f"the token has {len(token)} characters; it needs {SHORTEST} or more"
    if not (token.isascii() and all(sign.isalnum() or sign in "-_.~" for sign in token)):
        return "a token is of letters, digits and - _ . ~ only"
    return ""


def headers(host: str) -> dict[str, str]:
    """Of every answer. `host` is what the request called this server, and has passed the gate or is empty."""
    return {"Content-Security-Policy": POLICY.format(host=host or "127.0.0.1"), **dict(HEADERS)}
