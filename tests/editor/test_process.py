"""The real process over standard input and output, driven as an editor drives it."""

import json
import subprocess
import sys
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pytest_lsp import LanguageClient

from tests.cli.command import changeover
from tests.editor.process import CONFIG, begin, opened, published, typed
from tests.editor.shelf import CURSOR, DOCUMENTS, HEAD, PROCEDURES, ROOT, at_cursor

pytestmark = pytest.mark.asyncio


@pytest_lsp.fixture(config=CONFIG)
async def client(lsp_client: LanguageClient, tmp_path: Path) -> AsyncIterator[None]:
    await begin(lsp_client, tmp_path)
    yield
    await lsp_client.shutdown_session()
    assert lsp_client.messages == []
    assert [one for one in lsp_client.log_messages if "fault of this program" in one.message] == []


def position(text: str, offset: int) -> types.Position:
    """A position counted by a codec of Python's."""
    line = text.count("\n", 0, offset)
    before = text[text.rfind("\n", 0, offset) + 1 : offset]
    return types.Position(line, len(before.encode("utf-16-le")) // 2)


async def test_findings_follow_what_is_typed(client: LanguageClient, tmp_path: Path) -> None:
    path = tmp_path / "small.procedure.yaml"
    uri = opened(client, path, HEAD)
    first = await published(client, uri)
    assert "state-wrong-at-end" in {one.code for one in first}
    typed(client, uri, HEAD.replace("title:", "titel:"), 2)
    second = await published(client, uri)
    assert {one.severity for one in second if "titel" in one.message} == {types.DiagnosticSeverity.Error}
    for version, part in enumerate(("t", "ti", "tit"), start=3):
        typed(client, uri, HEAD.replace("title:", f"{part}:"), version)
    typed(client, uri, HEAD, 6)
    assert await published(client, uri) == first
    client.text_document_did_close(types.DidCloseTextDocumentParams(types.TextDocumentIdentifier(uri)))
    assert await published(client, uri) == []


async def test_columns_are_counted_in_units_of_utf_16(client: LanguageClient, tmp_path: Path) -> None:
    text = HEAD.replace("do: Stop the drive.", 'do: "\U0001f9fb\U0001d11e {nothing} x"')
    uri = opened(client, tmp_path / "small.procedure.yaml", text)
    (found,) = [one for one in await published(client, uri) if one.code == "unknown-name"]
    line = text.split("\n")[found.range.start.line]
    assert (
        line.encode("utf-16-le")[found.range.start.character * 2 : found.range.end.character * 2].decode("utf-16-le")
        == "nothing"
    )


@pytest.mark.parametrize(("encoding", "codec", "width"), [("utf-8", "utf-8", 1), ("utf-32", "utf-32-le", 4)])
async def test_an_editor_that_counts_otherwise_is_answered_so(
    tmp_path: Path, encoding: str, codec: str, width: int
) -> None:
    text = HEAD.replace("do: Stop the drive.", 'do: "\U0001f9fbé {nothing} x"')
    editor = await CONFIG.start()
    assert isinstance(editor, LanguageClient)
    await begin(editor, tmp_path, [types.PositionEncodingKind(encoding)])
    uri = opened(editor, tmp_path / "small.procedure.yaml", text)
    (found,) = [one for one in await published(editor, uri) if one.code == "unknown-name"]
    line = text.split("\n")[found.range.start.line].encode(codec)
    assert line[found.range.start.character * width : found.range.end.character * width].decode(codec) == "nothing"
    await editor.shutdown_session()
    await editor.stop()


@pytest.mark.parametrize("name", ["change-roll", "web-break"])
async def test_a_shipped_procedure_shows_what_the_command_finds(client: LanguageClient, name: str) -> None:
    path = PROCEDURES / f"{name}.procedure.yaml"
    uri = opened(client, path, path.read_text(encoding="utf-8"))
    shown = sorted((one.range.start.line + 1, str(one.code)) for one in await published(client, uri))
    told = changeover("lint", path, "--json", "--no-cache", "--fail-level", "never").data
    assert shown == sorted((row["line"], row["rule"]) for row in told if row["path"].endswith(path.name))


async def test_a_fragment_shows_what_is_found_through_the_procedures_that_use_it(
    client: LanguageClient, tmp_path: Path
) -> None:
    for name in ("fault-in-fragment.procedure.yaml", "faulty-side.fragment.yaml"):
        (tmp_path / name).write_text((DOCUMENTS / "bad" / name).read_text(encoding="utf-8"), encoding="utf-8")
    path = tmp_path / "faulty-side.fragment.yaml"
    text = path.read_text(encoding="utf-8")
    uri = opened(client, path, text)
    told = changeover("lint", tmp_path, "--json", "--no-cache", "--fail-level", "never").data
    wanted = {(row["line"], row["rule"]) for row in told if row["path"].endswith(path.name)}
    assert wanted
    shown: set[tuple[int, str]] = set()
    for _ in range(3):  # first of the fragment alone, then of what uses it
        if shown != wanted:
            shown = {(one.range.start.line + 1, str(one.code)) for one in await published(client, uri)}
    assert shown == wanted


async def test_help_completion_and_definition_at_the_cursor(client: LanguageClient, tmp_path: Path) -> None:
    text, offset = at_cursor(HEAD + f"      - id: \U0001f9fb\n        needs: {{gu{CURSOR}ard: open}}\n")
    uri = opened(client, tmp_path / "small.procedure.yaml", text)
    here = (types.TextDocumentIdentifier(uri), position(text, offset))
    told = await client.text_document_hover_async(types.HoverParams(*here))
    assert told is not None
    assert isinstance(told.contents, types.MarkupContent)
    assert told.contents.kind == types.MarkupKind.Markdown
    assert "needed by" in told.contents.value
    offered = await client.text_document_completion_async(types.CompletionParams(*here))
    assert isinstance(offered, types.CompletionList)
    assert [item.label for item in offered.items] == ["guard", "drive"]
    places = await client.text_document_definition_async(types.DefinitionParams(*here))
    assert isinstance(places, list)
    assert places[0].range.start == position(text, text.index("guard: {of"))


async def test_a_step_is_renamed_or_the_reason_is_told(client: LanguageClient, tmp_path: Path) -> None:
    text = HEAD
    uri = opened(client, tmp_path / "small.procedure.yaml", text)
    at = types.TextDocumentIdentifier(uri), position(text, text.index("stop-drive") + 2)
    ready = await client.text_document_prepare_rename_async(types.PrepareRenameParams(*at))
    assert isinstance(ready, types.PrepareRenamePlaceholder)
    assert ready.placeholder == "stop-drive"
    edit = await client.text_document_rename_async(types.RenameParams(*at, new_name="halt-drive"))
    assert edit is not None
    assert edit.changes is not None
    assert [one.new_text for one in edit.changes[uri]] == ["halt-drive", "halt-drive"]
    with pytest.raises(JsonRpcException, match="another step"):
        await client.text_document_rename_async(types.RenameParams(*at, new_name="open-guard"))


async def test_texts_of_other_kinds_and_places_outside_are_left_alone(client: LanguageClient, tmp_path: Path) -> None:
    uri = opened(client, tmp_path / "other.yaml", "a: 1\n")
    assert (
        await client.text_document_hover_async(
            types.HoverParams(types.TextDocumentIdentifier(uri), types.Position(0, 0))
        )
        is None
    )
    uri = opened(client, tmp_path / "small.procedure.yaml", HEAD)
    far = types.Position(9999, 9999)
    assert (
        await client.text_document_definition_async(types.DefinitionParams(types.TextDocumentIdentifier(uri), far))
        is None
    )
    assert uri not in client.diagnostics or await published(client, uri)


def message(content: dict) -> bytes:
    body = json.dumps(content).encode()
    return b"Content-Length: %d\r\n\r\n%s" % (len(body), body)


BROKEN = [
    b"Content-Length: 5\r\n\r\n{]]]]",
    message({"jsonrpc": "2.0", "id": 7, "method": "textDocument/hover", "params": {"textDocument": 3}}),
    message({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {}}),
    message({"jsonrpc": "2.0", "id": 8, "method": "no/such", "params": None}),
    b"no header at all\r\n\r\n",
]


async def test_broken_messages_end_nothing_and_print_no_traceback() -> None:
    begin_message = message(
        {
            "jsonrpc": "2.0",
            "id": 1,
            "method": "initialize",
            "params": {"processId": None, "rootUri": None, "capabilities": {}},
        }
    )
    end = message({"jsonrpc": "2.0", "id": 2, "method": "shutdown"}) + message({"jsonrpc": "2.0", "method": "exit"})
    done = subprocess.run(
        [sys.executable, "-m", "runner", "serve-editor", "--stdio"],
        input=begin_message + b"".join(BROKEN) + end, capture_output=True, cwd=ROOT, timeout=60, check=False,
    )  # fmt: skip
    assert b"Traceback" not in done.stderr
    assert b'"id": 2' in done.stdout or b'"id":2' in done.stdout
    assert done.returncode == 0
