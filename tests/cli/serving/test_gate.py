"""Who comes in. The rules against framing, referrers and pages of other sites are those of Fetch and CSP Level 3 (W3C)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.cli.serving.gate import HEADERS, SHORTEST, Asked, gate_of, headers, is_loopback, kept_out, unfit

TOKEN = "a-token-that-is-long-enough"
HERE = gate_of("127.0.0.1", 8400, "")
FAR = gate_of("192.0.2.7", 8400, TOKEN)  # an address for documents (RFC 5737)


@pytest.mark.parametrize(
    ("host", "here"),
    [("127.0.0.1", True), ("127.8.8.8", True), ("::1", True), ("localhost", True), ("0.0.0.0", False), ("::", False),
     ("192.0.2.7", False), ("press-3", False), ("localhost.example", False), ("", False)],
)  # fmt: skip
def test_only_addresses_of_this_machine_alone_need_no_token(host: str, here: bool) -> None:
    assert is_loopback(host) is here


@pytest.mark.parametrize(
    ("asked", "socket", "status"),
    [
        (Asked("127.0.0.1:8400"), False, 0),
        (Asked("localhost:8400"), False, 0),
        (Asked("localhost:8400", "http://localhost:8400"), True, 0),
        (Asked("localhost:8400"), True, 403),
        (Asked("localhost:8400", "http://elsewhere.example"), True, 403),
        (Asked("localhost:8400", "null"), True, 403),
        (Asked("localhost:8400", "http://127.0.0.1:8400"), True, 403),
        (Asked("elsewhere.example:8400"), False, 403),
        (Asked("127.0.0.1:8401"), False, 403),
        (Asked(""), False, 403),
    ],
)
def test_a_page_of_another_site_reaches_nothing_here(asked: Asked, socket: bool, status: int) -> None:
    assert kept_out(HERE, asked, socket)[0] == status


@given(st.text())
def test_from_elsewhere_only_the_token_opens(given_: str) -> None:
    assert kept_out(FAR, Asked("192.0.2.7:8400", token=given_))[0] == (0 if given_ == TOKEN else 401)


def test_with_the_token_a_socket_still_comes_from_a_page_of_this_server() -> None:
    assert kept_out(FAR, Asked("press:8400", "http://press:8400", TOKEN), socket=True) == (0, "")
    assert kept_out(FAR, Asked("press:8400", "http://elsewhere.example", TOKEN), socket=True)[0] == 403


@pytest.mark.parametrize(
    "token", ["", "short", "x" * (SHORTEST - 1), "with spaces in between", "ünlike-the-others-here"]
)
def test_a_token_that_is_short_or_strange_is_not_taken(token: str) -> None:
    assert unfit(token)


def test_a_token_of_some_length_is_taken() -> None:
    assert unfit(TOKEN) == ""


def test_every_answer_forbids_framing_referrers_keeping_and_scripts_from_elsewhere() -> None:
    found = headers("127.0.0.1:8400")
    policy = found["Content-Security-Policy"]
    for part in ("default-src 'none'", "script-src 'self';", "frame-ancestors 'none'", "ws://127.0.0.1:8400"):
        assert part in policy
    assert "unsafe-eval" not in policy
    assert found["X-Frame-Options"] == "DENY"
    assert found["Referrer-Policy"] == "no-referrer"
    assert found["Cache-Control"] == "no-store"
    assert len(found) == len(HEADERS) + 1
