"""The one file that knows the protocol and its library: messages in, plain functions over texts, messages out.

Whole texts are exchanged, so that no two opinions of where a line ends can pull editor and server apart. Findings are looked
for beside the reading of messages, a moment after the last keystroke; what is found in a text that has changed since is not
shown. A fault of this program is told as a message and ends nothing.
"""

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import BinaryIO, TypeVar

from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer
from pygls.uris import from_fs_path, to_fs_path

from runner import VERSION
from runner.editor.completions import Choice, completions
from runner.editor.help import Help
from runner.editor.hovers import hover
from runner.editor.jumps import definition
from runner.editor.library import Library
from runner.editor.positions import Position, offset_of, position_of
from runner.editor.problems import Board, Problem, problems
from runner.editor.renames import Refused, renamable, rename
from runner.lint.kinds import FRAGMENT, kind_of
from runner.procedure.clean import clean
from runner.procedure.finding import Severity

Got = TypeVar("Got")

PAUSE_S = 0.02
"""Seconds without a keystroke after which findings are looked for."""

REFUSED = -32803
"""RequestFailed of the protocol: the request was right, and there is a reason against it."""

SEVERITIES = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.WARNING: types.DiagnosticSeverity.Warning,
    Severity.NOTE: types.DiagnosticSeverity.Information,
}

KINDS = {
    "key": types.CompletionItemKind.Property,
    "word": types.CompletionItemKind.EnumMember,
    "name": types.CompletionItemKind.Variable,
    "unit": types.CompletionItemKind.Unit,
    "function": types.CompletionItemKind.Function,
    "constant": types.CompletionItemKind.Constant,
    "file": types.CompletionItemKind.File,
    "rule": types.CompletionItemKind.Keyword,
}


def path_of(uri: str) -> str | None:
    """The path of a file, with forward slashes; None for what lies in no file."""
    path = to_fs_path(uri)
    return None if path is None else path.replace("\\", "/") if path[1:2] == ":" else path


