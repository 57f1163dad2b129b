"""The real process as an editor starts it, and what it has published."""

import asyncio
import sys
from pathlib import Path

from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

CONFIG = ClientServerConfig(server_command=[sys.executable, "-m", "runner", "serve-editor"])


async def begin(
    client: LanguageClient, folder: Path, encodings: list[types.PositionEncodingKind | str] | None = None
) -> None:
    """Introduce an editor that has one folder open."""
    markup = [types.MarkupKind.Markdown, types.MarkupKind.PlainText]
    capabilities = types.ClientCapabilities(
        general=None if encodings is None else types.GeneralClientCapabilities(position_encodings=encodings),
        text_document=types.TextDocumentClientCapabilities(
            hover=types.HoverClientCapabilities(content_format=markup),
            rename=types.RenameClientCapabilities(prepare_support=True),
        ),
    )
    folders = [types.WorkspaceFolder(uri=folder.as_uri(), name="desk")]
    await client.initialize_session(types.InitializeParams(capabilities=capabilities, workspace_folders=folders))


def opened(client: LanguageClient, path: Path, text: str) -> str:
    """Open a text; gives its uri."""
    uri = path.as_uri()
    client.text_document_did_open(types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, "yaml", 1, text)))
    return uri


def typed(client: LanguageClient, uri: str, text: str, version: int) -> None:
    """Put another text in the place of the open one."""
    client.text_document_did_change(
        types.DidChangeTextDocumentParams(
            types.VersionedTextDocumentIdentifier(version, uri), [types.TextDocumentContentChangeWholeDocument(text)]
        )
    )


async def published(client: LanguageClient, uri: str) -> list[types.Diagnostic]:
    """What stands against a text, once it is told; what was told before is forgotten with that."""
    for _ in range(2000):
        if uri in client.diagnostics:
            return list(client.diagnostics.pop(uri))
        await asyncio.sleep(0.005)
    raise AssertionError(f"nothing was published for {uri}")