class Desk(LanguageServer):
    """The server with what it knows of the editor's texts."""

    def __init__(self, library: Library, pause_s: float = PAUSE_S) -> None:
        super().__init__("changeover", VERSION, types.TextDocumentSyncKind.Full)
        self.library, self.pause_s = library, pause_s
        self.board = Board()
        self.today: Callable[[], str] = str
        """The day, YYYY-MM-DD; empty where nobody tells it, and then no day of a site file is past."""
        self.uris: dict[str, str] = {}
        """By path of an open text, as the editor calls it."""
        self.versions: dict[str, int] = {}
        self.waiting: dict[str, asyncio.TimerHandle] = {}
        self.running: set[asyncio.Task[None]] = set()
        self.looking: set[str] = set()
        self.once_more: set[str] = set()
        self.wanted: dict[str, tuple[str, ...]] = {}
        """By path of an open text, the files to look at for it."""
        self.lookers = ThreadPoolExecutor(1, "findings")
        self.askers = ThreadPoolExecutor(1, "questions")

    @property
    def encoding(self) -> str:
        """The code units that editor and server agreed on."""
        agreed = self.workspace.position_encoding
        return "utf-16" if agreed is None else str(getattr(agreed, "value", agreed))

    def uri(self, path: str) -> str:
        """What the editor calls a file."""
        return self.uris.get(path) or from_fs_path(path) or path

    def range(self, text: str, start: int, end: int) -> types.Range:
        """A part of a text for the editor."""
        first, last = (position_of(text, offset, self.encoding) for offset in (start, end))
        return types.Range(types.Position(*first), types.Position(*last))

    def at(self, uri: str, position: types.Position) -> tuple[str, int] | None:
        """The path and offset of a place in an open text of ours; None for any other."""
        path = path_of(uri)
        text = None if path is None else self.library.open.get(path)
        if path is None or text is None:
            return None
        return path, offset_of(text, Position(position.line, position.character), self.encoding)

    async def ask(self, question: Callable[[], Got]) -> Got | None:
        """An answer worked out beside the reading of messages; None, with a message, where this program is at fault."""
        try:
            return await asyncio.get_running_loop().run_in_executor(self.askers, question)
        except Exception as fault:
            self.tell(fault)
            return None

    def tell(self, fault: Exception) -> None:
        """A fault of this program, in words."""
        words = clean(f"a fault of this program ({type(fault).__name__}: {fault})")
        self.window_log_message(types.LogMessageParams(types.MessageType.Error, words))

    def look_soon(self, root: str, pause_s: float) -> None:
        """Look at a file once nothing has been typed for a while."""
        timer = self.waiting.pop(root, None)
        if timer is not None:
            timer.cancel()
        self.waiting[root] = asyncio.get_running_loop().call_later(pause_s, self.begin_look, root)

    def begin_look(self, root: str) -> None:
        """Look at a file now, or once the look that is under way has ended: looks never queue up behind fast typing."""
        self.waiting.pop(root, None)
        if root in self.looking:
            self.once_more.add(root)
            return
        self.looking.add(root)
        task = asyncio.get_running_loop().create_task(self.look(root))
        self.running.add(task)
        task.add_done_callback(self.running.discard)

    async def look(self, root: str) -> None:
        """One look, and the next where it was asked for meanwhile."""
        try:
            await self.look_once(root)
        finally:
            self.looking.discard(root)
            if root in self.once_more:
                self.once_more.discard(root)
                self.begin_look(root)

    async def look_once(self, root: str) -> None:
        """Look for the findings of a file and show them, unless its text has changed meanwhile."""
        text = self.library.text(root)
        if text is None:
            self.publish(self.board.drop([root]))
            return
        try:
            looked = partial(problems, root, text, self.library.fetch_beside(root), self.today())
            found = await asyncio.get_running_loop().run_in_executor(self.lookers, looked)
        except Exception as fault:
            self.tell(fault)
            return
        if self.library.text(root) == text and root in self.roots():
            self.publish(self.board.put(root, found))

    def roots(self) -> frozenset[str]:
        """The files to look at for all that is open."""
        return frozenset(root for roots in self.wanted.values() for root in roots)

    def publish(self, paths: tuple[str, ...]) -> None:
        """Send what stands against some files."""
        for path in paths:
            text = self.board.text(path)
            shown = [self.diagnostic(text, problem) for problem in self.board.of(path)]
            params = types.PublishDiagnosticsParams(self.uri(path), shown, self.versions.get(path))
            self.text_document_publish_diagnostics(params)

    def diagnostic(self, text: str, problem: Problem) -> types.Diagnostic:
        """One finding for the editor."""
        return types.Diagnostic(
            self.range(text, problem.start, problem.end),
            problem.message,
            SEVERITIES[problem.severity],
            code=problem.rule,
            source="changeover",
        )

    def shown_help(self, told: Help, *, markdown: bool) -> types.MarkupContent:
        """Help in the form that the editor can show."""
        if markdown:
            return types.MarkupContent(types.MarkupKind.Markdown, told.markdown())
        return types.MarkupContent(types.MarkupKind.PlainText, told.plain())

    def takes_markdown(self, formats: object) -> bool:
        """Whether the editor shows Markdown, by what it said of itself."""
        return isinstance(formats, list | tuple) and types.MarkupKind.Markdown in formats

    def item(self, choice: Choice, text: str, number: int, *, markdown: bool) -> types.CompletionItem:
        """One offer for the editor; the number keeps our order."""
        return types.CompletionItem(
            clean(choice.label),
            kind=KINDS[choice.sort],
            detail=clean(choice.detail) or None,
            documentation=None if choice.help is None else self.shown_help(choice.help, markdown=markdown),
            sort_text=f"{number:05}",
            filter_text=choice.label,
            text_edit=types.TextEdit(self.range(text, choice.start, choice.end), choice.insert),
        )


def server(library: Library, pause_s: float = PAUSE_S) -> Desk:
    """A server over a library, ready to be started."""
    logging.getLogger("pygls").setLevel(logging.CRITICAL + 1)  # its tracebacks are for whoever mends it, not for people
    desk = Desk(library, pause_s)
    add_texts(desk)
    add_questions(desk)
    return desk


def add_texts(desk: Desk) -> None:
    """What the editor tells of its texts."""

    @desk.feature(types.INITIALIZED)
    def initialized(_: types.InitializedParams) -> None:
        folders = (path_of(uri) for uri in desk.workspace.folders)
        root = desk.workspace.root_path
        desk.library.folders = [one.rstrip("/") for one in folders if one] or ([root] if root else [])

    @desk.feature(types.TEXT_DOCUMENT_DID_OPEN)
    async def opened(params: types.DidOpenTextDocumentParams) -> None:
        document = params.text_document
        path = path_of(document.uri)
        if path is None or not kind_of(path):
            return
        desk.library.open[path] = document.text
        desk.uris[path], desk.versions[path] = document.uri, document.version
        desk.wanted[path] = (path,)
        desk.look_soon(path, 0)
        if kind_of(path) == FRAGMENT:
            users = await desk.ask(partial(desk.library.users_of, path)) or ()
            if path in desk.library.open:
                desk.wanted[path] = (path, *users)
                for user in users:
                    desk.look_soon(user, 0)

    @desk.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        path = path_of(params.text_document.uri)
        if path is None or path not in desk.library.open or not params.content_changes:
            return
        desk.library.open[path] = params.content_changes[-1].text
        desk.versions[path] = params.text_document.version
        for root in {path, *desk.board.roots_over(path)}:
            desk.look_soon(root, desk.pause_s)

    @desk.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        path = path_of(params.text_document.uri) or ""
        for known in (desk.library.open, desk.versions, desk.wanted):
            known.pop(path, None)
        still = desk.roots()
        desk.publish(desk.board.drop([root for root in tuple(desk.board.by_root) if root not in still]))
        desk.uris.pop(path, None)
        for root in still & {path, *desk.board.roots_over(path)}:
            desk.look_soon(root, desk.pause_s)

    @desk.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(_: types.DidSaveTextDocumentParams) -> None:
        look_at_all(desk)

    @desk.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def files_changed(_: types.DidChangeWatchedFilesParams) -> None:
        look_at_all(desk)


def look_at_all(desk: Desk) -> None:
    """Look anew at everything that is shown: files on disk may be others now."""
    for root in desk.roots():
        desk.look_soon(root, desk.pause_s)


def add_questions(desk: Desk) -> None:
    """What the editor asks."""

    @desk.feature(types.TEXT_DOCUMENT_HOVER)
    async def hovered(params: types.HoverParams) -> types.Hover | None:
        at = desk.at(params.text_document.uri, params.position)
        found = None if at is None else await desk.ask(partial(hover, desk.library, *at))
        if at is None or found is None:
            return None
        said = desk.client_capabilities.text_document
        formats = said.hover.content_format if said and said.hover else None
        contents = desk.shown_help(found.help, markdown=desk.takes_markdown(formats))
        return types.Hover(contents, desk.range(desk.library.text(at[0]) or "", found.start, found.end))

    options = types.CompletionOptions(trigger_characters=["{", "[", "'", "/", " "])

    @desk.feature(types.TEXT_DOCUMENT_COMPLETION, options)
    async def completed(params: types.CompletionParams) -> types.CompletionList:
        at = desk.at(params.text_document.uri, params.position)
        found = None if at is None else await desk.ask(partial(completions, desk.library, *at))
        if at is None or not found:
            return types.CompletionList(is_incomplete=False, items=[])
        said = desk.client_capabilities.text_document
        item = said.completion.completion_item if said and said.completion else None
        markdown = desk.takes_markdown(item.documentation_format if item else None)
        text = desk.library.text(at[0]) or ""
        items = [desk.item(choice, text, number, markdown=markdown) for number, choice in enumerate(found)]
        return types.CompletionList(is_incomplete=False, items=items)

    @desk.feature(types.TEXT_DOCUMENT_DEFINITION)
    async def defined(params: types.DefinitionParams) -> list[types.Location] | None:
        at = desk.at(params.text_document.uri, params.position)
        found = None if at is None else await desk.ask(partial(definition, desk.library, *at))
        return [
            types.Location(desk.uri(one.path), desk.range(desk.library.text(one.path) or "", one.start, one.end))
            for one in found or ()
        ] or None

    @desk.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    async def may_rename(params: types.PrepareRenameParams) -> types.PrepareRenamePlaceholder | None:
        at = desk.at(params.text_document.uri, params.position)
        found = None if at is None else await desk.ask(partial(renamable, desk.library, *at))
        if at is None or found is None:
            return None
        if isinstance(found, Refused):
            raise JsonRpcException(clean(found.words), REFUSED)
        text = desk.library.text(at[0]) or ""
        return types.PrepareRenamePlaceholder(desk.range(text, found.start, found.end), found.name)

    @desk.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    async def renamed(params: types.RenameParams) -> types.WorkspaceEdit | None:
        at = desk.at(params.text_document.uri, params.position)
        found = None if at is None else await desk.ask(partial(rename, desk.library, *at, params.new_name))
        if found is None:
            return None
        if isinstance(found, Refused):
            raise JsonRpcException(clean(found.words), REFUSED)
        changes = {}
        for path, edits in found.items():
            text = desk.library.text(path) or ""
            changes[desk.uri(path)] = [types.TextEdit(desk.range(text, one.start, one.end), one.new) for one in edits]
        return types.WorkspaceEdit(changes=changes)


def serve(library: Library, given: BinaryIO, told: BinaryIO, today: Callable[[], str] = str) -> None:
    """Serve the editor at two streams until it goes; the second is closed then."""
    desk = server(library)
    desk.today = today
    desk.start_io(given, told)
    for pool in (desk.lookers, desk.askers):
        pool.shutdown(wait=False, cancel_futures=True)
